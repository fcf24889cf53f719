"""What the walls of a box are made of: how they conduct, weigh, keep heat, and whether one sees through."""

import functools
from dataclasses import dataclass

from kits.physics.published import published_column

__all__: list[str] = []

# Word of a build spec -> row of kits/data/walls.csv. Boxes of PVC are usually built of foamed board.
ROWS = {
    "glass": "glass",
    "acrylic": "acrylic",
    "polycarbonate": "polycarbonate",
    "pvc": "pvc-expanded",
    "pvc-solid": "pvc",
    "wood": "wood",
    "particle-board": "particle-board",
    "mesh": "mesh",
}
MATERIALS = tuple(ROWS)
MESH = "mesh"


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall material."""

    conductivity_w_mk: float
    density_kg_m3: float
    heat_j_kgk: float
    usual_mm: float
    clear: bool
    softens_c: float | None  # more than this in the long run bends it; None where heat of lamps does not


@functools.cache
def wall(material: str) -> Wall:
    """What is known of a wall material; mesh, which stops no heat, conducts as its own thickness of glass."""
    row = ROWS[material]
    conductor = "glass" if material == MESH else row
    return Wall(
        conductivity_w_mk=_figure(conductor, "conductivity_w_mk"),
        density_kg_m3=_figure(row, "density_kg_m3"),
        heat_j_kgk=_figure(row, "heat_j_kgk"),
        usual_mm=_figure(row, "usual_mm"),
        clear=_figure(row, "clear") > 0,
        softens_c=published_column("walls", "softens_c").get(row),
    )


def _figure(row: str, field: str) -> float:
    return published_column("walls", field)[row]
