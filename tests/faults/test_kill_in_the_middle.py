"""kill -9 of web, worker and database amid 200 holds: nothing acknowledged is lost or done twice."""

import itertools
import json
import os
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
import uuid
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPException
from pathlib import Path

import psutil
import pytest

from tests.shop.counter import spec

ROOT = Path(__file__).resolve().parents[2]
HOLDS, BATCH, CLERKS, PATIENCE_S = 200, 40, 4, 180
VICTIMS = ("gunicorn", "celery", "postgres")


def run(data, *arguments):
    command = [sys.executable, "manage.py", *arguments]
    return subprocess.run(
        command, cwd=ROOT, env=environment(data), capture_output=True, text=True, check=True
    ).stdout.strip()


def environment(data):
    kept = {k: v for k, v in os.environ.items() if k not in ("DATABASE_URL", "REDIS_URL")}
    return kept | {"KITWRIGHT_DATA": str(data)}


class Shop:
    """A started shop in a folder of its own, and a clerk's program that never gives up."""

    def __init__(self, data):
        self.data = data
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.token = run(data, "staff", "token", "marit").split()[-1]
        self.start()

    def start(self):
        self.process = subprocess.Popen(
            [sys.executable, "manage.py", "start", "--port", str(self.port)],
            cwd=ROOT, env=environment(self.data), stdout=subprocess.DEVNULL,
        )  # fmt: skip
        self.insist("GET", "/healthz")

    def stop(self, how=signal.SIGTERM):
        self.process.send_signal(how)
        self.process.wait(timeout=60)

    def insist(self, method, path, body=None):
        """Ask again with the same Idempotency-Key until an answer comes; refusals are answers."""
        key, deadline = str(uuid.uuid4()), time.monotonic() + PATIENCE_S
        while time.monotonic() < deadline:
            try:
                return self.ask(method, path, body, key)
            except urllib.error.HTTPError as refusal:
                if refusal.code < 500:
                    raise
            except (OSError, HTTPException):  # refused, reset, timed out or cut off: the server was killed
                pass
            time.sleep(0.1)
        raise TimeoutError(f"{method} {path} was not answered in {PATIENCE_S} s.")

    def ask(self, method, path, body, key):
        headers = {"Content-Type": "application/json", "Idempotency-Key": key}
        if path != "/healthz":
            headers["Authorization"] = f"Token {self.token}"
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(f"http://127.0.0.1:{self.port}{path}", data, headers, method=method)
        with urllib.request.urlopen(request, timeout=20) as answer:
            return json.load(answer)

    def processes(self, word):
        mine = []
        for process in psutil.process_iter():
            try:
                ours = process.environ().get("KITWRIGHT_DATA") == str(self.data)
                if (
                    ours
                    and word in " ".join(process.cmdline())
                    and "keeper" not in " ".join(process.cmdline())
                ):
                    mine.append(process)
            except psutil.Error:
                continue
        return mine


@pytest.fixture
def shop(tmp_path):
    shop = Shop(tmp_path / "shop")
    yield shop
    if shop.process.poll() is None:
        shop.stop()


def kill_in_turn(shop, over, killed):
    """After every two seconds in which the shop was up the next victim dies, with the whole part it heads.

    Up first: on a slow machine a part would else die again before it served anybody, for ever.
    """
    for word in itertools.cycle(VICTIMS):
        shop.insist("GET", "/healthz")
        if over.wait(2.0):
            return
        for process in sorted(shop.processes(word), key=lambda p: p.pid)[:1]:
            process.kill()
            killed.append(word)


def sell_one(shop, item, number):
    """One quote of one piece, held; returns what was acknowledged."""
    quote = shop.insist("POST", "/api/quotes/", {"spec": spec(**{item: 1}), "note": f"fault {number}"})
    held = shop.insist("POST", f"/api/quotes/{quote['number']}/hold/", {})
    return held["number"], held["hold"]["lines"]


def stocked_item(shop):
    """An item of the demo shop with room for all holds, and how much of it is held already."""
    item = shop.insist("GET", "/api/items/?search=tongs")["results"][0]["item"]
    shop.insist("POST", "/api/receipts/", {"lines": [{"item": item, "quantity": 10 * HOLDS}]})
    return item, shop.insist("GET", f"/api/items/{item}/")["held"]


def sell_until_all_were_killed(shop, item):
    """What was acknowledged: so many holds, and more while not every part has died yet."""
    over, killed, sold = threading.Event(), [], []
    with ThreadPoolExecutor(CLERKS + 1) as pool:
        killer = pool.submit(kill_in_turn, shop, over, killed)
        try:
            while not killer.done() and (len(sold) < HOLDS or not set(VICTIMS) <= set(killed)):
                numbers = range(len(sold), len(sold) + BATCH)
                sold += pool.map(lambda n: sell_one(shop, item, n), numbers)
        finally:
            over.set()  # Else the killer would never end, and nobody would be told what failed.
    killer.result()
    return sold


def test_nothing_acknowledged_is_lost_and_nothing_is_done_twice(shop):
    item, held_before = stocked_item(shop)
    sold = sell_until_all_were_killed(shop, item)
    shop.stop(signal.SIGKILL)
    shop.start()
    after = shop.insist("GET", f"/api/items/{item}/")
    assert after["held"] == held_before + len(sold)
    assert len({number for number, _ in sold}) == len(sold) >= HOLDS
    for number, lines in sold:
        assert shop.insist("GET", f"/api/quotes/{number}/")["hold"]["lines"] == lines
    assert shop.insist("GET", "/api/quotes/?search=fault")["count"] == len(sold)
    shop.stop()
    run(shop.data, "audit_stock")  # exits 1, and so raises, when a figure disagrees with the movements
