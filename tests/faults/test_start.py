"""`start` under blows: signals, kill -9 of every part, a port in use, a second start."""

import os
import signal
import socket

import pytest

from tests.houses import PATIENCE_S, House, until

pytestmark = pytest.mark.xdist_group("whole houses")


@pytest.fixture(scope="module")
def running(tmp_path_factory):
    """A house that has been started once; every test leaves it up again."""
    house = House(tmp_path_factory.mktemp("running") / "data")
    house.first_words = house.start()
    yield house
    house.end()


@pytest.fixture
def house(tmp_path):
    house = House(tmp_path / "data")
    yield house
    house.end()


def test_start_reports_each_step_the_address_and_the_first_password(running):
    words = ("Starting the database", "Starting the broker", "Starting the worker", "Starting the beat",
             "Starting the web", f"http://127.0.0.1:{running.port}/", "one-time password")  # fmt: skip
    assert [word for word in words if word not in running.first_words] == []


def test_health_names_every_part_and_the_age_of_the_backup(running):
    status, report = running.health()
    assert status == 200
    assert set(report["parts"]) == {"database", "broker", "worker", "beat"}
    assert set(report["backup"]) == {"age_hours", "overdue"}


def test_a_second_start_on_one_folder_says_so(running):
    second = running.command("start", "--port", str(running.port + 1))
    assert (second.returncode, second.stderr) == (2, f"Kitwright already runs on {running.folder.path}.\n")


def test_a_command_shares_the_running_database_and_leaves_it_up(running):
    before = running.pid_of("postgres")
    answer = running.command(
        "shell", "-v0", "-c", "from shop.models import House; print(House.current().demo_state)"
    )
    assert (answer.stdout, running.pid_of("postgres")) == ("never\n", before)


@pytest.mark.parametrize("part", ["postgres", "broker", "worker", "beat", "web"])
def test_a_part_that_is_killed_comes_back(running, part):
    before = running.pid_of(part)
    os.kill(before, signal.SIGKILL)
    until(
        lambda: (running.folder.run / f"{part}.pid").exists() and running.pid_of(part) != before,
        f"{part} is back",
    )
    until(running.is_up, "the house is up")


@pytest.mark.parametrize("part", ["postgres", "broker", "worker", "beat", "web"])
def test_a_part_whose_keeper_is_killed_comes_back(running, part):
    before, keeper = running.pid_of(part), running.keeper_of(part)
    os.kill(keeper, signal.SIGKILL)
    until(
        lambda: running.keeper_of(part) not in (None, keeper) and before not in running.processes(),
        f"a new keeper of {part}",
    )
    until(running.is_up, "the house is up")


def test_health_names_the_part_that_is_down(running):
    worker, keeper = running.pid_of("worker"), running.keeper_of("worker")
    for pid in (keeper, worker):
        os.kill(pid, signal.SIGSTOP)
    try:
        until(lambda: running.health()[1].get("down") == ["worker"], "the worker is missed")
        assert running.health()[0] == 503
    finally:
        for pid in (worker, keeper):
            os.kill(pid, signal.SIGCONT)
    until(running.is_up, "the house is up")


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_stops_everything(house, number):
    house.start()
    assert len(house.processes()) > 10
    assert house.stop(number) == 0
    assert house.leaves_nothing()


@pytest.mark.parametrize("step", ["Starting the broker", "Starting the web"])
def test_a_signal_before_it_is_up_stops_it_without_a_false_word(house, step):
    house.started = house.begin("start", "--empty", "--port", str(house.port))
    said = ""
    while step not in said:
        said += house.started.stdout.readline()
    house.started.send_signal(signal.SIGTERM)
    said += house.started.communicate(timeout=PATIENCE_S)[0]
    assert (house.started.returncode, said.splitlines()[-1]) == (0, "Stopping")
    assert "password" not in said
    assert house.leaves_nothing()


def test_a_killed_start_leaves_no_process_and_the_next_one_works(house):
    house.start()
    house.started.kill()
    house.started.communicate()
    assert "ready at" in house.start()
    assert house.stop() == 0
    assert house.leaves_nothing()


def test_a_port_in_use_is_one_sentence(house):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", house.port))
        taken.listen()
        answer = house.command("start", "--port", str(house.port))
    assert (answer.returncode, answer.stderr.count("\n")) == (2, 1)
    assert f"The port {house.port} cannot be used" in answer.stderr
    assert house.processes() == {}
