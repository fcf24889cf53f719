"""The data folder: private, with short sockets, secrets that commands agree on, and proof of identity."""

import os
import stat
import subprocess
import sys
import threading

import pytest

from shop.runtime import programs
from shop.runtime.errors import CannotRun
from shop.runtime.folder import DataFolder
from shop.runtime.locks import FileLock, is_held
from shop.runtime.postgres import Postgres
from shop.runtime.processes import command_line, is_ours
from tests.houses import until

SOCKET_LIMIT_BYTES = 103  # sun_path of macOS less its ending zero; Linux allows 107 (unix(7)).


@pytest.fixture
def folder(tmp_path):
    folder = DataFolder(tmp_path / "data")
    folder.make()
    return folder


@pytest.mark.parametrize("name", ["data", "d" * 120])
def test_the_socket_address_is_short_however_long_the_folder(tmp_path, name):
    address = DataFolder(tmp_path / name).sockets / ".s.PGSQL.5432"
    assert len(os.fsencode(address)) <= SOCKET_LIMIT_BYTES


def test_two_folders_never_share_sockets(tmp_path):
    assert DataFolder(tmp_path / "one").sockets != DataFolder(tmp_path / "two").sockets


def test_the_rooms_are_private(folder):
    rooms = (folder.path, folder.run, folder.logs, folder.secrets)
    assert {stat.S_IMODE(room.stat().st_mode) for room in rooms} == {0o700}


def test_commands_at_once_agree_on_a_secret(folder):
    seen = []
    threads = [threading.Thread(target=lambda: seen.append(folder.secret("key"))) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(seen) == 8
    assert len(set(seen)) == 1
    assert [path.name for path in folder.secrets.iterdir()] == ["key"]


def test_a_folder_that_cannot_be_made_is_one_sentence(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(CannotRun, match=r"The data folder .*file/data cannot be used"):
        DataFolder(tmp_path / "file" / "data").make()


def test_the_server_never_runs_as_root(folder):
    assert programs.account_for(folder).owner != 0


def test_an_account_reaches_only_what_every_folder_on_the_way_lets_it_enter(tmp_path):
    stranger = programs.Account(uid=4_000_000, gid=4_000_000)
    tmp_path.chmod(0o700)
    assert not programs.can_reach(tmp_path / "program", stranger)
    assert programs.can_reach(programs.Path("/usr/program"), stranger)


def test_a_cluster_of_another_major_version_is_refused_by_name(folder):
    folder.cluster.mkdir()
    (folder.cluster / "PG_VERSION").write_text("16\n")
    with pytest.raises(CannotRun, match="made by PostgreSQL 16 and this is PostgreSQL 18"):
        Postgres(folder).join()


def test_a_lock_is_let_go_of_by_the_death_of_its_holder(folder):
    program = (
        "import sys, pathlib; from shop.runtime.locks import FileLock\n"
        "lock = FileLock(pathlib.Path(sys.argv[1])); lock.take(); print('held', flush=True); sys.stdin.read()"
    )
    words = [sys.executable, "-c", program, folder.run / "lock"]
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as holder:
        holder.stdout.readline()
        held = is_held(folder.run / "lock")
        holder.kill()
    assert (held, is_held(folder.run / "lock")) == (True, False)


def test_shares_exclude_a_taker_and_not_each_other(folder):
    one, two, three = (FileLock(folder.run / "lock") for _ in range(3))
    assert (one.try_share(), two.try_share(), three.try_take()) == (True, True, False)
    for lock in (one, two, three):
        lock.close()


def test_a_process_is_ours_only_by_its_words():
    assert is_ours(os.getpid(), command_line(os.getpid()))
    assert not is_ours(os.getpid(), "cluster_name=kitwright-000000000000")
    assert command_line(2_147_483_646) is None


def test_a_keeper_that_outlives_its_starter_is_nothing_to_warn_of(folder):
    """Popen's own warning, "subprocess N is still running", came at the end of whatever started a keeper."""
    program = (
        "import pathlib, signal, sys; from shop.runtime.keeper import Job, start_keeper\n"
        "run = pathlib.Path(sys.argv[1])\n"
        "start_keeper(Job('sleeper', ['sleep', '60'], str(run), str(run), str(run / 'log'),"
        " str(run / 'lease'), True, int(signal.SIGTERM), 5.0))"
    )
    lease = FileLock(folder.run / "lease")
    lease.share()
    words = [sys.executable, "-W", "always", "-c", program, folder.run]
    said = subprocess.run(words, capture_output=True, text=True, check=True)
    until(lambda: is_held(folder.run / "sleeper.keeper"), "the keeper is there")
    lease.close()
    until(lambda: not is_held(folder.run / "sleeper.keeper"), "the keeper has gone with its lease")
    assert said.stderr == ""
