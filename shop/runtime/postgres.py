"""The embedded PostgreSQL: one cluster in the data folder, started when wanted, proved to be ours.

Only the wheel's programs are used; starting and stopping is this module's own, so that a system's
server (DATABASE_URL) can take its place without anything else changing.
"""

import os
import shutil
import signal
import stat
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from shop.runtime.errors import CannotRun
from shop.runtime.folder import DataFolder
from shop.runtime.keeper import Job, await_end, start_keeper, stop_keeper
from shop.runtime.locks import FileLock, is_held
from shop.runtime.processes import is_ours
from shop.runtime.programs import Account, account_for, reachable_programs

MAJOR = "18"
USER = "kitwright"
DATABASE = "kitwright"
PORT = 5432
ATTEMPTS = 2
NO_PROCESS = "2147483646"  # Above the highest process number of Linux and macOS.
Report = Callable[[str], None]


def silent(_: str) -> None:
    """Report nothing."""


class Postgres:
    """The server of one data folder."""

    def __init__(self, folder: DataFolder) -> None:
        self.folder = folder
        self.lease = folder.run / "postgres.lease"

    @property
    def password(self) -> str:
        """The password of the only role."""
        return self.folder.secret("database-password")

    def join(self, report: Report = silent) -> FileLock:
        """Start the server unless it runs, wait until it answers, and return our share of its lease."""
        self.folder.make()
        with FileLock(self.folder.run / "postgres.start"):
            lease = FileLock(self.lease)
            lease.share()  # Waits for a server that is being stopped.
            if not self.is_ready():
                self._start(report)
        return lease

    def leave(self, lease: FileLock) -> None:
        """Give our share back; the last one out waits until the server has gone."""
        if lease.try_take():  # Held alone, so that a newcomer waits for the end of the stop.
            stop_keeper(self._job())
        elif not lease.try_share():  # The keeper was quicker and is stopping it already.
            await_end(self._job())
        lease.close()

    def is_ready(self) -> bool:
        """Tell whether the server runs and answers."""
        return self.is_kept() and self._status() == "ready"

    def is_kept(self) -> bool:
        """Tell whether a keeper looks after the server."""
        return is_held(self._job().alive)

    def _start(self, report: Report) -> None:
        account = account_for(self.folder)
        programs = reachable_programs(account)
        self._make_socket_folder(account)
        if not self.folder.cluster.exists():
            report("Making the database cluster")
            self._make_cluster(account, programs)
        self._check_version()
        for _ in range(ATTEMPTS):  # A keeper seen alive may just be leaving, its server gone already.
            self._make_socket_folder(account)
            orphan = None
            if not self.is_kept():
                orphan = self._own_pid()  # Its keeper was killed; the new one stops it first.
                self._disown_foreign_process()
                start_keeper(self._job(account, programs))
            if self._becomes_ready(report, orphan):
                return
        raise CannotRun(f"The database does not start; {self._job().log} says why.")

    def _becomes_ready(self, report: Report, orphan: int | None) -> bool:
        """Recovery after a crash takes as long as it takes: only a server that died ends the wait."""
        begun, told, seen_alive = time.monotonic(), 0.0, False
        while not self.is_ready() or self._own_pid() == orphan:
            waited = time.monotonic() - begun
            seen_alive = seen_alive or self.is_kept()
            if not self.is_kept() and (seen_alive or waited > 20):
                return False
            if waited - told >= 5:
                told = waited
                report(f"The database is still replaying its log ({waited:.0f} s so far)")
            time.sleep(0.01)
        return True

    def _status(self) -> str:
        """The status line of postmaster.pid, when the process in it is proved to be ours."""
        lines = self._pid_file_lines()
        return lines[7].strip() if len(lines) > 7 and self._own_pid() is not None else ""

    def _own_pid(self) -> int | None:
        """The process number in postmaster.pid, when that process is proved to be ours."""
        first = (self._pid_file_lines() or [""])[0]
        return int(first) if first.isdigit() and is_ours(int(first), self._cluster_name) else None

    def _pid_file_lines(self) -> list[str]:
        try:
            return (self.folder.cluster / "postmaster.pid").read_text().splitlines()
        except OSError:
            return []

    def _disown_foreign_process(self) -> None:
        """A stale pid file may name a number that another program has by now, which PostgreSQL would respect.

        Only the number is replaced: the shared memory key in the file still keeps a new server from
        starting beside orphans of an old one.
        """
        lines = self._pid_file_lines()
        if lines and self._own_pid() is None:
            path = self.folder.cluster / "postmaster.pid"
            path.write_text("\n".join([NO_PROCESS, *lines[1:]]) + "\n")

    @property
    def _cluster_name(self) -> str:
        return f"cluster_name=kitwright-{self.folder.mark}"

    def _job(self, account: Account | None = None, programs: Path = Path()) -> Job:
        account = account or Account(None, None)
        settings = {
            "listen_addresses": "",
            "unix_socket_directories": str(self.folder.sockets),
            "unix_socket_permissions": "0700",
            "cluster_name": f"kitwright-{self.folder.mark}",
            "port": str(PORT),
            "fsync": "on",
            "timezone": "UTC",
            "log_timezone": "UTC",
            "max_connections": "120",
        }
        options = [word for name, value in settings.items() for word in ("-c", f"{name}={value}")]
        return Job(
            name="postgres",
            command=[
                str(programs / "postgres"),
                "-D",
                directory_argument(self.folder.cluster, account),
                *options,
            ],
            folder=str(self.folder.cluster),
            run=str(self.folder.run),
            log=str(self.folder.logs / "postgres.log"),
            lease=str(self.lease),
            alone=True,
            after=("web", "worker", "beat", "broker"),
            scratch="" if self.folder.sockets == self.folder.run else str(self.folder.sockets),
            stop_signal=int(signal.SIGINT),
            patience_s=60,
            user=account.uid,
            group=account.gid,
        )

    def _make_socket_folder(self, account: Account) -> None:
        sockets = self.folder.sockets
        try:
            sockets.mkdir(mode=0o700)
            if account.uid is not None:
                os.chown(sockets, account.uid, account.gid or -1)
        except FileExistsError:
            found = sockets.lstat()
            private = stat.S_ISDIR(found.st_mode) and not found.st_mode & 0o077
            if not private or found.st_uid not in (account.owner, os.geteuid()):
                raise CannotRun(f"The folder {sockets} is not private to this shop; remove it.") from None

    def _make_cluster(self, account: Account, programs: Path) -> None:
        """Make the cluster aside and move it into place when complete, so that half of one is never used."""
        draft = self.folder.cluster.with_name("postgres.draft")
        shutil.rmtree(draft, ignore_errors=True)
        draft.mkdir(mode=0o700)
        password_file = self.folder.sockets / "initial-password"
        password_file.write_text(self.password + "\n")
        password_file.chmod(0o600)
        for path in (draft, password_file):
            if account.uid is not None:
                os.chown(path, account.uid, account.gid or -1)
        try:
            self._run_initdb(draft, password_file, account, programs)
        finally:
            password_file.unlink()
        draft.rename(self.folder.cluster)

    def _run_initdb(self, draft: Path, password_file: Path, account: Account, programs: Path) -> None:
        command = [
            str(programs / "initdb"),
            *(
                "-D",
                directory_argument(draft, account),
                "-U",
                USER,
                "-A",
                "scram-sha-256",
                f"--pwfile={password_file}",
            ),
            *("--encoding=UTF8", "--locale-provider=builtin", "--builtin-locale=C.UTF-8", "--locale=C"),
        ]
        answer = subprocess.run(
            command,
            cwd=draft,
            user=account.uid,
            group=account.gid,
            extra_groups=None if account.uid is None else [],
            capture_output=True,
            text=True,
            check=False,
        )
        if answer.returncode:
            last = (answer.stderr.strip() or answer.stdout.strip()).splitlines()[-1:]
            raise CannotRun(f"The database cluster cannot be made: {' '.join(last)}")

    def _check_version(self) -> None:
        found = (self.folder.cluster / "PG_VERSION").read_text().strip()
        if found != MAJOR:
            raise CannotRun(
                f"The database was made by PostgreSQL {found} and this is PostgreSQL {MAJOR}: "
                "make a backup with the version it was made by, then restore it into a new data folder."
            )


def directory_argument(directory: Path, account: Account) -> str:
    """How a program that runs in this directory as this account is told where the directory is.

    The data folder may lie below a folder that only root may enter, while the server runs as
    somebody else. The kernel lets a process keep using the working directory it was given before it
    dropped its rights, and /proc/self/cwd names just that: no parent folder has to be opened.
    """
    if account.uid is not None and sys.platform == "linux":
        return "/proc/self/cwd"
    return str(directory)
