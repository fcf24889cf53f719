"""The linters, the type checker and Django's own checks pass, so that one command tells the truth."""

import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import call_command

ROOT = Path(__file__).resolve().parents[2]


def run(*arguments):
    return subprocess.run(
        [sys.executable, "-m", *arguments], cwd=ROOT, capture_output=True, text=True, check=False
    )


@pytest.mark.parametrize(
    "arguments", [["ruff", "check"], ["ruff", "format", "--check"], ["mypy", "."]], ids=" ".join
)
def test_code_tools_find_nothing(arguments):
    outcome = run(*arguments)
    assert outcome.returncode == 0, outcome.stdout[-4000:] + outcome.stderr[-2000:]


@pytest.mark.django_db
def test_models_and_migrations_agree():
    call_command("makemigrations", check=True, dry_run=True, verbosity=0)


@pytest.mark.django_db
def test_the_published_schema_is_valid_and_without_warnings(tmp_path):
    call_command("spectacular", validate=True, fail_on_warn=True, file=str(tmp_path / "schema.yaml"))
