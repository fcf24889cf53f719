"""The command that measures: everything at once is each measure alone, in a process of its own."""

import json
import subprocess

import pytest
from django.core.management import CommandError, call_command

from shop.management.commands.measure import MEASURES


@pytest.fixture
def started(monkeypatch):
    """What is started instead of being measured, and how it ends."""
    commands, ends = [], {"code": 0}

    def run(command, **_):
        commands.append(command[2:])
        return subprocess.CompletedProcess(command, ends["code"], json.dumps([{"name": command[3]}]))

    monkeypatch.setattr(subprocess, "run", run)
    return commands, ends


def test_each_measure_runs_alone(started, capsys):
    call_command("measure", json=True)
    assert started[0] == [["measure", name, "--json"] for name in MEASURES]
    assert [row["name"] for row in json.loads(capsys.readouterr().out)] == list(MEASURES)


def test_one_that_fails_is_told_and_ends_it(started):
    started[1]["code"] = 3
    with pytest.raises(CommandError, match="measure plan came to no end"):
        call_command("measure")
    assert len(started[0]) == 1
