"""The side section, to scale: front on the left, so that slope shows."""

from dataclasses import replace
from functools import partial

from reportlab.graphics.shapes import Drawing, Shape

from kits.drawings import levels, notes
from kits.drawings.dimensions import foot, height_line
from kits.drawings.frame import Frame
from kits.drawings.grounds import ground
from kits.drawings.laid_out import LaidOut
from kits.drawings.layout import MARGIN, Sheet, Wish, lay_out, level_limits
from kits.drawings.pen import FINE, HAIR, HEAVY, Pen
from kits.drawings.scene import Scene
from kits.drawings.section_parts import drawn, figures
from kits.drawings.section_roof import roof_figures
from kits.drawings.section_soil import barrier_line, soil_figures, strips, water_sign
from kits.drawings.theme import PAPER, Theme


def section(
    scene: Scene,
    *,
    width: float = 480.0,
    height: float = 330.0,
    scale: float | None = None,
    words: bool = True,
    theme: Theme = PAPER,
) -> Drawing:
    """The section in about so many points, at the largest ruler scale that fits.

    `scale` fixes n of 1 : n; `words=False` leaves the callouts' numbers alone. The drawing is as large as its
    content: narrower than `width` for a tall box, taller than `height` where the callouts need it.
    """
    return laid_out(scene, Wish(width, height, scale, words), theme=theme).drawn()


def laid_out(scene: Scene, wish: Wish, *, theme: Theme = PAPER) -> LaidOut:
    """The same section with its size, before it is drawn."""
    pen = Pen(theme)
    sheet = lay_out(scene, pen, wish)
    return LaidOut(sheet.width, sheet.height, partial(_contents, pen, scene, sheet))


def numbers_only(scene: Scene, *, width: float, height: float) -> Drawing:
    """The section for a phone: callouts without their words, lengths in mm alone."""
    return section(replace(scene, units="metric"), width=width, height=height, words=False)


def _contents(pen: Pen, scene: Scene, sheet: Sheet) -> list[Shape]:
    frame = sheet.frame
    return [
        *drawn(figures(pen, scene, frame)),
        *_soil(pen, scene, sheet),
        *drawn(soil_figures(pen, scene, frame)),
        *shell(pen, scene, frame, sheet.wall),
        *drawn(roof_figures(pen, scene, frame)),
        *levels.draw_levels(pen, scene, frame, sheet.wall, level_limits(frame, sheet.height)),
        *height_line(pen, scene, frame, MARGIN + 8.0),
        *foot(pen, scene, frame, sheet.wall, sheet.width - MARGIN),
        *notes.draw_notes(pen, sheet.left, sheet.left_column),
        *notes.draw_notes(pen, sheet.right, sheet.right_column),
    ]


def _soil(pen: Pen, scene: Scene, sheet: Sheet) -> list[Shape]:
    shapes: list[Shape] = []
    for bed, strip in strips(scene, sheet.frame):
        shapes.extend(ground(pen, bed.name, strip))
    return [*shapes, *barrier_line(pen, scene, sheet.frame), *water_sign(pen, scene, sheet.frame)]


def shell(pen: Pen, scene: Scene, frame: Frame, wall: float) -> list[Shape]:
    """Floor and back wall cut through; the front is the fixed pane up to the sill and the door above it."""
    left, low = frame.left, frame.bottom
    across, tall = frame.right - left, frame.top - low
    sill = frame.pt(min(scene.inside.sill_mm, scene.inside.height_mm))
    return [
        pen.rect((left, low), (across, tall), ink="ink", width=HAIR),
        pen.cut((left - wall, low - wall), (across + 2 * wall, wall)),
        pen.cut((frame.right, low), (wall, tall)),
        pen.cut((left - wall, low), (wall, sill)),
        pen.rect((left - wall, low + sill), (wall, tall - sill), fill="paper", ink="ink", width=FINE),
        *_top(pen, scene, frame, wall),
    ]


def _top(pen: Pen, scene: Scene, frame: Frame, wall: float) -> list[Shape]:
    kind = scene.inside.top_kind
    left, right, y = frame.left - wall, frame.right + wall, frame.top
    if kind == "open":
        return []
    if kind == "mesh":
        return [pen.line((left, y), (right, y), ink="ink", width=HEAVY, dash=(1.6, 1.3))]
    fill = "wall" if kind == "solid" else "paper"
    return [pen.rect((left, y), (right - left, wall), fill=fill, ink="ink", width=FINE)]
