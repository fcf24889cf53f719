"""The parts that `start` runs beside the database: broker, worker, beat and web."""

import os
import signal
import sys
from collections.abc import Sequence
from pathlib import Path

from shop.runtime import valkey
from shop.runtime.folder import BASE, DataFolder
from shop.runtime.keeper import Job


def jobs(folder: DataFolder, lease: Path, *, port: int, broker: bool) -> list[Job]:
    """Every part in the order in which it starts; they stop in the opposite order."""
    parts = [valkey.job(folder, lease)] if broker else []
    return [*parts, _worker(folder, lease), _beat(folder, lease), _web(folder, lease, port)]


def _worker(folder: DataFolder, lease: Path) -> Job:
    words = ["celery", "-A", "shop.celery", "worker", "--hostname", f"kitwright-{folder.mark}@%h"]
    words += ["--concurrency", "2", "--without-gossip", "--without-mingle", "--loglevel", "WARNING"]
    return _python(folder, lease, "worker", words, patience_s=30)


def _beat(folder: DataFolder, lease: Path) -> Job:
    schedule = folder.run / "beat-schedule"
    words = ["celery", "-A", "shop.celery", "beat", "--schedule", str(schedule)]
    return _python(folder, lease, "beat", [*words, "--pidfile", "", "--loglevel", "WARNING"])


def _web(folder: DataFolder, lease: Path, port: int) -> Job:
    words = ["gunicorn", "shop.wsgi", "--bind", f"127.0.0.1:{port}", "--workers", "2", "--threads", "4"]
    words += ["--worker-class", "gthread", "--preload", "--no-control-socket", "--graceful-timeout", "10"]
    words += ["--limit-request-line", "8190"]  # A working carries its lists in its address.
    return _python(folder, lease, "web", [*words, "--name", f"kitwright-{folder.mark}"], patience_s=15)


def _python(
    folder: DataFolder, lease: Path, name: str, words: Sequence[str], *, patience_s: float = 15
) -> Job:
    return Job(
        name=name,
        command=[sys.executable, "-m", *words],
        folder=str(BASE),
        run=str(folder.run),
        log=str(folder.logs / f"{name}.log"),
        lease=str(lease),
        alone=False,
        stop_signal=int(signal.SIGTERM),
        patience_s=patience_s,
    )


def quiet_environment() -> None:
    """Celery may run as root as `start` may, and Django's checks are the suite's work, not every start's."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
    os.environ.setdefault("C_FORCE_ROOT", "1")
    os.environ.setdefault("CELERY_SKIP_CHECKS", "1")
