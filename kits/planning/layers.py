"""Depths of drainage, soil and litter: what was asked for is kept, what was left out is worked out."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kits.physics.geometry import layer_l
from kits.terms.build import Box, Layer, Occupant
from kits.terms.facts import Subject
from kits.terms.plan import Caution
from kits.terms.rounding import rounded

ABOUT = "depths_mm"
AIR_SHARE = 0.25  # of the height that stays air above omitted depths; common practice, no source
LEAST_SHARE = 0.25  # of an omitted depth that the sill may leave
FULLEST = 0.95  # of the height that omitted depths fill at most, whatever else was asked for
THINNEST_MM = 1.0  # below that there is no layer
KEYS = ("drainage", "substrate_front", "substrate_back", "litter")


@dataclass(frozen=True, slots=True)
class Depths:
    """Depths of all layers in millimetres, and which of them the customer asked for."""

    mm: Mapping[str, float]
    explicit: frozenset[str]

    def end_mm(self, end: str, *, explicit: bool | None = None) -> float:
        """Height of the ground at front or back, of all layers or of those (not) asked for."""
        keys = ("drainage", f"substrate_{end}", "litter")
        return sum(self.mm[k] for k in keys if explicit is None or (k in self.explicit) is explicit)


def lay(
    asked: Mapping[str, float], box: Box, style: Subject, occupants: Sequence[Occupant]
) -> tuple[dict[str, Layer], tuple[Caution, ...]]:
    """The layers of the box and what has to be said about their depths."""
    wanted = Depths({**_usual(box, style, occupants), **asked}, frozenset(asked))
    wanted = _sloped(wanted)
    share = _share_kept(wanted, box)
    mm = {key: depth if key in asked else _whole(depth * share) for key, depth in wanted.mm.items()}
    laid = _sloped(Depths(mm, wanted.explicit))
    cautions = (*_cut_caution(wanted, laid, box), *_sill_caution(laid, box), *_air_caution(laid, box))
    return _layers(laid, box), (*cautions, *_dig_cautions(laid, occupants))


def _whole(depth_mm: float) -> float:
    """A depth that nobody asked for, as it can be poured: whole millimetres, and never more than fits."""
    return float(math.floor(depth_mm + 1e-9))


def _usual(box: Box, style: Subject, occupants: Sequence[Occupant]) -> dict[str, float]:
    """What style and animals want, within the style's shares of the height."""
    front, back = style.number("substrate_front_mm") or 0.0, style.number("substrate_back_mm") or 0.0
    lows = [low for o in occupants if (low := o.subject.number("substrate_depth_lo_mm")) is not None]
    highs = [high for o in occupants if (high := o.subject.number("substrate_depth_hi_mm")) is not None]
    if lows:
        front, back = max(lows), max(lows + highs)
    return {
        "drainage": _capped(style, "drainage", style.number("drainage_mm") or 0.0, box),
        "substrate_front": _capped(style, "substrate", front, box),
        "substrate_back": _capped(style, "substrate", max(front, back), box),
        "litter": _capped(style, "litter", style.number("litter_mm") or 0.0, box),
    }


def _capped(style: Subject, layer: str, depth_mm: float, box: Box) -> float:
    share = style.number(f"{layer}_cap_share")
    return depth_mm if share is None else min(depth_mm, share * box.height_mm)


def _sloped(depths: Depths) -> Depths:
    """Where only one end of the soil was asked for, the other one follows: the front is never higher."""
    mm = dict(depths.mm)
    if "substrate_back" not in depths.explicit:
        mm["substrate_back"] = max(mm["substrate_back"], mm["substrate_front"])
    elif "substrate_front" not in depths.explicit:
        mm["substrate_front"] = min(mm["substrate_front"], mm["substrate_back"])
    return Depths(mm, depths.explicit)


def _share_kept(wanted: Depths, box: Box) -> float:
    """The share of the omitted depths that sill and air leave."""
    limits = (
        ("front", min(box.sill_mm, (1 - AIR_SHARE) * box.height_mm)),
        ("back", (1 - AIR_SHARE) * box.height_mm),
    )
    shares = [_fitting(wanted, end, limit) for end, limit in limits]
    fullest = min(_fitting(wanted, end, FULLEST * box.height_mm) for end in ("front", "back"))
    return min(max(min(1.0, *shares), LEAST_SHARE), fullest)


def _fitting(wanted: Depths, end: str, limit_mm: float) -> float:
    omitted = wanted.end_mm(end, explicit=False)
    left = max(0.0, limit_mm - wanted.end_mm(end, explicit=True))
    return 1.0 if omitted <= left else left / omitted


def _layers(laid: Depths, box: Box) -> dict[str, Layer]:
    ends = {
        "drainage": (laid.mm["drainage"],) * 2,
        "substrate": (laid.mm["substrate_front"], laid.mm["substrate_back"]),
        "litter": (laid.mm["litter"],) * 2,
    }
    return {
        name: Layer(name, front, back, _litres(box, front, back), _explicit(laid, name))
        for name, (front, back) in ends.items()
        if max(front, back) >= THINNEST_MM
    }


def _litres(box: Box, front_mm: float, back_mm: float) -> float:
    return layer_l(box.width_mm / 1000, box.depth_mm / 1000, front_mm / 1000, back_mm / 1000)


def _explicit(laid: Depths, name: str) -> bool:
    return any(key.startswith(name) for key in laid.explicit)


def _cut_caution(wanted: Depths, laid: Depths, box: Box) -> tuple[Caution, ...]:
    before, after = wanted.end_mm("front"), laid.end_mm("front")
    if after >= before - 0.5:
        return ()
    text = (
        f"Depths that were not given are cut back from {rounded(before)} to {rounded(after)} mm at the front "
        f"(sill {box.sill_mm:g} mm, inside height {box.height_mm:g} mm)."
    )
    return (Caution("note", ABOUT, text),)


def _sill_caution(laid: Depths, box: Box) -> tuple[Caution, ...]:
    front = laid.end_mm("front")
    if front <= box.sill_mm + 0.5:
        return ()
    text = (
        f"The ground stands {rounded(front)} mm high at the front, above the sill of "
        f"{box.sill_mm:g} mm: it falls out."
    )
    return (Caution("warning", ABOUT, text),)


def _air_caution(laid: Depths, box: Box) -> tuple[Caution, ...]:
    highest = max(laid.end_mm("front"), laid.end_mm("back"))
    air = box.height_mm - highest
    if air >= AIR_SHARE * box.height_mm - 0.5:
        return ()
    text = (
        f"Only {rounded(air)} of {box.height_mm:g} mm stay air above ground that is "
        f"{rounded(highest)} mm high."
    )
    return (Caution("warning", ABOUT, text),)


def _dig_cautions(laid: Depths, occupants: Sequence[Occupant]) -> tuple[Caution, ...]:
    deepest = max(laid.mm["substrate_front"], laid.mm["substrate_back"])
    found = []
    for subject in {o.subject.code: o.subject for o in occupants}.values():
        low = subject.number("substrate_depth_lo_mm")
        if low is not None and deepest < low - 0.5:
            name = subject.english_name or subject.name
            text = (
                f"The soil is {rounded(deepest)} mm deep at most, less than the {low:g} mm that {name} wants."
            )
            found.append(Caution("warning", ABOUT, f"{text} ({subject.credit('substrate_depth_lo_mm')})"))
    return tuple(found)
