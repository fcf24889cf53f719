"""A keeper runs one server for as long as somebody holds its lease, then stops it and leaves.

It is a small process of its own (standard library only). The lease is a file lock, so a holder that
is killed lets go of it as well, on every system that has flock: no server outlives its users.
"""

import json
import os
import shutil
import signal
import subprocess
import sys
import threading
import time
from dataclasses import asdict, dataclass
from pathlib import Path

from shop.runtime.locks import FileLock, give_to_owner_of, is_held
from shop.runtime.processes import is_ours, signal_group

QUICK_DEATH_S = 5.0
MOST_QUICK_DEATHS = 8
PAUSE_S = 0.2  # Longer after each quick death: what a killed server left running needs a moment to go.
LARGEST_LOG_BYTES = 5_000_000


class Outliving(subprocess.Popen[bytes]):
    """A process made to outlive the one that starts it, of which Popen warns as of a forgotten child."""

    def __del__(self) -> None:
        """Leave it alone: a keeper ends with its lease and is then reaped by the system."""


# By sign of life. Kept, so that the end of a keeper can be told and it can be waited for.
_started: dict[Path, Outliving] = {}


@dataclass(frozen=True)
class Job:
    """What a keeper is told. `alone` waits for an exclusive lease (its holders share), else for a share."""

    name: str
    command: list[str]
    folder: str
    run: str
    log: str
    lease: str
    alone: bool
    stop_signal: int
    patience_s: float
    user: int | None = None
    group: int | None = None
    after: tuple[str, ...] = ()  # Servers that need this one: when the lease ends, they go first.
    scratch: str = ""  # A folder for sockets that goes with the server.

    @property
    def note(self) -> Path:
        """Where the server's process number and command are written down."""
        return Path(self.run) / f"{self.name}.pid"

    @property
    def alive(self) -> Path:
        """The lock that this server's keeper holds while it lives."""
        return Path(self.run) / f"{self.name}.keeper"


class Keeper:
    """Runs one job."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.child: subprocess.Popen[bytes] | None = None
        self.over = threading.Event()
        self.quick_deaths = 0

    def run(self) -> int:
        """Keep the server running until the lease ends or a signal asks to stop."""
        alive = FileLock(self.job.alive)
        alive.take()
        self.job.alive.write_text(str(os.getpid()))
        self._end_stale()
        for number in (signal.SIGTERM, signal.SIGINT, signal.SIGHUP):
            signal.signal(number, lambda *_: self.stop())
        threading.Thread(target=self._await_lease_end, daemon=True).start()
        while not self.over.is_set() and self.quick_deaths < MOST_QUICK_DEATHS:
            self._run_once()
        self.job.note.unlink(missing_ok=True)
        if self.job.scratch:
            shutil.rmtree(self.job.scratch, ignore_errors=True)
        return 0 if self.over.is_set() else 1

    def stop(self) -> None:
        """Ask the server to stop; insist when its patience is used up."""
        if self.over.is_set():
            return
        self.over.set()
        child = self.child
        if child is None:
            return
        child.send_signal(self.job.stop_signal)
        timer = threading.Timer(self.job.patience_s, signal_group, (child.pid, signal.SIGKILL))
        timer.daemon = True
        timer.start()

    def _run_once(self) -> None:
        started = time.monotonic()
        with Path(self.job.log).open("ab") as log:
            self.child = subprocess.Popen(
                self.job.command,
                cwd=self.job.folder,
                user=self.job.user,
                group=self.job.group,
                extra_groups=None if self.job.user is None else [],
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
                process_group=0,
            )
        draft = self.job.note.with_suffix(".draft")
        draft.write_text(json.dumps({"pid": self.child.pid, "command": self.job.command}))
        draft.replace(self.job.note)
        if self.over.is_set():  # The lease ended while the server was being started.
            self.child.send_signal(self.job.stop_signal)
        self.child.wait()
        signal_group(self.child.pid, signal.SIGKILL)
        quick = time.monotonic() - started < QUICK_DEATH_S
        self.quick_deaths = self.quick_deaths + 1 if quick else 0
        if not self.over.is_set():
            self.over.wait(PAUSE_S * (1 + self.quick_deaths))

    def _await_lease_end(self) -> None:
        lease = FileLock(Path(self.job.lease))
        if self.job.alone:
            lease.take()
        else:
            lease.share()
        for name in self.job.after:
            needer = FileLock(Path(self.job.run) / f"{name}.keeper")
            needer.share()
            needer.close()
        os.kill(os.getpid(), signal.SIGTERM)
        threading.Event().wait()  # The lease stays taken until this process has gone.

    def _end_stale(self) -> None:
        """Stop a server whose keeper was killed, once it is proved to be ours."""
        try:
            note = json.loads(self.job.note.read_text())
            pid, command = int(note["pid"]), " ".join(note["command"])
        except (OSError, ValueError, KeyError):
            return
        deadline = time.monotonic() + self.job.patience_s
        if is_ours(pid, command):
            os.kill(pid, self.job.stop_signal)
        while is_ours(pid, command):
            if time.monotonic() > deadline:
                signal_group(pid, signal.SIGKILL)
            time.sleep(0.05)
        self.job.note.unlink(missing_ok=True)


def start_keeper(job: Job) -> None:
    """Start a keeper in a session of its own, out of reach of the terminal's Ctrl-C."""
    log = Path(job.log)
    if log.exists() and log.stat().st_size > LARGEST_LOG_BYTES:
        log.replace(log.with_name(f"{log.name}.old"))
    log.touch(mode=0o600)
    give_to_owner_of(log.parent, log)
    with log.open("ab") as errors:
        keeper = Outliving(
            [sys.executable, "-m", "shop.runtime.keeper", json.dumps(asdict(job))],
            cwd=Path(__file__).resolve().parent.parent.parent,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=errors,
            start_new_session=True,
        )
    replaced = _started.get(job.alive)
    if replaced is not None:
        replaced.wait()  # It has let go of its sign of life, so this is the end of its leaving.
    _started[job.alive] = keeper


def stop_keeper(job: Job) -> None:
    """Ask a keeper to stop its server and wait until both have gone."""
    while is_held(job.alive):  # One that has only just begun has not written its number yet.
        ask_to_stop(job)
        time.sleep(0.02)
    await_end(job)


def ask_to_stop(job: Job) -> None:
    """Ask a keeper to stop its server."""
    number = job.alive.read_text() if job.alive.exists() else ""
    if number and is_ours(int(number), "shop.runtime.keeper"):
        os.kill(int(number), signal.SIGTERM)


def await_end(job: Job) -> None:
    """Wait until a keeper has gone."""
    lock = FileLock(job.alive)
    lock.share()
    lock.close()
    if job.alive in _started:
        _started[job.alive].poll()


def died_with(job: Job) -> int | None:
    """Return the exit status of a keeper that this process started, None while it lives."""
    return _started[job.alive].poll() if job.alive in _started else None


if __name__ == "__main__":
    sys.exit(Keeper(Job(**json.loads(sys.argv[1]))).run())
