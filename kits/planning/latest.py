"""What was made last, kept under what it was made from."""

from collections import OrderedDict
from collections.abc import Hashable
from contextlib import suppress
from threading import Lock
from typing import Generic, TypeVar

Name = TypeVar("Name", bound=Hashable)
Made = TypeVar("Made")


class Latest(Generic[Name, Made]):
    """The values that were asked for last, at most so many of them; threads may share it.

    Example:
        >>> squares = Latest[int, int](2)
        >>> for number in (1, 2, 3):
        ...     squares.keep(number, number**2)
        >>> squares.get(1), squares.get(3)
        (None, 9)
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._made: OrderedDict[Name, Made] = OrderedDict()
        self._lock = Lock()

    def get(self, name: Name) -> Made | None:
        """The value of that name, None where none is kept."""
        made = self._made.get(name)
        if made is not None:
            with suppress(KeyError):  # another thread may have forgotten it just now
                self._made.move_to_end(name)
        return made

    def keep(self, name: Name, made: Made) -> None:
        """Keep a value, and forget what was not asked for longest."""
        with self._lock:
            self._made[name] = made
            self._made.move_to_end(name)
            if len(self._made) > self._most:
                self._made.popitem(last=False)
