"""UV index over a whole box or a section of it, summed over its lamps.

Coordinates in millimetres as in `grids.py`. A spot is a small level patch that looks up, as the back of an
animal does. Light from a lamp at or above the rim comes through the top of the box: all of it where that is
open, the mesh's share where it is mesh, none through glass or a solid lid. A lamp below the rim hangs inside.
Nothing throws shade and nothing reflects, so shade under leaves is lower and a bright wall higher than drawn.
These functions take dataclasses and give numpy arrays; the closed forms of `uv_lamps` are the calculations
that anyone can try.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from inventory.calc.checks import finite, not_negative, positive
from kits.physics.grids import Field, Grid, Plane, Section, field_over, section_over
from kits.physics.ultraviolet import tube_factor
from kits.terms.build import Box

if TYPE_CHECKING:
    from kits.physics.grids import Array

MM_PER_M = 1000.0
OPAQUE_TOPS = ("glass", "solid")
TUBE_PIECES = 16
DEFAULT_GRID = Grid()


@dataclass(frozen=True, slots=True)
class TubeLamp:
    """A straight tube along x, with one reading taken below its middle, in its fixture and without mesh."""

    reference_uv_index: float
    reference_distance_mm: float
    lit_length_mm: float
    x_mm: float  # of its middle
    y_mm: float
    z_mm: float
    share: float = 1.0  # left of the reading by age

    def __post_init__(self) -> None:
        """Refuse a lamp that cannot be."""
        not_negative(reference_uv_index=self.reference_uv_index, share=self.share)
        positive(reference_distance_mm=self.reference_distance_mm, lit_length_mm=self.lit_length_mm)
        finite(x_mm=self.x_mm, y_mm=self.y_mm, z_mm=self.z_mm)


@dataclass(frozen=True, slots=True)
class PointLamp:
    """A small lamp that shines alike in all directions, with one reading taken right below it."""

    reference_uv_index: float
    reference_distance_mm: float
    x_mm: float
    y_mm: float
    z_mm: float
    share: float = 1.0

    def __post_init__(self) -> None:
        """Refuse a lamp that cannot be."""
        not_negative(reference_uv_index=self.reference_uv_index, share=self.share)
        positive(reference_distance_mm=self.reference_distance_mm)
        finite(x_mm=self.x_mm, y_mm=self.y_mm, z_mm=self.z_mm)


@dataclass(frozen=True, slots=True)
class Weave:
    """Opening and wire of a square-woven mesh; where it is known, light that leans is dimmed more."""

    opening_mm: float
    wire_mm: float

    def __post_init__(self) -> None:
        """Refuse a mesh that cannot be."""
        positive(opening_mm=self.opening_mm)
        not_negative(wire_mm=self.wire_mm)

    def open_to(self, lean_x: "Array", lean_y: "Array") -> "Array":
        """Open fraction for light that leans by these tangents along the two weaves."""
        import numpy as np

        hidden = self.wire_mm / (self.opening_mm + self.wire_mm)
        along_x = np.maximum(0.0, 1 - hidden * np.sqrt(1 + lean_x * lean_x))
        return np.asarray(along_x * np.maximum(0.0, 1 - hidden * np.sqrt(1 + lean_y * lean_y)))


def uv_field(
    lamps: Sequence[TubeLamp | PointLamp], box: Box, grid: Grid = DEFAULT_GRID, weave: Weave | None = None
) -> Field:
    """UV index on a grid that fills the box.

    Formula:
        sum over the lamps of UVI_ref x share x top x F / F_ref; with a weave the light of each piece of a
        tube passes the mesh under its own angle
    Args:
        lamps: the lamps, each with its reading and place
        box: inside of the enclosure and the kind of its top
        grid: number of spots along each side
        weave: opening and wire of the mesh; without it the open fraction of the box holds for all angles
    Returns:
        UV index [-] by x, y and z; 0 at and above the height of a lamp
    Raises:
        Impossible: a lamp, mesh or grid that cannot be
    Valid:
        as `tube_uv_index` and `point_uv_index`
    Source:
        cosine law over a line, inverse square law, geometry of a mesh
    """
    return field_over(box, lambda x, y, z: uv_at(lamps, box, x, y, z, weave=weave), grid)


def uv_section(
    lamps: Sequence[TubeLamp | PointLamp],
    box: Box,
    plane: Plane = "depth",
    at_mm: float | None = None,
    grid: Grid = DEFAULT_GRID,
    weave: Weave | None = None,
) -> Section:
    """UV index on an upright section, front to back ("depth") or side to side ("width"); see `uv_field`."""
    return section_over(box, lambda x, y, z: uv_at(lamps, box, x, y, z, weave=weave), plane, at_mm, grid)


def uv_at(
    lamps: Sequence[TubeLamp | PointLamp],
    box: Box,
    x_mm: "Array",
    y_mm: "Array",
    z_mm: "Array",
    *,
    weave: Weave | None = None,
) -> "Array":
    """UV index at spots given by coordinates that broadcast against each other; see `uv_field`."""
    import numpy as np

    total = np.zeros(np.broadcast_shapes(np.shape(x_mm), np.shape(y_mm), np.shape(z_mm)))
    for lamp in lamps:
        top, mesh = _top(lamp, box, weave)
        if top == 0:
            continue
        below = np.asarray(lamp.z_mm - z_mm)
        # Spots at or above a lamp get nothing; a metre stands in for their height until then.
        height = np.where(below > 0, below, MM_PER_M) / MM_PER_M
        aside = np.asarray(y_mm - lamp.y_mm) / MM_PER_M
        along = np.asarray(x_mm - lamp.x_mm) / MM_PER_M
        seen = _relative(lamp, height, along, aside, mesh)
        total = total + np.where(below > 0, lamp.reference_uv_index * lamp.share * top * seen, 0.0)
    return total


def _top(lamp: TubeLamp | PointLamp, box: Box, weave: Weave | None) -> tuple[float, Weave | None]:
    """What the top passes whatever the angle, and the mesh for which the angle counts."""
    if lamp.z_mm < box.height_mm or box.top_kind == "open":
        return 1.0, None
    if box.top_kind in OPAQUE_TOPS:
        return 0.0, None
    return (box.top_open_fraction, None) if weave is None else (1.0, weave)


def _relative(
    lamp: TubeLamp | PointLamp, height: "Array", along: "Array", aside: "Array", mesh: Weave | None
) -> "Array":
    """Irradiance against that at the place of the reading."""
    import numpy as np

    reference_m = lamp.reference_distance_mm / MM_PER_M
    if isinstance(lamp, PointLamp):
        squared = height * height + along * along + aside * aside
        seen = height / squared**1.5 * reference_m**2
        return np.asarray(seen if mesh is None else seen * mesh.open_to(along / height, aside / height))
    length_m = lamp.lit_length_mm / MM_PER_M
    squared = height * height + aside * aside
    scale = height / squared / tube_factor(length_m, reference_m)
    distance = np.sqrt(squared)
    ends = (-length_m / 2 - along) / distance, (length_m / 2 - along) / distance
    if mesh is None:
        return np.asarray(scale * (_swept(ends[1]) - _swept(ends[0])) / 2)
    return np.asarray(scale * _through(mesh, ends, distance, height, aside))


def _swept(tangent: "Array") -> "Array":
    import numpy as np

    return np.asarray(np.arctan(tangent) + tangent / (1 + tangent * tangent))


def _through(
    mesh: Weave, ends: "tuple[Array, Array]", distance: "Array", height: "Array", aside: "Array"
) -> "Array":
    """Integral of the cosine squared times the open fraction, over the angle that the tube takes up."""
    import numpy as np

    nodes, weights = np.polynomial.legendre.leggauss(TUBE_PIECES)
    low, high = np.arctan(ends[0]), np.arctan(ends[1])
    total = np.zeros(np.broadcast_shapes(low.shape, height.shape))
    for node, weight in zip(nodes, weights, strict=True):
        angle = (low + high) / 2 + node * (high - low) / 2
        open_share = mesh.open_to(distance / height * np.tan(angle), aside / height)
        total = total + weight * np.cos(angle) ** 2 * open_share
    return np.asarray(total * (high - low) / 2)
