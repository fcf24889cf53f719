"""Published minimum sizes: the named rule, the animal's adult length and the number of animals give a box."""

import math
from dataclasses import dataclass, replace

from inventory.calc.errors import Impossible
from kits.planning.minimum_rules import (
    NO_FURTHER,
    RULES,
    Animals,
    Area,
    AreaBands,
    Further,
    LandAndBasin,
    Multiples,
)
from kits.terms.build import Box
from kits.terms.facts import Subject
from kits.terms.rounding import rounded

Sides = tuple[float, float, float | None]


@dataclass(frozen=True, slots=True)
class MinimumSize:
    """A legal or published minimum, exact as the rule gives it; never a recommendation."""

    rule: str
    source: str
    mark: str
    count: int
    covers: int  # animals that the rule's own words speak of
    floor_m2: float
    exact_mm: Sides  # None where the rule gives no height
    by_area: bool = False  # the rule fixes only the area of the floor; the sides are one way to reach it
    shortest_side_mm: float = 0.0
    land_m2: float | None = None
    basin_m2: float | None = None
    basin_depth_mm: float | None = None
    limits: tuple[str, ...] = ()  # where the rule's own range or number of animals ends

    @property
    def width_mm(self) -> int:
        """The longer side of the floor, rounded up to 10 mm."""
        return _up_to_10(max(self.exact_mm[0], self.shortest_side_mm))

    @property
    def depth_mm(self) -> int:
        """The other side; for a rule about area alone what the rounded width leaves to be reached."""
        reached_mm = self.floor_m2 * 1e6 / self.width_mm if self.by_area else self.exact_mm[1]
        return _up_to_10(max(reached_mm, self.shortest_side_mm))

    @property
    def height_mm(self) -> int | None:
        """The height, rounded up to 10 mm; None where the rule gives none."""
        return None if self.exact_mm[2] is None else _up_to_10(self.exact_mm[2])

    @property
    def phrase(self) -> str:
        """The minimum as words for a working or a caution."""
        height = "" if self.height_mm is None else f" x {self.height_mm}"
        return (
            f"published minimum {self.width_mm} x {self.depth_mm}{height} mm "
            f"({rounded(self.floor_m2, 3)} m2) for {self.count} by {self.rule} [{self.mark}]"
        )


@dataclass(frozen=True, slots=True)
class Shortfall:
    """One measure in which a box is below a published minimum."""

    measure: str  # floor, width, depth or height
    needed: float
    found: float
    unit: str
    rule: str

    @property
    def phrase(self) -> str:
        """What is there of what is asked for, and how much less that is."""
        missing_pct = 100 * (1 - self.found / self.needed)
        found, needed = (f"{round(size, 4):g}" for size in (self.found, self.needed))
        return f"{self.measure} {found} of {needed} {self.unit} ({rounded(missing_pct, 1)} % less)"


def minimum_size(subject: Subject, count: int = 1, *, length_mm: float | None = None) -> MinimumSize | None:
    """The published minimum inside of an enclosure for animals of one species.

    Formula:
        the multiples of body length, or the floor by length, of the rule named by the subject's
        `rule_id`; further animals add shares of the base floor (w and d grow alike), of the volume
        (all sides grow alike) or fixed square metres; area alone: w = sqrt(2 A), d = A / w.
    Args:
        subject: animal whose figures name the rule, its typical adult length and its fixed sizes.
        count: number of animals of this species, at least 1.
        length_mm: this animal's own ADULT length in the rule's basis [mm]; None = typical adult.
    Returns:
        MinimumSize, or None where no rule is known; sides rounded up to 10 mm as properties.
    Raises:
        Impossible for a count below 1 or a length that is not positive and finite.
    Valid:
        inside the bands and numbers of animals of each rule; beyond them `limits` says so.
    Source:
        care-fact tables: rules of RSPCA, the German report of 1997 and ministry guides, the Austrian
        ordinance II 486/2004, the Swiss ordinance, veterinary multiples; each rule names its own.
    Example:
        >>> from kits.terms.facts import Figure
        >>> python = Subject("animal", "python-regius", "Python regius", "ball python", {
        ...     "rule_id": Figure("RSPCA-python", "A", ""),
        ...     "rule_len_mm": Figure(1200, "A", "", "mm")})
        >>> size = minimum_size(python)
        >>> (size.width_mm, size.depth_mm, size.height_mm)
        (1200, 400, 400)
    """
    if count < 1:
        raise Impossible("count", "must be at least 1")
    rule = RULES.get(subject.text("rule_id"))
    if rule is None:
        return _fixed(subject, count)
    length = length_mm if length_mm is not None else subject.number("rule_len_mm")
    return by_rule(
        subject.text("rule_id"), count=count, length_mm=length, height_mm=subject.number("min_h_mm")
    )


