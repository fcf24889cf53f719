"""A drawing that is laid out: its size is known before anything of it is drawn."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from reportlab.graphics.shapes import Drawing, Shape


@dataclass(frozen=True, slots=True)
class LaidOut:
    """The size of a drawing in points, and how its shapes are made."""

    width: float
    height: float
    shapes: Callable[[], Iterable[Shape]]

    def drawn(self) -> Drawing:
        """The drawing itself."""
        drawing = Drawing(self.width, self.height)
        for shape in self.shapes():
            drawing.add(shape)
        return drawing
