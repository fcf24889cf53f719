"""The container's entrypoint, run by hand on this machine's own servers."""

import subprocess
import sys
from urllib.parse import quote

import pytest

from shop.runtime import prepare, valkey
from shop.runtime.folder import BASE
from shop.runtime.keeper import start_keeper, stop_keeper
from shop.runtime.locks import FileLock
from shop.runtime.postgres import Postgres
from tests.houses import PATIENCE_S, House, until

pytestmark = pytest.mark.xdist_group("whole houses")
ENTRYPOINT = str(BASE / "docker" / "entrypoint.sh")


@pytest.fixture
def servers(tmp_path):
    """A house whose servers stand alone, as they do under compose."""
    house = House(tmp_path / "data")
    embedded = Postgres(house.folder)
    lease = embedded.join()
    prepare.make_database(embedded)
    held = FileLock(house.folder.run / "broker.lease")
    held.take()
    broker = valkey.job(house.folder, held.path)
    start_keeper(broker)
    sockets, passwords = house.folder.sockets, (embedded.password, house.folder.secret("valkey-password"))
    house.surroundings |= {
        "DATABASE_URL": f"postgres://kitwright:{passwords[0]}@{quote(str(sockets), safe='')}:5432/kitwright",
        "REDIS_URL": f"unix://:{passwords[1]}@{sockets / valkey.SOCKET}",
        "KITWRIGHT_BIND": f"127.0.0.1:{house.port}",
        "KITWRIGHT_EMPTY": "true",
        "C_FORCE_ROOT": "1",
        "PYTHON": sys.executable,  # In the image python3 is the one that has the packages.
    }
    house.parts = []
    yield house
    for part in house.parts:
        part.kill()
        part.wait()
    stop_keeper(broker)
    embedded.leave(lease)
    house.end()


def begin(house, part):
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    house.parts.append(subprocess.Popen([ENTRYPOINT, part], env=house.surroundings, **quiet))


def test_web_worker_and_beat_come_up_and_stop(servers):
    begin(servers, "web")
    until(lambda: servers.health()[0], "the web answers")
    begin(servers, "worker")
    begin(servers, "beat")
    until(servers.is_up, "every part is up")
    for part in servers.parts:
        part.terminate()
    assert [part.wait(timeout=PATIENCE_S) for part in servers.parts] == [0, 0, 0]


def test_a_missing_server_is_one_sentence():
    answer = subprocess.run(
        [ENTRYPOINT, "web"], env={"PATH": "/usr/bin:/bin"}, capture_output=True, text=True, check=False
    )
    assert (answer.returncode, answer.stderr) == (
        2,
        "DATABASE_URL is not set: docker/env.example explains it.\n",
    )
