"""Whole houses run by tests: a data folder, its commands, and every process that belongs to it."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
import uuid
from http.client import HTTPException
from pathlib import Path

from shop.runtime.folder import DataFolder

ROOT = Path(__file__).resolve().parent.parent
PATIENCE_S = 90.0


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def until(true, what, patience_s=PATIENCE_S):
    """Wait for another process; the only way to see one is to look again."""
    deadline = time.monotonic() + patience_s
    while not (answer := true()):
        if time.monotonic() > deadline:
            raise AssertionError(f"waited in vain until {what}")
        time.sleep(0.05)
    return answer


class House:
    """One data folder and what runs on it."""

    def __init__(self, path):
        self.folder = DataFolder(path.resolve())
        self.port = free_port()
        self.started = None
        self.surroundings = os.environ | {"KITWRIGHT_DATA": str(self.folder.path)}
        for name in ("DATABASE_URL", "REDIS_URL", "PYTEST_CURRENT_TEST"):
            self.surroundings.pop(name, None)

    def command(self, *words, **options):
        return subprocess.run(
            [sys.executable, "manage.py", *words], cwd=ROOT, env=self.surroundings,
            capture_output=True, text=True, timeout=PATIENCE_S * 2, check=False, **options,
        )  # fmt: skip

    def begin(self, *words):
        """Run a command and do not wait for it."""
        return subprocess.Popen(
            [sys.executable, "manage.py", *words], cwd=ROOT, env=self.surroundings, text=True,
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, start_new_session=True,
        )  # fmt: skip

    def start(self, *, empty=True):
        """Start the house, with the demo shop or without, and return what it said until it was ready."""
        self.started = self.begin("start", *(["--empty"] if empty else []), "--port", str(self.port))
        said = []
        for line in self.started.stdout:
            said.append(line)
            if "ready at" in line:
                return "".join(said)
        raise AssertionError("start ended early:\n" + "".join(said))

    def stop(self, number=signal.SIGTERM):
        """End start with a signal; return its exit status."""
        self.started.send_signal(number)
        self.started.communicate(timeout=PATIENCE_S)
        return self.started.returncode

    def health(self):
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{self.port}/healthz", timeout=10) as answer:
                return answer.status, json.load(answer)
        except urllib.error.HTTPError as answer:
            with answer:
                return answer.code, json.load(answer)
        except (OSError, HTTPException):  # not there, or killed in the middle of its answer
            return 0, {}

    def ask(self, method, path, body=None, *, token):
        """What the API answers: JSON, or the bytes of a file."""
        headers = {"Authorization": f"Token {token}", "Content-Type": "application/json",
                   "Idempotency-Key": str(uuid.uuid4())}  # fmt: skip
        data = None if body is None else json.dumps(body).encode()
        address = f"http://127.0.0.1:{self.port}/api/{path}"
        with urllib.request.urlopen(urllib.request.Request(address, data, headers, method=method)) as answer:
            content = answer.read()
            return json.loads(content) if "json" in answer.headers["Content-Type"] else content

    def is_up(self):
        return self.health()[0] == 200

    def processes(self):
        """Process number -> command line of everything that carries this folder's name."""
        listed = subprocess.run(
            ["ps", "-axww", "-o", "pid=,command="], capture_output=True, text=True, check=True
        )
        pairs = [line.strip().partition(" ")[::2] for line in listed.stdout.splitlines()]
        names = (str(self.folder.path), self.folder.mark)
        return {int(pid): words for pid, words in pairs if any(name in words for name in names)}

    def pid_of(self, part):
        return json.loads((self.folder.run / f"{part}.pid").read_text())["pid"]

    def keeper_of(self, part):
        """The keeper's process number, None while a new one has not written it yet."""
        text = (self.folder.run / f"{part}.keeper").read_text()
        return int(text) if text else None

    def leaves_nothing(self):
        until(lambda: not self.processes(), "every process has gone")
        return not self.folder.sockets.exists() or not list(self.folder.sockets.glob(".s.*"))

    def end(self):
        """End whatever is still there, by number."""
        if self.started is not None and self.started.poll() is None:
            self.stop()
        for pid in self.processes():
            os.kill(pid, signal.SIGKILL)
        if self.started is not None:
            self.started.stdout.close()