def by_rule(
    code: str, *, count: int = 1, length_mm: float | None = None, height_mm: float | None = None
) -> MinimumSize | None:
    """The minimum of one named rule.

    Formula:
        see `minimum_size`.
    Args:
        code: name of the rule.
        count: number of animals, at least 1.
        length_mm: adult length in the rule's basis [mm]; None where it is not known.
        height_mm: height that stands in where the rule gives none [mm].
    Returns:
        MinimumSize, or None where the rule needs a length and none is known.
    Raises:
        Impossible for a length that is not positive and finite, or an unknown rule.
    Valid:
        see `minimum_size`.
    Source:
        the rule's own.
    Example:
        >>> by_rule("DE97-chameleon", count=2, length_mm=220).floor_m2
        0.5808
    """
    rule = RULES.get(code)
    if rule is None:
        raise Impossible("code", "is not the name of a rule")
    if length_mm is not None and not (math.isfinite(length_mm) and length_mm > 0):
        raise Impossible("length_mm", "must be positive and finite")
    if isinstance(rule, Area):
        side_mm = rule.shortest_side_lengths * (length_mm or 0.0)
        return replace(_area(code, rule, count, height_mm), shortest_side_mm=side_mm)
    if length_mm is None:
        return None
    if isinstance(rule, Multiples):
        return _multiples(code, rule, count, length_mm)
    if isinstance(rule, AreaBands):
        return _banded(code, rule, count, (length_mm, height_mm))
    return _land_and_basin(code, rule, count, length_mm)


def roomy_size(subject: Subject) -> MinimumSize | None:
    """The largest official figure seen for the species, offered as "roomy".

    Formula:
        area alone: w = sqrt(2 A), d = A / w.
    Args:
        subject: animal with `strict_floor_m2` and perhaps `strict_h_mm`.
    Returns:
        MinimumSize for one animal, or None where no such figure was seen.
    Raises:
        nothing.
    Valid:
        as the source beside the figure says.
    Source:
        the figure's own.
    Example:
        >>> roomy_size(Subject("animal", "a-b", "A b")) is None
        True
    """
    floor, height = subject.number("strict_floor_m2"), subject.number("strict_h_mm")
    if floor is None:
        return None
    figure = subject.figures["strict_floor_m2"]
    return MinimumSize(
        rule="roomy",
        source=figure.source,
        mark=figure.mark,
        count=1,
        covers=1,
        floor_m2=floor,
        exact_mm=_sides(floor, height),
        by_area=True,
    )


def shortfalls(minimum: MinimumSize, box: Box) -> tuple[Shortfall, ...]:
    """In what the inside of a box is below a published minimum; empty when it is not.

    Formula:
        floor >= A; for rules with sides the longer and the shorter side too, however turned.
    Args:
        minimum: what the rule asks for, before rounding.
        box: the inside of the enclosure [mm].
    Returns:
        one Shortfall a measure: floor [m2], width, depth and height [mm].
    Raises:
        nothing.
    Valid:
        rectangular boxes; the height is that of the whole inside, soil included.
    Source:
        the rule's own.
    Example:
        >>> size = by_rule("RSPCA-python", length_mm=1200)
        >>> shortfalls(size, Box(400, 1200, 390, 0, "pvc", 12, "solid", 0))[0].measure
        'height'
    """
    long_mm, short_mm = sorted((box.width_mm, box.depth_mm), reverse=True)
    sides = (0.0, minimum.shortest_side_mm) if minimum.by_area else sorted(minimum.exact_mm[:2], reverse=True)
    measured = (
        ("floor", minimum.floor_m2, box.footprint_m2, "m2"),
        ("width", sides[0], long_mm, "mm"),
        ("depth", sides[1], short_mm, "mm"),
        ("height", minimum.exact_mm[2] or 0.0, box.height_mm, "mm"),
    )
    return tuple(
        Shortfall(measure, needed, found, unit, minimum.rule)
        for measure, needed, found, unit in measured
        if found < needed - 1e-9
    )


