"""One row of the measurements: a figure and the limit measured or fixed in the same run."""

import statistics
import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Row:
    """A figure beside its limit; a ratio of 1 or less is good unless `more_is_better`."""

    name: str
    value: float
    limit: float
    unit: str
    more_is_better: bool = False
    note: str = ""

    @property
    def ratio(self) -> float:
        """The figure as a share of its limit."""
        return self.value / self.limit if self.limit else float("inf")

    @property
    def met(self) -> bool:
        """Whether the bar is met."""
        return self.ratio >= 1 if self.more_is_better else self.ratio <= 1

    def as_json(self) -> dict[str, Any]:
        """The row for programs."""
        return asdict(self) | {"ratio": round(self.ratio, 3), "met": self.met}


def milliseconds(work: Callable[[], object]) -> float:
    """How long one call took."""
    begun = time.perf_counter()
    work()
    return (time.perf_counter() - begun) * 1000


def timed(work: Callable[[Any], object], cases: Iterable[Any]) -> list[float]:
    """Milliseconds of the work on each case."""
    return [milliseconds(lambda case=case: work(case)) for case in cases]  # type: ignore[misc]


def median(values: Sequence[float]) -> float:
    """The middle value."""
    return statistics.median(values)


def p95(values: Sequence[float]) -> float:
    """The value that 95 of 100 stay below."""
    return statistics.quantiles(values, n=20)[-1] if len(values) > 1 else values[0]
