"""From millimetres in the box to points on the sheet: one scale for both directions."""

from dataclasses import dataclass

from kits.drawings.labels import Point
from kits.drawings.measures import POINTS_PER_MM


@dataclass(frozen=True, slots=True)
class Frame:
    """The place of the box on a sheet; `across` runs from the front or left, `up` from the floor or front."""

    scale: float  # n of 1 : n
    left: float
    bottom: float
    across_mm: float
    up_mm: float

    def pt(self, mm: float) -> float:
        """A length."""
        return mm * POINTS_PER_MM / self.scale

    def x(self, mm: float) -> float:
        """A place across."""
        return self.left + self.pt(mm)

    def y(self, mm: float) -> float:
        """A height, or in a view from above a distance from the front."""
        return self.bottom + self.pt(mm)

    def at(self, across_mm: float, up_mm: float) -> Point:
        """A point."""
        return self.x(across_mm), self.y(up_mm)

    @property
    def right(self) -> float:
        """The right inner wall."""
        return self.x(self.across_mm)

    @property
    def top(self) -> float:
        """The rim, or in a view from above the back wall."""
        return self.y(self.up_mm)
