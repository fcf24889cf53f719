"""How well a substitute does the job beside what it stands in for, and in which figures they differ."""

from collections.abc import Iterator, Mapping, Sequence

from kits.terms.needs import Figures, Fit
from kits.terms.plan import money

# What a figure of a fit says of an item; figures of other names are told by their name.
WORDS: Mapping[str, str] = {
    "uvi_at_basking": "reaches {} at the back",
    "uvi_maximum_reachable": "reaches {} at the highest reach",
    "uvi_at_replacement": "reaches {} at the back at its replacement",
    "reflector_pct": "throws down {} % of what the fixture of the lamp's reading does",
    "ppfd_floor": "brings {} umol/m2/s to the ground",
    "basking_surface_full_c": "makes the surface {} C at full power",
    "heat_w": "brings {} W of heat",
    "misting_min_day": "runs {} minutes a day",
    "container_capacity_pct": "holds {} % water",
    "air_space_pct": "holds {} % air",
}
FOLLOWING = frozenset(  # these follow from another one that is told
    ("dli_floor", "irradiance_w_m2", "basking_surface_c", "dimmed_to_pct", "uvi_uncertainty_pct")
)
MOST_TOLD = 2
Pair = tuple[Fit, Fit]  # what stands in, what it stands in for


def verdict(pairs: Sequence[Pair], difference_cents: int) -> str:
    """One half-sentence: how the job is then done, at which price, and the figures that differ.

    Example:
        >>> other, now = Fit(rank=1, figures={"uvi_at_basking": 0.9}), Fit(figures={"uvi_at_basking": 0.7})
        >>> verdict([(other, now)], 150)
        'does the job less well at 1.50 more: reaches 0.9 at the back instead of 0.7'
        >>> verdict([(now, now)], 0)
        'same job at the same price'
    """
    differ = [told for other, now in pairs for told in _differences(other.figures, now.figures)]
    head = f"{_how_well(pairs, alike=not differ)} {_price(difference_cents)}"
    return f"{head}: {', '.join(differ[:MOST_TOLD])}" if differ else head


def _how_well(pairs: Sequence[Pair], *, alike: bool) -> str:
    if any(other.rank > now.rank for other, now in pairs):
        return "does the job less well"
    if any(other.rank < now.rank for other, now in pairs):
        return "does the job better"
    return "same job" if alike else "does the job as well"


def _price(difference_cents: int) -> str:
    if not difference_cents:
        return "at the same price"
    return f"at {money(abs(difference_cents))} {'more' if difference_cents > 0 else 'less'}"


def _differences(other: Figures, now: Figures) -> Iterator[str]:
    """The figures that differ, side by side; what is known of one of the two only is told as well."""
    for name in dict.fromkeys((*now, *other)):
        mine, theirs = other.get(name), now.get(name)
        if name in FOLLOWING or mine == theirs or not (_is_number(mine) or _is_number(theirs)):
            continue
        words = WORDS.get(name, f"{name.replace('_', ' ')} {{}}")
        yield f"{words.format(_shown(mine))} instead of {_shown(theirs)}"


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _shown(value: object) -> str:
    return f"{value:g}" if isinstance(value, int | float) else "an unknown value"
