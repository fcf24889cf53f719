"""The browser that the tests of screens use: one on the PATH, else Playwright's own, else Debian's."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

NAMES = ("chromium", "chromium-browser", "google-chrome")


def on_path() -> str | None:
    """The path of a browser that the machine has, or None."""
    return next(filter(None, map(shutil.which, NAMES)), None)


def found() -> str | None:
    """The path of a browser that is here already, Playwright's own included, or None."""
    return on_path() or _playwrights_own()


def ensured() -> bool:
    """Whether there is a browser now; one is installed when there was none."""
    return bool(found()) or _fetched_by_playwright() or _installed_by_apt()


def _playwrights_own() -> str | None:
    from playwright.sync_api import sync_playwright  # Part of the test extra only.

    with sync_playwright() as playwright:
        path = playwright.chromium.executable_path
    return path if Path(path).exists() else None


def _fetched_by_playwright() -> bool:
    print("Fetching a browser for the tests of screens", flush=True)  # noqa: T201  This is the terminal.
    return _ran([sys.executable, "-m", "playwright", "install", "chromium"]) and bool(found())


def _installed_by_apt() -> bool:
    if os.geteuid() != 0 or not shutil.which("apt-get"):
        return False
    print("Installing Debian's browser", flush=True)  # noqa: T201  This is the terminal.
    quiet = {"DEBIAN_FRONTEND": "noninteractive", **os.environ}
    _ran(["apt-get", "update"], quiet)
    return _ran(["apt-get", "install", "-y", "--no-install-recommends", "chromium"], quiet) and bool(found())


def _ran(command: list[str], environment: dict[str, str] | None = None) -> bool:
    try:
        done = subprocess.run(command, env=environment, capture_output=True, timeout=900, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return done.returncode == 0
