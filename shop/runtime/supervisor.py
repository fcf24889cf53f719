"""`start`: brings every part up, watches them, and leaves no process when it ends, however it ends.

Each part has a keeper that holds on to the lease of this process: when this process dies, by kill -9
too, the kernel lets the lease go and every keeper stops its part.
"""

import http.client
import os
import signal
import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass

import redis
from django.conf import settings

from shop.runtime import parts, prepare
from shop.runtime.errors import CannotRun
from shop.runtime.folder import DataFolder
from shop.runtime.keeper import Job, ask_to_stop, died_with, start_keeper, stop_keeper
from shop.runtime.locks import FileLock
from shop.runtime.postgres import Postgres
from shop.runtime.processes import is_ours

Report = Callable[[str], None]
LONGEST_START_S = 120.0
LOOK_EVERY_S = 1.0


@dataclass(frozen=True)
class Order:
    """What was asked of `start`."""

    port: int
    empty: bool


class Supervisor:
    """Runs the parts of one data folder."""

    def __init__(self, folder: DataFolder, order: Order, report: Report) -> None:
        self.folder = folder
        self.order = order
        self.report = report
        self.over = threading.Event()
        self.lease_path = folder.run / "start.lease"

    def run(self, first_steps: Callable[[], None]) -> None:
        """Start everything, tell the address, and watch until a signal ends it."""
        self.folder.make()
        parts.quiet_environment()
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(number, lambda *_: self.over.set())
        with ExitStack() as held:
            held.enter_context(self._alone())
            _check_port(self.order.port)
            _check_broker()
            self.report("Starting the database")
            held.enter_context(prepare.server(self.report))
            prepare.shop(self.report, empty=self.order.empty)
            jobs = self._start_parts(held)
            self._await_up(jobs)
            if not self.over.is_set():
                first_steps()
            self._watch(jobs)
            self.report("Stopping")

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """Hold this folder's start lease, or say who does."""
        lease = FileLock(self.lease_path)
        if not lease.try_take():
            if self._other_runs():
                raise CannotRun(f"Kitwright already runs on {self.folder.path}.")
            self.report("Waiting for the parts of an earlier run to stop")
            lease.take()
        self.lease_path.write_text(str(os.getpid()))
        try:
            yield
        finally:
            self.lease_path.write_text("")
            lease.close()

    def _other_runs(self) -> bool:
        text = self.lease_path.read_text().strip()
        return text.isdigit() and is_ours(int(text), " start")

    def _start_parts(self, held: ExitStack) -> list[Job]:
        jobs = parts.jobs(self.folder, self.lease_path, port=self.order.port, broker=settings.EMBEDDED_BROKER)
        _stop(jobs)  # Those that a killed run left behind at this very moment.
        held.callback(_stop, jobs)
        for job in jobs:
            if self.over.is_set():  # Asked to stop before it was up: nothing more is started.
                break
            self.report(f"Starting the {job.name}")
            start_keeper(job)
            if job.name == "broker":
                self._await_broker()
        return jobs

    def _await_broker(self) -> None:
        from shop.services import pulse

        deadline = time.monotonic() + LONGEST_START_S
        while not self.over.is_set() and time.monotonic() < deadline:
            try:
                pulse.forget()
            except redis.RedisError:
                time.sleep(0.02)
            else:
                return
        if not self.over.is_set():
            raise CannotRun(f"The broker does not start; {self.folder.logs / 'broker.log'} says why.")

    def _await_up(self, jobs: list[Job]) -> None:
        deadline = time.monotonic() + LONGEST_START_S
        status = 0
        while not self.over.is_set() and status != 200:
            self._check_keepers(jobs)
            if time.monotonic() > deadline:
                raise CannotRun(f"Not every part came up; the logs in {self.folder.logs} say why.")
            status = _health(self.order.port)
            self.over.wait(0.1)

    def _watch(self, jobs: list[Job]) -> None:
        """A part that dies is started again by its keeper; one that keeps dying ends the whole."""
        while not self.over.wait(LOOK_EVERY_S):
            self._check_keepers(jobs)
            if settings.EMBEDDED_DATABASE and not Postgres(self.folder).is_kept():
                self.report("Starting the database again")
                Postgres(self.folder).join(self.report).close()

    def _check_keepers(self, jobs: list[Job]) -> None:
        for job in jobs:
            status = died_with(job)
            if status is None:
                continue
            if status == 1:
                raise CannotRun(f"The {job.name} keeps failing; {job.log} says why.")
            self.report(f"Starting the {job.name} again")
            start_keeper(job)


def _stop(jobs: list[Job]) -> None:
    """Stop web, beat and worker side by side, and the broker when they have gone."""
    for job in reversed(jobs):
        if job.name != "broker":
            ask_to_stop(job)
    for job in reversed(jobs):
        stop_keeper(job)


def _check_port(port: int) -> None:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OverflowError:
            raise CannotRun(f"The port {port} is not between 1 and 65535.") from None
        except OSError as error:
            raise CannotRun(f"The port {port} cannot be used: {error.strerror}.") from None


def _check_broker() -> None:
    """A broker that is ours is started; one of somebody else has to be there already."""
    if settings.EMBEDDED_BROKER:
        return
    from shop.services import pulse

    try:
        pulse.forget()
    except (redis.RedisError, ValueError):
        raise CannotRun("The broker of REDIS_URL does not answer, or is no redis:// address.") from None


def _health(port: int) -> int:
    """The status of /healthz, 0 while nobody answers."""
    link = http.client.HTTPConnection("127.0.0.1", port, timeout=5)
    try:
        link.request("GET", "/healthz")
        return link.getresponse().status
    except (OSError, http.client.HTTPException):
        return 0
    finally:
        link.close()
