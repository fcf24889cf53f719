"""Light for plants over a whole box, a section, or along a height, summed over its lamps.

Coordinates in millimetres as in `grids.py`. A spot is a small level patch that looks up, as most leaves do on
average. Light from a lamp at or above the rim comes through the top: `top_share` of it (open fraction of a
mesh, about 0.9 for clean glass, from memory). Leaves shade each other and bright walls reflect; neither is
counted, so beneath a canopy it is darker. These functions take dataclasses and give numpy arrays; the closed
forms of `light` are the calculations that anyone can try.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from inventory.calc.checks import finite, not_negative, positive, within
from kits.physics.grids import Field, Grid, Plane, Section, field_over, section_over
from kits.physics.light import SECONDS_PER_HOUR, UMOL_PER_MOL
from kits.terms.build import Box

if TYPE_CHECKING:
    from kits.physics.grids import Array

MM_PER_M = 1000.0
DEFAULT_GRID = Grid()
# Share of plant light that passes a top of this kind; mesh takes the open fraction of the box.
TOP_SHARES = {"open": 1.0, "glass": 0.9, "solid": 0.0}


@dataclass(frozen=True, slots=True)
class Fixture:
    """A flat lamp that faces down: a point without sides, a bar with a length, a panel with both sides."""

    flux_umol_s: float
    x_mm: float  # of its middle
    y_mm: float
    z_mm: float
    length_mm: float = 0.0  # along x
    width_mm: float = 0.0  # along y

    def __post_init__(self) -> None:
        """Refuse a lamp that cannot be."""
        not_negative(flux_umol_s=self.flux_umol_s, length_mm=self.length_mm, width_mm=self.width_mm)
        finite(x_mm=self.x_mm, y_mm=self.y_mm, z_mm=self.z_mm)
        if self.width_mm > 0:
            positive(length_mm=self.length_mm)


@dataclass(frozen=True, slots=True)
class LightProfile:
    """Light along a height above one spot of the floor, lowest first."""

    z_mm: "Array"
    ppfd: "Array"  # umol/m2/s
    daily: "Array"  # mol/m2/d

    @property
    def floor(self) -> float:
        """Daily light integral at the floor."""
        return float(self.daily[0])

    @property
    def middle(self) -> float:
        """Daily light integral at half the height, which an odd number of spots hits."""
        return float(self.daily[len(self.daily) // 2])

    @property
    def top(self) -> float:
        """Daily light integral at the highest spot."""
        return float(self.daily[-1])


def light_profile(
    fixtures: Sequence[Fixture],
    box: Box,
    hours: float,
    *,
    at_mm: tuple[float, float] | None = None,
    floor_mm: float = 0.0,
    top_mm: float | None = None,
    spots: int = 41,
) -> LightProfile:
    """Light from the ground up to a height, above one spot (the middle of the floor unless told).

    Formula:
        PPFD = sum over the lamps of their closed forms x share of the top; DLI = PPFD x 3600 x hours / 10^6
    Args:
        fixtures: the lamps with flux and place
        box: inside of the enclosure and the kind of its top
        hours: hours of light in a day [h]
        at_mm: place of the spot from the left wall and from the front [mm]
        floor_mm: height of the ground [mm]
        top_mm: height of the highest leaf, the rim of the box unless told [mm]
        spots: number of heights, odd so that the middle is one of them
    Returns:
        heights [mm], flux [umol/m2/s] and daily light [mol/m2/d]
    Raises:
        Impossible: hours outside 0 to 24, a ground that does not lie below the highest leaf
    Valid:
        as the closed forms of `light`
    Source:
        cosine law
    """
    import numpy as np

    within(0, 24, hours=hours)
    top = box.height_mm if top_mm is None else top_mm
    within(0, top, floor_mm=floor_mm)
    z = np.linspace(floor_mm, top, spots)
    x, y = (box.width_mm / 2, box.depth_mm / 2) if at_mm is None else at_mm
    ppfd = ppfd_at(fixtures, box, np.full(1, x), np.full(1, y), z)
    return LightProfile(z, ppfd, ppfd * SECONDS_PER_HOUR * hours / UMOL_PER_MOL)


def light_field(fixtures: Sequence[Fixture], box: Box, grid: Grid = DEFAULT_GRID) -> Field:
    """Photosynthetic photon flux density [umol/m2/s] on a grid that fills the box; see `light_profile`."""
    return field_over(box, lambda x, y, z: ppfd_at(fixtures, box, x, y, z), grid)


def light_section(
    fixtures: Sequence[Fixture],
    box: Box,
    plane: Plane = "depth",
    at_mm: float | None = None,
    grid: Grid = DEFAULT_GRID,
) -> Section:
    """Photosynthetic photon flux density [umol/m2/s] on an upright section; see `light_profile`."""
    return section_over(box, lambda x, y, z: ppfd_at(fixtures, box, x, y, z), plane, at_mm, grid)


def ppfd_at(fixtures: Sequence[Fixture], box: Box, x_mm: "Array", y_mm: "Array", z_mm: "Array") -> "Array":
    """Photosynthetic photon flux density [umol/m2/s] at any spots; see `light_profile`."""
    import numpy as np

    total = np.zeros(np.broadcast_shapes(np.shape(x_mm), np.shape(y_mm), np.shape(z_mm)))
    for lamp in fixtures:
        below = np.asarray(lamp.z_mm - z_mm)
        # Spots at or above a lamp get nothing; a metre stands in for their height until then.
        height = np.where(below > 0, below, MM_PER_M) / MM_PER_M
        along = np.asarray(x_mm - lamp.x_mm) / MM_PER_M
        aside = np.asarray(y_mm - lamp.y_mm) / MM_PER_M
        seen = _per_flux(lamp, height, along, aside)
        total = total + np.where(below > 0, lamp.flux_umol_s * _top_share(lamp, box) * seen, 0.0)
    return total


def _top_share(lamp: Fixture, box: Box) -> float:
    return 1.0 if lamp.z_mm < box.height_mm else TOP_SHARES.get(box.top_kind, box.top_open_fraction)


def _per_flux(lamp: Fixture, height: "Array", along: "Array", aside: "Array") -> "Array":
    """Irradiance per photon flux [1/m2]."""
    import numpy as np

    if lamp.length_mm == 0:
        return np.asarray(height**2 / (np.pi * (height**2 + along**2 + aside**2) ** 2))
    half_m = lamp.length_mm / 2 / MM_PER_M
    if lamp.width_mm == 0:
        distance = np.sqrt(height**2 + aside**2)
        swept = _swept((half_m - along) / distance) + _swept((half_m + along) / distance)
        return np.asarray(height**2 / (4 * np.pi * half_m * distance**3) * swept)
    half_width_m = lamp.width_mm / 2 / MM_PER_M
    left, right = (-half_m - along) / height, (half_m - along) / height
    front, back = (-half_width_m - aside) / height, (half_width_m - aside) / height
    seen = _corner(right, back) - _corner(left, back) - _corner(right, front) + _corner(left, front)
    return np.asarray(seen / (4 * half_m * half_width_m))


def _swept(tangent: "Array") -> "Array":
    import numpy as np

    return np.asarray(np.arctan(tangent) + tangent / (1 + tangent * tangent))


def _corner(x: "Array", y: "Array") -> "Array":
    import numpy as np

    over_x, over_y = np.sqrt(1 + x * x), np.sqrt(1 + y * y)
    both = x / over_x * np.arctan(y / over_x) + y / over_y * np.arctan(x / over_y)
    return np.asarray(both / (2 * np.pi))
