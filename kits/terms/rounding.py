"""How a figure is rounded for reading: one rule for sentences, screens, paper and terminal."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from types import MappingProxyType

MOST_DIGITS = 3  # of an estimate; more would be believed
KEPT = 4  # decimals that a plan keeps of its figures: words round the same number


@dataclass(frozen=True, slots=True)
class Digits:
    """How a figure is told: with so many decimals at most, and so many digits that count."""

    decimals: int = 0
    most: int = MOST_DIGITS
    towards: str = ROUND_HALF_UP  # up or down where only one side is safe


MOST_WHOLE = 1e9  # above it a half and what is kept beside it are no longer apart in a float
ALL = 15  # digits: of what is counted or paid, not estimated
SMALLEST = 4  # decimals of whatever has no rule of its own
UV = Digits(SMALLEST, 2)
PLAIN = Digits(SMALLEST)
NOISE = 1e-6  # of the last digit told: what a sum of floats may be short of a whole number
# By figure of a plan; every other one is told with three digits that count.
DIGITS: Mapping[str, Digits] = MappingProxyType(
    {
        **dict.fromkeys(("container_capacity_pct", "air_space_pct"), Digits()),
        **dict.fromkeys(("keeper_limit_min",), Digits(towards=ROUND_FLOOR)),
        **dict.fromkeys(("uvi_closest_safe_m",), Digits(2, towards=ROUND_CEILING)),
        **dict.fromkeys(("uvi_at_basking", "uvi_maximum_reachable", "uvi_at_replacement"), UV),
        **dict.fromkeys(("heat_needed_w", "basking_surface_c", "vapour_pressure_deficit_pa"), Digits()),
        **dict.fromkeys(("air_changes_h",), Digits(1)),
        **dict.fromkeys(("day_length_shortest_h", "day_length_longest_h"), Digits(2, ALL)),
        **dict.fromkeys(("power_w",), Digits(0, ALL)),
        **dict.fromkeys(("day_air_c", "room_most_c", "heat_loss_w_k", "siphon_days"), Digits(1)),
        **dict.fromkeys(("dli_floor", "dli_middle", "dli_top"), Digits(1)),
        **dict.fromkeys(("dli_floor_longest", "dli_middle_longest", "dli_top_longest"), Digits(1)),
        **dict.fromkeys(("reservoir_l", "first_watering_l"), Digits(1)),
        **dict.fromkeys(("drainage_l", "substrate_l", "litter_l"), Digits(1)),
        **dict.fromkeys(("drainage_to_buy_l", "substrate_to_buy_l", "litter_to_buy_l"), Digits(1)),
        **dict.fromkeys(("misting_l_day",), Digits(2)),
        **dict.fromkeys(("running_cost_month",), Digits(2, ALL)),
        **dict.fromkeys(("footprint_m2",), Digits(3)),
        **dict.fromkeys(("installed_kg", "shipping_kg", "floor_load_kg_m2"), Digits()),
    }
)


def rounded(value: float, decimals: int = 0) -> str:
    """A number for a sentence, halves away from zero as people round them.

    >>> rounded(32.5), rounded(-2.5), rounded(0.25, 1), rounded(-0.2)
    ('33', '-3', '0.3', '0')
    """
    return _rounded(value, Digits(decimals, ALL)) if decimals else _whole(value)


def _whole(value: float) -> str:
    """To a whole number, which most figures of a sentence are: what is kept of them lies well off a half."""
    kept = round(float(value), KEPT)
    if abs(kept) > MOST_WHOLE:
        return _rounded(value, Digits(0, ALL))
    near = int(abs(kept) + 0.5)
    return f"-{near}" if near and kept < 0 else str(near)


def uv_index(value: float) -> str:
    """A UV index with two digits that count.

    >>> uv_index(0.3601), uv_index(2.65), uv_index(12.3)
    ('0.36', '2.7', '12')
    """
    return _rounded(value, UV)


def figure(name: str, value: float) -> str:
    """A figure of a plan by its name.

    >>> figure("basking_surface_c", 32.5), figure("uvi_closest_safe_m", 0.1139), figure("unheard_of", 1234.5)
    ('33', '0.12', '1230')
    """
    return _rounded(value, DIGITS.get(name, PLAIN))


def _rounded(value: float, digits: Digits) -> str:
    exact = Decimal(repr(round(float(value), KEPT)))
    decimals = min(digits.decimals, digits.most - 1 - exact.adjusted()) if exact else digits.decimals
    near = exact.quantize(Decimal(1).scaleb(-decimals), digits.towards)
    text = f"{near if near else abs(near):f}"  # never -0
    few = digits.decimals == SMALLEST and "." in text
    return text.rstrip("0").rstrip(".") if few else text


def percents(shares: Sequence[float]) -> tuple[str, ...]:
    """Shares of one whole in per cent that add up as they are told, none that is there as nothing.

    Whole per cent, with decimals where a share is smaller than that; what rounding down leaves over goes to
    the largest remainders.

    >>> percents([1 / 3, 1 / 3, 1 / 3]), percents([0.005, 0.995])
    (('34', '33', '33'), ('0.5', '99.5'))
    """
    smallest = min((share for share in shares if share > 0), default=1.0)
    decimals = next((n for n in range(SMALLEST) if smallest * 10 ** (n + 2) >= 1), SMALLEST)
    units = [share * 10 ** (decimals + 2) for share in shares]
    told = [int(unit + NOISE) for unit in units]
    left = round(sum(units)) - sum(told)
    for place in sorted(range(len(units)), key=lambda n: told[n] - units[n])[: max(left, 0)]:
        told[place] += 1
    return tuple(f"{unit / 10**decimals:.{decimals}f}" for unit in told)
