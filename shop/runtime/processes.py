"""Proof that a process number found in a file still belongs to the server that wrote it."""

import os
import subprocess
import sys
from pathlib import Path


def command_line(pid: int) -> str | None:
    """Return the words a process was started with, joined by spaces, or None when there is none."""
    if sys.platform == "linux":
        try:
            words = Path(f"/proc/{pid}/cmdline").read_bytes()
        except OSError:
            return None
        return words.rstrip(b"\0").replace(b"\0", b" ").decode(errors="replace") or None
    answer = subprocess.run(
        ["ps", "-ww", "-o", "command=", "-p", str(pid)],  # noqa: S607
        capture_output=True,
        text=True,
        check=False,
    )
    return answer.stdout.strip() or None


def is_ours(pid: int, words: str) -> bool:
    """Tell whether this process runs and carries these words, which name our data folder."""
    line = command_line(pid)
    return line is not None and words in line


def signal_group(pid: int, number: int) -> None:
    """Signal a process and all that it started; one that has gone already is no error."""
    try:
        os.killpg(pid, number)
    except ProcessLookupError:
        return
