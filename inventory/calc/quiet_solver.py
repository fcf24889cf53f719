"""The solver of linear and integer programmes, without the greeting that it prints once per process."""

import ctypes
import os
import sys
import threading
from typing import Any

_first = threading.Lock()
_greeted = threading.Event()


def quiet_solver() -> Any:
    """A solver whose greeting, printed once per process, never reaches standard output."""
    import highspy  # costs 90 ms, and most commands never solve anything

    with _first:
        if _greeted.is_set():
            return highspy.Highs()
        _greeted.set()
        return _muted(highspy.Highs)


def _muted(make: Any) -> Any:
    """Call `make` while file descriptor 1 leads nowhere; the greeting is written below Python."""
    if sys.stdout is not None:
        sys.stdout.flush()
    try:
        kept = os.dup(1)
    except OSError:  # standard output is closed: there is nothing to keep clean
        return make()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        _flush_below_python()
        os.dup2(nowhere, 1)
        made = make()
        _flush_below_python()
        return made
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)


def _flush_below_python() -> None:
    ctypes.CDLL(None).fflush(None)
