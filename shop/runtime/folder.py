"""Where everything that one shop stores lies: the data folder and its rooms."""

import hashlib
import os
import secrets
import tempfile
from dataclasses import dataclass
from pathlib import Path

from shop.runtime.errors import CannotRun
from shop.runtime.locks import give_to_owner_of

BASE = Path(__file__).resolve().parent.parent.parent
# A Unix socket's path may hold about 107 bytes on Linux and 103 on macOS; the server adds its file name.
LONGEST_SOCKET_FOLDER = 80


@dataclass(frozen=True)
class DataFolder:
    """The data folder of one shop. Two folders are two separate shops."""

    path: Path

    @property
    def cluster(self) -> Path:
        """The PostgreSQL cluster."""
        return self.path / "postgres"

    @property
    def run(self) -> Path:
        """Locks and the notes of running servers; nothing worth keeping."""
        return self.path / "run"

    @property
    def logs(self) -> Path:
        """One log per server."""
        return self.path / "logs"

    @property
    def secrets(self) -> Path:
        """Passwords and keys made for this folder alone."""
        return self.path / "secrets"

    @property
    def mark(self) -> str:
        """A short name of this folder, the same for every command that uses it."""
        return hashlib.sha256(str(self.path).encode()).hexdigest()[:12]

    @property
    def sockets(self) -> Path:
        """A short private folder for sockets.

        Root's servers run as somebody who may be unable to reach the data folder, and a long path
        does not fit a socket address: both get a folder of their own under the system's temp folder.
        """
        if os.geteuid() != 0 and len(os.fsencode(self.run)) <= LONGEST_SOCKET_FOLDER:
            return self.run
        temp = Path("/tmp") if Path("/tmp").is_dir() else Path(tempfile.gettempdir())  # noqa: S108
        return temp / f"kitwright-{os.geteuid()}-{self.mark}"

    def make(self) -> None:
        """Make the folder and its rooms, private to their owner."""
        existed = self.path.exists()
        for folder in (self.path, self.run, self.logs, self.secrets):
            try:
                folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            except OSError as error:
                raise CannotRun(f"The data folder {self.path} cannot be used: {error.strerror}.") from error
            if existed:
                give_to_owner_of(self.path, folder)
        if os.geteuid() not in (0, self.path.stat().st_uid):
            raise CannotRun(f"The data folder {self.path} belongs to another user.")

    def secret(self, name: str) -> str:
        """Return a secret of this folder, made on first use; two commands at once agree on one."""
        target = self.secrets / name
        if not target.exists():
            self.make()
            handle, draft = tempfile.mkstemp(dir=self.secrets)
            with os.fdopen(handle, "w") as file:
                file.write(secrets.token_urlsafe(48))
            give_to_owner_of(self.path, Path(draft))
            try:
                os.link(draft, target)
            except FileExistsError:
                pass  # Another command was first; its secret counts.
            finally:
                Path(draft).unlink()
        return self._read(target)

    def _read(self, target: Path) -> str:
        try:
            return target.read_text().strip()
        except PermissionError as error:
            raise CannotRun(f"The data folder {self.path} belongs to another user.") from error


def data_folder() -> DataFolder:
    """Return the data folder that the environment names, else `.data` beside manage.py."""
    named = os.environ.get("KITWRIGHT_DATA")
    return DataFolder(Path(named).expanduser().resolve() if named else BASE / ".data")
