"""What a UVB lamp still gives when it is replaced: its output fades long before its light does."""

import functools
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from kits.physics import uv_readings
from kits.terms.needs import Figures
from kits.terms.reading import number, positive
from kits.terms.rounding import rounded

USUAL_LIFE_DAYS = 270
DAYS_A_MONTH = 365 / 12
USUAL_LOSS = (0.10, 0.30)  # of a good tube in a year; from memory


@dataclass(frozen=True, slots=True)
class Kept:
    """The share of its output that a lamp keeps until it is replaced."""

    least: float
    most: float
    days: int
    estimated: bool  # by what tubes usually lose, instead of a figure of this lamp

    @property
    def share(self) -> float:
        """The middle of the band."""
        return (self.least + self.most) / 2


def kept(figures: Figures) -> Kept:
    """What is left at the lamp's replacement, by its own loss a year, else by that of tubes in general."""
    return _kept(life_days(figures), number(figures, "loss_a_year"))


@functools.lru_cache(maxsize=64)
def _kept(days: int, own: float | None) -> Kept:
    """Many lamps of a shelf have one life and one loss."""
    least, most = uv_readings.aged_share(days / DAYS_A_MONTH, _losses(own))
    return Kept(least, most, days, estimated=own is None)


def _losses(own: float | None) -> tuple[float, float]:
    return USUAL_LOSS if own is None else (own, own)


def kept_inputs(figures: Figures) -> tuple[Callable[..., list[float]], Mapping[str, object]]:
    """The calculation of what is left and its arguments."""
    loss = list(_losses(number(figures, "loss_a_year")))
    return uv_readings.aged_share, {"months": life_days(figures) / DAYS_A_MONTH, "loss_per_year": loss}


def life_days(figures: Figures) -> int:
    """Days after which the lamp is replaced."""
    return max(1, int(positive(figures, "life_days") or USUAL_LIFE_DAYS))


def how(found: Kept) -> str:
    """How long the lamp is worn when it is replaced and by which loss, in words."""
    after = f"worn by {rounded(found.days / DAYS_A_MONTH)} months"
    if found.estimated:
        low, high = USUAL_LOSS
        return f"{after} at {low:.0%} to {high:.0%} a year, from memory"
    return f"{after} at its own loss a year"
