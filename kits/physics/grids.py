"""Fields over a box: spots on a grid, or on an upright section, and the values found there.

Coordinates in millimetres: x from the left wall to the right, y from the front to the back, z up from the
floor.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from inventory.calc.checks import within
from inventory.calc.errors import Impossible
from kits.terms.build import Box

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.float64]

Plane = Literal["depth", "width"]


@dataclass(frozen=True, slots=True)
class Grid:
    """Number of spots along each side of the box, walls included."""

    across: int = 45
    back: int = 31
    up: int = 61

    def __post_init__(self) -> None:
        """Refuse a grid that does not reach from wall to wall."""
        for name, count in (("across", self.across), ("back", self.back), ("up", self.up)):
            if count < 2:
                raise Impossible(name, "must be at least 2")


@dataclass(frozen=True, slots=True)
class Field:
    """Values over the box: `values[i, j, k]` at `x_mm[i]`, `y_mm[j]`, `z_mm[k]`."""

    x_mm: "Array"
    y_mm: "Array"
    z_mm: "Array"
    values: "Array"

    def largest_up_to(self, height_mm: float) -> float:
        """Largest value at grid heights up to one."""
        reached = self.z_mm <= height_mm
        if not reached.any():
            raise Impossible("height_mm", "must not lie below the floor")
        return float(self.values[:, :, reached].max())


@dataclass(frozen=True, slots=True)
class Section:
    """Values over an upright section: `values[k, i]` at height `up_mm[k]` and place `along_mm[i]`."""

    along_mm: "Array"
    up_mm: "Array"
    values: "Array"


# What is found at spots given by their x, y and z; the three broadcast against each other.
Found: TypeAlias = "Callable[[Array, Array, Array], Array]"


def field_over(box: Box, found: "Found", grid: Grid) -> Field:
    """Values at every spot of a grid that fills the box."""
    import numpy as np

    x = np.linspace(0.0, box.width_mm, grid.across)
    y = np.linspace(0.0, box.depth_mm, grid.back)
    z = np.linspace(0.0, box.height_mm, grid.up)
    return Field(x, y, z, found(x[:, None, None], y[None, :, None], z[None, None, :]))


def section_over(box: Box, found: "Found", plane: Plane, at_mm: float | None, grid: Grid) -> Section:
    """Values on an upright section: "depth" runs front to back at one x, "width" side to side at one y.

    Without a place the section runs through the middle.
    """
    import numpy as np

    across = box.width_mm if plane == "depth" else box.depth_mm
    place = across / 2 if at_mm is None else at_mm
    within(0, across, at_mm=place)
    z = np.linspace(0.0, box.height_mm, grid.up)[:, None]
    here = np.full((1, 1), place)
    if plane == "depth":
        along = np.linspace(0.0, box.depth_mm, grid.back)
        return Section(along, z[:, 0], found(here, along[None, :], z))
    along = np.linspace(0.0, box.width_mm, grid.across)
    return Section(along, z[:, 0], found(along[None, :], here, z))
