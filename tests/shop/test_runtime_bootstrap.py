"""The environment on first use: what is said when it cannot be made, and what an active one is left as."""

import os
import subprocess
import sys

import pytest

from shop.runtime.folder import BASE


@pytest.fixture
def copy(tmp_path):
    """A tree with just what the bootstrap reads."""
    for name in (
        "shop/__init__.py",
        "shop/bootstrap.py",
        "docker/requirements.lock",
        "docker/requirements-test.lock",
    ):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text((BASE / name).read_text())
    (tmp_path / "manage.py").write_text(
        "import sys\nfrom shop.bootstrap import ensure_environment as e\ne(sys.argv)\nprint('ready')\n"
    )
    return tmp_path


def run(copy, before="pass", **surroundings):
    """Run manage.py in a bare Python, after a line that makes the machine what the test wants."""
    program = f"import sys, runpy; sys.argv = ['manage.py', 'version']; {before}; runpy.run_path('manage.py')"
    bare = {"PATH": os.environ["PATH"], "PYTHONPATH": str(copy)} | surroundings
    interpreter = os.path.realpath(sys.executable)
    return subprocess.run(
        [interpreter, "-c", program], cwd=copy, env=bare, capture_output=True, text=True, check=False
    )


def test_an_unsupported_python_is_one_sentence(copy):
    answer = run(copy, "sys.version_info = (3, 9, 2)")
    assert (answer.returncode, answer.stderr.count("\n")) == (2, 1)
    assert "needs Python 3.11, 3.12 or 3.13 and this is Python 3.9" in answer.stderr
    assert not (copy / ".venv").exists()


def test_a_python_too_old_to_read_the_next_import_is_told_so(copy):
    (copy / "manage.py").write_text((BASE / "manage.py").read_text())
    (copy / "shop" / "bootstrap.py").write_text("this is no Python of that age")
    answer = run(copy, "sys.version_info = (2, 7, 18)")
    assert (answer.returncode, answer.stderr.count("\n")) == (2, 1)
    assert "needs Python 3.11, 3.12 or 3.13" in answer.stderr


@pytest.mark.parametrize("missing", ["ensurepip", "venv"])
def test_a_python_that_cannot_make_environments_is_one_sentence(copy, missing):
    answer = run(copy, f"sys.modules[{missing!r}] = None")
    assert (answer.returncode, answer.stderr.count("\n")) == (2, 1)
    assert "has no ensurepip" in answer.stderr


def test_an_active_environment_is_used_and_not_filled(copy, tmp_path_factory):
    active = tmp_path_factory.mktemp("active")
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", active], check=True)
    answer = run(copy, VIRTUAL_ENV=str(active))
    assert answer.returncode == 2
    assert f"The active environment {active} lacks amqp" in answer.stderr
    assert not (copy / ".venv").exists()


def test_an_environment_with_a_stamp_is_used_as_it_is(copy):
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", copy / ".venv"], check=True)
    program = "from shop import bootstrap as b; b._stamp('run').write_text(b._digest('run'))"
    subprocess.run([sys.executable, "-c", program], cwd=copy, check=True)
    answer = run(copy)
    assert (answer.returncode, answer.stdout, answer.stderr) == (0, "ready\n", "")


def test_half_an_environment_is_made_anew(copy):
    """The package source is out of reach here: the test ends where the installation would begin."""
    (copy / ".venv" / "bin").mkdir(parents=True)
    nowhere = {"PIP_NO_INDEX": "1", "PIP_CONFIG_FILE": os.devnull, "PIP_RETRIES": "0"}
    answer = run(copy, **nowhere)
    assert answer.returncode == 2
    assert "Making the environment" in answer.stderr
    assert "The packages cannot be installed: No matching distribution" in answer.stderr
    assert (copy / ".venv" / "bin" / "python").exists()
    assert not (copy / ".venv" / "kitwright-run").exists()
