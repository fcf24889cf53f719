"""Where on a way of changes some item first does a job: whole stretches are ruled out at once."""

from collections.abc import Callable, Sequence
from typing import Generic, TypeVar

Place = TypeVar("Place")  # the job as it is at one place of the way; None where it is not one job
Thing = TypeVar("Thing")


class Stretches(Generic[Place, Thing]):
    """The places of a way, looked at from the first on.

    `may_do` tells of the two ends of a stretch whether a thing could do at one place between them: it may
    say so of too many places, never of too few. `does` tells it of one place, by the things that are left.
    """

    def __init__(
        self,
        things: Sequence[Thing],
        length: int,
        *,
        place: Callable[[int], Place | None],
        may_do: Callable[[Place, Place, Thing], bool] | None,
        does: Callable[[int, Sequence[Thing]], bool],
    ) -> None:
        self._length, self._place, self._may_do, self._does = length, place, may_do, does
        self._left = things if may_do is None or not length else self._may(0, length - 1, things)

    def first(self, start: int) -> int | None:
        """The first place from `start` on where something does; None where nothing does.

        Example:
            >>> squares = Stretches(
            ...     [64, 90], 99, place=lambda at: at, may_do=lambda low, high, it: low**2 <= it <= high**2,
            ...     does=lambda at, things: at**2 in things)
            >>> squares.first(0), squares.first(9)
            (8, None)
        """
        if self._left is None or start >= self._length:
            return None
        if self._may_do is None:
            left = self._left
            return next((at for at in range(start, self._length) if self._does(at, left)), None)
        if self._within(start, start, self._left) is not None:
            return start  # where one did a few places ago, one mostly does still
        return self._within(start + 1, self._length - 1, self._left) if start + 1 < self._length else None

    def _within(self, low: int, high: int, things: Sequence[Thing]) -> int | None:
        left = self._may(low, high, things)
        if left is None:
            return None
        if low == high:
            return low if self._does(low, left) else None
        middle = (low + high) // 2
        found = self._within(low, middle, left)
        return self._within(middle + 1, high, left) if found is None else found

    def _may(self, low: int, high: int, things: Sequence[Thing]) -> Sequence[Thing] | None:
        """The things that may do on this stretch; None where all are ruled out."""
        ends = self._place(low), self._place(high)
        if self._may_do is None or ends[0] is None or ends[1] is None:
            return things
        left = [thing for thing in things if self._may_do(ends[0], ends[1], thing)]
        return left or None
