"""POST plan over HTTP through gunicorn, beside the same specs planned in process."""

import http.client
import json
import os
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from django.conf import settings

from inventory.actors import SYSTEM
from kits.selectors.facts import facts
from kits.selectors.plans import plan_for
from kits.terms.plan import Terms
from shop.measure.filling import grow
from shop.measure.rows import Row, median, p95, timed
from shop.measure.scratch import address, scratch_database
from shop.measure.specs import varied_specs
from shop.services import staff

CLIENTS, EACH = 8, 40
CORES = 2
WARM_UP, ALONE = 40, 200
MORE_THAN_IN_PROCESS_MS = 10.0


def measure() -> Iterator[Row]:
    """One client's median above the in-process median, and the 95th percentile of eight clients."""
    with scratch_database() as name:
        grow(5_000)
        specs = varied_specs(facts(), WARM_UP + ALONE + CLIENTS * EACH)
        alone_specs = specs[WARM_UP : WARM_UP + ALONE]
        token = _token()
        with web_server(name) as port:
            _ask(port, token, specs[:WARM_UP])  # warm both workers
            alone = _ask(port, token, alone_specs)
            together = _ask_together(port, token, specs[WARM_UP + ALONE :])
        timed(_in_process, specs[:WARM_UP])
        inside = median(timed(_in_process, alone_specs))
        note = f"{median(alone):.1f} ms over HTTP, {inside:.1f} ms in process"
        yield Row("http.plan_p50_above", median(alone) - inside, MORE_THAN_IN_PROCESS_MS, "ms", note=note)
        yield Row("http.plan_p95_8_clients", p95(together), 2 * CLIENTS * inside / CORES, "ms")


def _in_process(spec: dict[str, Any]) -> None:
    plan_for(spec, terms=Terms())


def _token() -> str:
    staff.add("measure", roles=["owner"], actor=SYSTEM)
    return staff.token("measure", actor=SYSTEM)


@contextmanager
def web_server(name: str) -> Iterator[int]:
    """The web part with two workers on the scratch database, at a free port of this machine."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = subprocess.Popen(
        [sys.executable, "-m", "gunicorn", "--bind", f"127.0.0.1:{port}", "--workers", "2",
         "--worker-class", "gthread", "--threads", "4", "--log-level", "error", "shop.wsgi"],
        env=os.environ | {"DATABASE_URL": address(name)}, cwd=settings.BASE_DIR,
    )  # fmt: skip
    try:
        _await(port)
        yield port
    finally:
        server.terminate()
        server.wait()


def _await(port: int) -> None:
    for _ in range(300):
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return
        time.sleep(0.1)
    raise TimeoutError("The web server did not start.")


def _ask(port: int, token: str, specs: list[dict[str, Any]]) -> list[float]:
    link = http.client.HTTPConnection("127.0.0.1", port)
    headers = {"Authorization": f"Token {token}", "Content-Type": "application/json"}

    def ask(body: str) -> None:
        link.request("POST", "/api/plans/", body, headers)
        answer = link.getresponse()
        answer.read()
        if answer.status != 200:
            raise RuntimeError(f"The plan was answered with {answer.status}.")

    return timed(ask, [json.dumps(spec) for spec in specs])


def _ask_together(port: int, token: str, specs: list[dict[str, Any]]) -> list[float]:
    times: list[list[float]] = [[] for _ in range(CLIENTS)]

    def client(number: int) -> None:
        times[number] = _ask(port, token, specs[number * EACH : (number + 1) * EACH])

    threads = [threading.Thread(target=client, args=(number,)) for number in range(CLIENTS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return [value for each in times for value in each]