def _up_to_10(length_mm: float) -> int:
    """Round up to 10 mm; the inner rounding keeps 400.00000001 at 400."""
    return math.ceil(round(length_mm / 10, 6)) * 10


def _sides(floor_m2: float, height_mm: float | None) -> Sides:
    width_mm = math.sqrt(2 * floor_m2) * 1000
    return width_mm, floor_m2 * 1e6 / width_mm, height_mm


def _share(further: Further, animals: Animals) -> tuple[float, tuple[str, ...]]:
    """What the animals beyond those covered add up to, and where the rule stops speaking of them."""
    added = list(further.each[: animals.beyond])
    missing = animals.beyond - len(added)
    if missing and further.goes_on:
        added += [further.each[-1]] * missing
    limits = (f"The rule says nothing about more than {animals.count - missing} animals.",)
    return sum(added), limits if missing and not further.goes_on else ()


def _multiples(code: str, rule: Multiples, count: int, length_mm: float) -> MinimumSize:
    share, limits = _share(rule.further, Animals(count, rule.covers))
    flat = (1 + share) ** (1 / 3) if rule.further_volume else math.sqrt(1 + share)
    width, depth = rule.width * length_mm, rule.depth * length_mm
    height = None if rule.height is None else rule.height * length_mm * (flat if rule.further_volume else 1)
    if height is not None and rule.height_cap_mm:
        height = min(height, rule.height_cap_mm)
    return MinimumSize(
        rule=code,
        source=rule.source,
        mark=rule.mark,
        count=count,
        covers=rule.covers,
        floor_m2=round(width * depth * flat**2 / 1e6, 9),
        exact_mm=(width * flat, depth * flat, height),
        limits=limits,
    )


def _area(code: str, rule: Area, count: int, stand_in_height_mm: float | None) -> MinimumSize:
    extra, limits = _share(rule.further, Animals(count, rule.covers))
    floor = round(rule.floor_m2 + (extra * rule.floor_m2 if rule.further_share else extra), 9)
    return MinimumSize(
        rule=code,
        source=rule.source,
        mark=rule.mark,
        count=count,
        covers=rule.covers,
        floor_m2=floor,
        exact_mm=_sides(floor, rule.height_mm if rule.height_mm is not None else stand_in_height_mm),
        by_area=True,
        limits=limits,
    )


def _banded(
    code: str, rule: AreaBands, count: int, length_and_height_mm: tuple[float, float | None]
) -> MinimumSize:
    length_mm, height_mm = length_and_height_mm
    for limit_mm, area in rule.bands:
        if length_mm <= limit_mm:
            return _area(code, area, count, height_mm)
    return _beyond_bands(_area(code, rule.bands[-1][1], count, height_mm), rule.bands[-1][0])


def _beyond_bands(size: MinimumSize, last_mm: float) -> MinimumSize:
    return replace(size, limits=(*size.limits, f"The rule ends at a length of {last_mm:g} mm."))


def _land_and_basin(code: str, rule: LandAndBasin, count: int, length_mm: float) -> MinimumSize:
    beyond = Animals(count, rule.covers).beyond
    square_m2 = length_mm**2 / 1e6
    land = round((rule.land + beyond * rule.land_each) * square_m2, 9)
    basin = round((rule.basin + beyond * rule.basin_each) * square_m2, 9)
    return MinimumSize(
        rule=code,
        source=rule.source,
        mark=rule.mark,
        count=count,
        covers=rule.covers,
        floor_m2=land + basin,
        exact_mm=_sides(land + basin, min(rule.height * length_mm, rule.height_cap_mm)),
        by_area=True,
        land_m2=land,
        basin_m2=basin,
        basin_depth_mm=rule.basin_depth * length_mm,
    )


def _fixed(subject: Subject, count: int) -> MinimumSize | None:
    """A size printed as centimetres; the rule rarely says what further animals add."""
    width, depth = subject.number("min_w_mm"), subject.number("min_d_mm")
    if width is None or depth is None:
        return None
    covers = int(subject.number("rule_covers_n") or 1)
    figure = subject.figures["min_w_mm"]
    return MinimumSize(
        rule=subject.text("rule_id"),
        source=figure.source,
        mark=figure.mark,
        count=count,
        covers=covers,
        floor_m2=width * depth / 1e6,
        exact_mm=(width, depth, subject.number("min_h_mm")),
        limits=_share(NO_FURTHER, Animals(count, covers))[1],
    )
