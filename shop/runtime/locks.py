"""Locks of the operating system: let go of by the kernel when their holder dies, however it dies."""

import fcntl
import os
from pathlib import Path
from types import TracebackType
from typing import Self


def give_to_owner_of(folder: Path, path: Path) -> None:
    """Hand a file that root made to the owner of its folder, who must still be able to use it."""
    owner = folder.stat()
    if os.geteuid() == 0 and owner.st_uid != 0:
        os.chown(path, owner.st_uid, owner.st_gid)


class FileLock:
    """A lock on a file, shared or exclusive. Closing it, or dying, releases it."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
        give_to_owner_of(path.parent, path)

    def share(self) -> None:
        """Wait until no one holds it exclusively, and share it."""
        fcntl.flock(self._handle, fcntl.LOCK_SH)

    def take(self) -> None:
        """Wait until no one else holds it, and hold it alone."""
        fcntl.flock(self._handle, fcntl.LOCK_EX)

    def try_share(self) -> bool:
        """Share it if that is possible at once."""
        return self._try(fcntl.LOCK_SH)

    def try_take(self) -> bool:
        """Hold it alone if that is possible at once; a share held before is lost when it is not."""
        return self._try(fcntl.LOCK_EX)

    def _try(self, kind: int) -> bool:
        try:
            fcntl.flock(self._handle, kind | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True

    def close(self) -> None:
        """Release it."""
        os.close(self._handle)

    def __enter__(self) -> Self:
        """Hold it alone for the length of a block."""
        self.take()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Release it at the end of the block."""
        self.close()


def is_held(path: Path) -> bool:
    """Tell whether someone holds the lock at this path exclusively."""
    lock = FileLock(path)
    try:
        return not lock.try_share()
    finally:
        lock.close()
