"""Commands on one data folder: alone, at once, and after something was killed."""

import os
import signal

import pytest

from shop.runtime.postgres import Postgres
from tests.houses import House, until

pytestmark = pytest.mark.xdist_group("whole houses")


@pytest.fixture
def house(tmp_path):
    house = House(tmp_path / "data")
    yield house
    house.end()


def test_a_command_starts_the_database_and_leaves_none_behind(house):
    answer = house.command("showmigrations", "shop")
    assert (answer.returncode, "0001_tables" in answer.stdout) == (0, True)
    assert house.leaves_nothing()


def test_two_commands_at_once_on_a_new_folder_share_one_database(house):
    both = [house.begin("migrate", "--verbosity", "0", "--plan") for _ in range(2)]
    said = [command.communicate(timeout=120)[0] for command in both]
    assert [command.returncode for command in both] == [0, 0], said
    assert house.leaves_nothing()


def test_a_killed_command_leaves_no_database_behind(house):
    command = house.begin("shell", "-c", "import signal; print('in', flush=True); signal.pause()")
    until(lambda: "in" in command.stdout.readline(), "the command is at work")
    command.kill()
    command.communicate()
    assert house.leaves_nothing()


@pytest.fixture
def server(house):
    """The embedded server of a house, held by this test."""
    embedded = Postgres(house.folder)
    lease = embedded.join()
    yield embedded
    embedded.leave(lease)


def test_a_server_and_keeper_that_were_killed_are_replaced(house, server):
    before = house.pid_of("postgres")
    for pid in (house.keeper_of("postgres"), before):
        os.kill(pid, signal.SIGKILL)
    assert house.command("showmigrations", "shop").returncode == 0
    assert house.pid_of("postgres") != before


def test_a_server_without_keeper_is_proved_ours_stopped_and_started_anew(house, server):
    before = house.pid_of("postgres")
    os.kill(house.keeper_of("postgres"), signal.SIGKILL)
    assert house.command("showmigrations", "shop").returncode == 0
    assert before not in house.processes()


def test_a_stale_pid_file_that_names_another_program_is_no_obstacle(house):
    house.command("showmigrations", "shop")
    stale = house.folder.cluster / "postmaster.pid"
    stale.write_text(
        f"{os.getpid()}\n{house.folder.cluster}\n1\n5432\n{house.folder.sockets}\n\n   1  1\nready\n"
    )
    answer = house.command("showmigrations", "shop")
    assert answer.returncode == 0, answer.stderr
    os.kill(os.getpid(), 0)  # This process, named in the file, was left alone.


def test_the_cluster_sorts_by_the_builtin_locale_and_syncs_to_disk(house, server):
    import psycopg

    with psycopg.connect(
        host=str(house.folder.sockets), user="kitwright", password=server.password, dbname="postgres"
    ) as link:
        ask = "SELECT datlocprovider::text, datlocale, current_setting('fsync') FROM pg_database LIMIT 1"
        assert link.execute(ask).fetchone() == ("b", "C.UTF-8", "on")
