"""Cycles are searched for between answers, never during one: a search takes as long as half a plan."""

import gc
import threading
import time
from typing import Any

from django.core.signals import request_finished, request_started

PAUSE_S = 0.1  # without a request: whoever types has not finished before that
ANSWERS = 16  # between two searches; each leaves some two thousand objects that are kept for a while
MOST_ANSWERS = 400  # a shop so busy that no pause comes is searched all the same
YOUNG_TO_ALL = 64  # searches of what is young to one of everything


class Tidying:
    """Takes the search for cycles away from the requests of one process and does it in their pauses."""

    def __init__(self) -> None:
        self._counting = threading.Lock()
        self._due = threading.Event()
        self._under_way = self._answers = self._searches = 0
        self._last = 0.0

    def start(self) -> None:
        """From now on nothing is searched for while a request is answered."""
        gc.disable()
        request_started.connect(self.began)
        request_finished.connect(self.ended)
        threading.Thread(target=self._in_pauses, name="tidying", daemon=True).start()

    def began(self, **_: Any) -> None:
        """A request has come."""
        with self._counting:
            self._under_way += 1

    def ended(self, **_: Any) -> None:
        """Its answer is sent."""
        with self._counting:
            self._under_way -= 1
            self._answers += 1
            self._last = time.monotonic()
            if self._answers >= ANSWERS:
                self._due.set()

    def tidy_in_a_pause(self) -> bool:
        """Search if it is time and nobody waits; whether it was done."""
        with self._counting:
            quiet = not self._under_way and time.monotonic() - self._last >= PAUSE_S
            if self._answers < ANSWERS or not (quiet or self._answers >= MOST_ANSWERS):
                return False
            self._due.clear()
            self._answers = 0
            self._searches += 1
        gc.collect(1 if self._searches % YOUNG_TO_ALL else 2)
        return True

    def _in_pauses(self) -> None:
        while self._due.wait():
            if not self.tidy_in_a_pause():
                time.sleep(PAUSE_S / 2)
