"""What an iterator gives, worked out once, however often one walks over it."""

from collections.abc import Iterator
from threading import RLock
from typing import Generic, TypeVar

Kept = TypeVar("Kept")


class Remembered(Generic[Kept]):
    """A sequence that is worked out only as far as it is asked for; threads may share it.

    Example:
        >>> squares = Remembered(n * n for n in range(10**9))
        >>> squares.between(2, 4), next(iter(squares))
        ([4, 9], 0)
    """

    def __init__(self, coming: Iterator[Kept]) -> None:
        self._met: list[Kept] = []
        self._coming = coming
        self._working = RLock()

    def __iter__(self) -> Iterator[Kept]:
        at = 0
        while at < len(self._met) or self._reach(at + 1):
            yield self._met[at]
            at += 1

    def between(self, start: int, stop: int) -> list[Kept]:
        """The members from one place up to another, as far as there are any."""
        self._reach(stop)
        return self._met[start:stop]

    def _reach(self, number: int) -> bool:
        """Work out so many; False when there are fewer."""
        if len(self._met) >= number:
            return True
        with self._working:
            while len(self._met) < number:
                try:
                    self._met.append(next(self._coming))
                except StopIteration:
                    return False
        return True
