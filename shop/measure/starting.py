"""How long `start` takes on a new data folder and on a known one, with the virtual environment in place."""

import os
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

from django.conf import settings

from shop.measure.rows import Row

FIRST_LIMIT_S, LATER_LIMIT_S = 60.0, 4.0


def measure() -> Iterator[Row]:
    """Seconds until /healthz answers 200: first with cluster, migrations and demo shop, then again."""
    with tempfile.TemporaryDirectory() as folder:
        first = _seconds_to_health(Path(folder) / "shop")
        yield Row("start.first", first, FIRST_LIMIT_S, "s", note="without making the virtual environment")
        later = sorted(_seconds_to_health(Path(folder) / "shop") for _ in range(3))[1]
        yield Row("start.later", later, LATER_LIMIT_S, "s", note="median of three")


def _seconds_to_health(data: Path) -> float:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    keep = {k: v for k, v in os.environ.items() if k not in ("DATABASE_URL", "REDIS_URL")}
    begun = time.perf_counter()
    server = subprocess.Popen(
        [sys.executable, "manage.py", "start", "--port", str(port)],
        env=keep | {"KITWRIGHT_DATA": str(data)}, cwd=settings.BASE_DIR, stdout=subprocess.DEVNULL,
    )  # fmt: skip
    try:
        while not _is_healthy(port):
            if server.poll() is not None:
                raise RuntimeError("start gave up.")
            time.sleep(0.05)
        return time.perf_counter() - begun
    finally:
        server.send_signal(signal.SIGTERM)
        server.wait()


def _is_healthy(port: int) -> bool:
    try:
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/healthz", timeout=5) as answer:
            return bool(answer.status == 200)
    except (urllib.error.URLError, OSError):
        return False
