"""Finds or makes the environment that Kitwright runs in: `.venv` beside manage.py, filled once.

Standard library only, and written so that an old Python can still read it and say one sentence.
Once the environment is complete, this costs one small file read.
"""

import hashlib
import importlib.util
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

BASE = Path(__file__).resolve().parent.parent
OWN = BASE / ".venv"
PYTHON = OWN / "bin" / "python"
OLDEST, NEWEST = (3, 11), (3, 13)
LOCKS = {"run": BASE / "docker" / "requirements.lock", "test": BASE / "docker" / "requirements-test.lock"}


class Unable(Exception):
    """The environment cannot be used or made; the sentence says why."""


def ensure_environment(arguments):
    """Return in a Python that has the packages; otherwise make one and start over in it."""
    levels = ["run", "test"] if arguments[1:2] == ["test"] else ["run"]
    try:
        if os.name == "nt":
            raise Unable("Kitwright runs on Linux and macOS; on Windows use docker/compose.yaml.")
        if os.environ.get("KITWRIGHT_ENVIRONMENT") == "ready":
            return  # An image whose own Python has the packages.
        if _is_in(OWN):
            _complete(levels)
        elif _active() is not None:
            _use_active(_active(), levels, arguments)
        else:
            _complete(levels)
            _restart(PYTHON, arguments)
    except Unable as why:
        print(str(why), file=sys.stderr)
        sys.exit(2)
    except KeyboardInterrupt:
        print("\nStopped. The next command carries on from here.", file=sys.stderr)
        sys.exit(130)


def _is_in(environment):
    return os.path.realpath(sys.prefix) == os.path.realpath(str(environment))


def _active():
    """The environment that the person has active, if any."""
    if sys.prefix != sys.base_prefix:
        return Path(sys.prefix)
    named = os.environ.get("VIRTUAL_ENV")
    if named and (Path(named) / "bin" / "python").exists() and Path(named).resolve() != OWN:
        return Path(named)
    return None


def _use_active(environment, levels, arguments):
    """Somebody's own environment is used as it is: nothing is installed into it."""
    if not _is_in(environment):
        _restart(environment / "bin" / "python", arguments)
    _check_version()
    missing = [name for level in levels for name, _ in _locked(level) if not _is_installed(name)]
    if missing:
        files = " ".join("-r docker/" + LOCKS[level].name for level in levels)
        raise Unable(
            "The active environment {} lacks {}: run `pip install {}` in it, or deactivate it.".format(
                environment, ", ".join(missing), files
            )
        )


def _is_installed(name):
    import importlib.metadata

    try:
        importlib.metadata.distribution(name)
    except importlib.metadata.PackageNotFoundError:
        return False
    return True


def _restart(python, arguments):
    sys.stdout.flush()
    sys.stderr.flush()
    os.execv(str(python), [str(python), *arguments])


def _check_version():
    if not OLDEST <= sys.version_info[:2] <= NEWEST:
        raise Unable(
            "Kitwright needs Python 3.11, 3.12 or 3.13 and this is Python {}.{}: "
            "run `python3.11 manage.py` (or a newer one of these) instead.".format(*sys.version_info[:2])
        )


def _complete(levels):
    """Install what the stamp does not vouch for. A stamp is written last, so half an install has none."""
    if all(_is_stamped(level) for level in levels):
        return
    if not PYTHON.exists():
        _check_version()
        _check_can_make()
    import fcntl

    with LOCKS["run"].open() as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)  # Two first commands at once: the second waits and finds all done.
        if not _works():
            _say("Making the environment {} (once; a few minutes on a slow line)".format(OWN))
            _make()
        for level in levels:
            if not _is_stamped(level):
                _install(level)


def _check_can_make():
    if any(importlib.util.find_spec(name) is None for name in ("ensurepip", "venv")):
        raise Unable(
            "This Python has no ensurepip: install the system's package python{}.{}-venv, "
            "or run with another Python.".format(*sys.version_info[:2])
        )


def _works():
    """Tell whether the environment has a Python and a pip that run; half a making leaves one or none."""
    if not PYTHON.exists():
        return False
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    return subprocess.call([str(PYTHON), "-m", "pip", "--version"], **quiet) == 0


def _make():
    _check_version()
    _check_can_make()
    if _is_in(OWN):
        raise Unable("The environment {} is broken: delete it and try again.".format(OWN))
    shutil.rmtree(str(OWN), ignore_errors=True)
    made = subprocess.run(
        [sys.executable, "-m", "venv", str(OWN)],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        check=False,
    )
    if made.returncode:
        lines = made.stdout.decode(errors="replace").strip().splitlines()
        raise Unable(
            "The environment {} cannot be made: {}".format(OWN, lines[-1] if lines else "no reason given")
        )


def _install(level):
    packages = _locked(level)
    _say("Installing {} packages{}".format(len(packages), " for the tests" if level == "test" else ""))
    command = [str(PYTHON), "-m", "pip", "install", "--no-deps", "--no-input", "--disable-pip-version-check"]
    command += ["--progress-bar", "off", "-r", str(LOCKS[level])]
    pip = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, cwd=str(BASE))
    trouble = _follow(pip.stdout, len(packages))
    if pip.wait():
        raise Unable("The packages cannot be installed: {}".format(trouble or "pip gave no reason."))
    draft = OWN / ("." + level + "-stamp")
    draft.write_text(_digest(level))
    draft.replace(_stamp(level))
    _say("Installed.")


def _follow(output, total):
    """Show how far pip is; return its last complaint."""
    done, trouble = 0, ""
    for raw in output:
        line = raw.decode(errors="replace").strip()
        found = re.match(r"(?:Collecting|Requirement already satisfied:) ([\w.-]+)", line)
        if found:
            done += 1
            _show_progress("  {} of {}: {}".format(done, total, found.group(1)), last=done == total)
        elif line.startswith("Installing collected"):
            _say("  unpacking")
        elif line.startswith("ERROR:"):
            trouble = line[6:].strip()
    return trouble


def _show_progress(text, last):
    """One line that is rewritten at a terminal; every line elsewhere."""
    if sys.stderr.isatty():
        print("\r" + text.ljust(60), end="\n" if last else "", file=sys.stderr, flush=True)
    else:
        print(text, file=sys.stderr, flush=True)


def _locked(level):
    """The (name, version) pairs of a lock that apply to this Python."""
    pairs = []
    for line in LOCKS[level].read_text().splitlines():
        pin, _, marker = line.partition(";")
        if "==" not in pin or ("3.11.3" in marker and sys.version_info >= (3, 11, 3)):
            continue
        name, _, version = pin.strip().partition("==")
        pairs.append((name, version))
    return pairs


def _digest(level):
    return hashlib.sha256(LOCKS[level].read_bytes()).hexdigest()


def _stamp(level):
    return OWN / ("kitwright-" + level)


def _is_stamped(level):
    try:
        return _stamp(level).read_text() == _digest(level) and PYTHON.exists()
    except OSError:
        return False


def _say(text):
    print(text, file=sys.stderr, flush=True)
