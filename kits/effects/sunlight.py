"""What a UVB lamp gives the animals of one build: the UV index at the back and wherever they reach."""

import functools
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from kits.effects.places import Spot
from kits.physics import ultraviolet, uv_lamps, uv_readings
from kits.terms.build import Build
from kits.terms.needs import Figures
from kits.terms.reading import positive, text

END_MM = 80.0  # of a tube's length that does not shine; from memory (IEC 60081 sheets)
TUBES = frozenset({"t5", "t8"})
# Class of a tube by its technology and percent of UVB; what it gives stands with the readings.
CLASSES: Mapping[tuple[str, int], uv_readings.LampClass] = {
    ("t5", 2): "t5_2_to_5_pct",
    ("t5", 5): "t5_2_to_5_pct",
    ("t5", 6): "t5_6_pct",
    ("t5", 12): "t5_12_pct",
}
UNSURE = 0.5  # how far a class may lie off
METERED = 0.1  # how far a meter may lie off
LEAST_INDEX = 0.1  # below this a lamp gives practically nothing; common practice, no source


@dataclass(frozen=True, slots=True)
class Reading:
    """One UV index reading of a lamp: where it was taken and how far it may be off."""

    index: float
    distance_m: float
    lit_m: float | None  # lit length of a tube, None for what shines from a point
    unsure: float  # share by which the reading may lie off

    @property
    def estimated(self) -> bool:
        """Whether it is a figure of the lamp's class instead of a reading of the lamp."""
        return self.unsure == UNSURE


@dataclass(frozen=True, slots=True)
class Reached:
    """UV index at the animal's back and at the highest place it reaches, of a new lamp and of a worn one."""

    back: float
    highest: float
    unsure: float
    worn: float  # at the back, when the lamp is replaced


@dataclass(frozen=True, slots=True)
class Wanted:
    """The bands of UV index that the animals' zones ask for."""

    average: tuple[float, float]
    maximum: tuple[float, float]
    sunbeam: bool  # a bright basking place, instead of a low background over a large part

    @property
    def least(self) -> float:
        """The least at the back that does the job."""
        return max(self.average[0], LEAST_INDEX)

    @property
    def most(self) -> float:
        """The most anywhere that is reached."""
        return self.maximum[1]


def wanted(build: Build) -> Wanted:
    """The bands from the lower zone's lower end to the higher zone's upper end."""
    low, high = zones(build)
    lower, upper = ultraviolet.zone_band(low), ultraviolet.zone_band(high)
    return Wanted(
        average=(lower["average"][0], upper["average"][1]),
        maximum=(lower["maximum"][0], upper["maximum"][1]),
        sunbeam=high >= 3,
    )


def zones(build: Build) -> tuple[int, int]:
    """The UV zones of the animals, the lower and the higher one."""
    low = build.climate.uv_zone_lo or build.climate.uv_zone_hi or 1
    return int(low), int(build.climate.uv_zone_hi or low)


def reading(figures: Figures) -> Reading | None:
    """The lamp's own reading, else that of its class; None where neither is known."""
    lit = lit_length_m(figures)
    index, distance = positive(figures, "uvi_ref"), positive(figures, "uvi_ref_mm")
    if index is not None and distance is not None:
        return Reading(index, distance / 1000, lit, METERED)
    kind = CLASSES.get((text(figures, "technology"), int(positive(figures, "uvb_pct") or 0)))
    if kind is None:
        return None
    guess = uv_readings.placeholder_uv_index(kind)
    return Reading((guess["low"] + guess["high"]) / 2, guess["distance_m"], lit, UNSURE)


def reflector_share(figures: Figures) -> float:
    """What a fixture throws down of what the reading's fixture did; all of it where nothing is recorded."""
    return positive(figures, "reflector_share") or 1.0


def lit_length_m(figures: Figures) -> float | None:
    """The length of a tube that shines; None for a lamp that is no tube."""
    length = positive(figures, "length_mm")
    if text(figures, "technology") not in TUBES or length is None:
        return None
    return max(length - END_MM, length / 2) / 1000


def reached(spot: Spot, read: Reading, *, reflector: float = 1.0, kept: float = 1.0) -> Reached:
    """What the lamp gives straight below it; `kept` is what its replacement finds of its output."""
    share = spot.open_fraction * reflector
    back = index_at(read, spot.distance_m, share)
    return Reached(
        back=back,
        highest=index_at(read, spot.nearest_m, share),
        unsure=read.unsure,
        worn=back * kept,
    )


@functools.lru_cache(maxsize=2048)
def index_at(read: Reading, distance_m: float, share: float) -> float:
    """UV index straight below the lamp's middle, scaled from the one reading; asked for often, and kept."""
    function, inputs = index_inputs(read, distance_m, share)
    return function(**inputs)


def index_inputs(
    read: Reading, distance_m: float, share: float
) -> tuple[Callable[..., float], dict[str, float]]:
    """The calculation of the UV index below this lamp, a line or a point, and its arguments."""
    inputs = {
        "reference_uv_index": read.index,
        "reference_distance_m": read.distance_m,
        "transmission": share,
    }
    if read.lit_m is None:
        return uv_lamps.point_uv_index, {**inputs, "distance_m": distance_m}
    return uv_lamps.tube_uv_index, {**inputs, "lit_length_m": read.lit_m, "height_m": distance_m}


def reflector_range(found: Reached, asked: Wanted) -> tuple[float, float]:
    """Between which shares of the reading's reflector the lamp does the job from its first day to its last.

    The least that is asked for is held against the worn lamp, the most against the new one.
    """
    return asked.least / found.worn, asked.most / found.highest


def height_of_index_mm(spot: Spot, read: Reading, index: float) -> float:
    """How high above the floor, straight below the lamp, the UV index is just this."""
    distance = uv_lamps.closest_distance_m(**closest_inputs(read, index, spot.open_fraction))
    return spot.lamp_mm - 1000 * distance


def upper(read: Reading) -> Reading:
    """The reading at the upper end of what it may be off."""
    return replace(read, index=read.index * (1 + read.unsure))


def closest_inputs(read: Reading, index: float, share: float) -> dict[str, float]:
    """The arguments of the distance at which the UV index is just this."""
    return {
        "reference_uv_index": read.index,
        "reference_distance_m": read.distance_m,
        "lit_length_m": read.lit_m or 0.0,
        "limit_uv_index": index,
        "transmission": share,
    }
