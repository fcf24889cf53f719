"""From build and lines to the scene: which lines are drawn, how large, in which shape."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType

from kits.drawings.scene import Bed, Inside, Part, Scene, Seat
from kits.terms.build import Build
from kits.terms.facts import Subject
from kits.terms.needs import Figures
from kits.terms.plan import PlanLine
from kits.terms.reading import positive, text

FiguresOf = Callable[[PlanLine], Figures]  # what the catalogue says of a line's item in its role

# Roles that are drawn, with the word beside their callout; every other line stays in the parts list alone.
WORDS: Mapping[str, str] = MappingProxyType(
    {
        "enclosure": "enclosure", "drainage": "drainage", "barrier": "barrier mesh", "substrate": "soil",
        "moss": "moss", "litter": "leaf litter", "bark": "bark", "cleanup_crew": "clean-up crew",
        "plant": "plant", "uvb_lamp": "UV lamp", "uvb_fixture": "UV fixture", "plant_light": "plant light",
        "basking_lamp": "basking lamp", "lamp_holder": "holder", "night_heat": "night heater",
        "hide": "hide", "climb": "branch", "water_dish": "water dish", "drain_tube": "drain tube",
        "feeding_ledge": "feeding ledge", "mesh_cover": "mesh cover",
    }
)  # fmt: skip
# Sizes that a catalogue does not hold and a drawing needs: schematic, no source.
USUAL_HEIGHT = {"uvb_fixture": 48.0, "uvb_lamp": 40.0, "plant_light": 26.0, "feeding_ledge": 40.0}
USUAL_SIDE = {"uvb_lamp": 30.0, "basking_lamp": 90.0, "night_heat": 90.0, "feeding_ledge": 90.0}
LEDGE_MM = 140.0
PANEL_MM = (300.0, 200.0)
TALL_MM = 220.0


def scene(build: Build, lines: Sequence[PlanLine], *, figures: FiguresOf, water_mm: float = 0.0) -> Scene:
    """The scene of a build: a callout number is the line's place in the parts list, counted from 1."""
    box = build.box
    return Scene(
        inside=Inside(
            width_mm=box.width_mm,
            depth_mm=box.depth_mm,
            height_mm=box.height_mm,
            sill_mm=box.sill_mm,
            wall_mm=box.wall_thickness_mm,
            wall_material=box.wall_material,
            top_kind=box.top_kind,
        ),
        beds=tuple(Bed(layer.name, layer.front_mm, layer.back_mm) for layer in build.layers.values()),
        seats=tuple(Seat(perch.height_mm, perch.back_mm) for perch in build.perches),
        parts=tuple(_parts(build, lines, figures)),
        units=build.units,
        water_mm=water_mm,
    )


def _parts(build: Build, lines: Sequence[PlanLine], figures: FiguresOf) -> Iterator[Part]:
    for number, line in enumerate(lines, start=1):
        if line.role in WORDS and not _beyond_the_box(line.role, figures(line)):
            yield _part(build, number, line.role, line.quantity, figures(line))
    bought = {line.role for line in lines}
    for role, own in build.owned.items():
        if role in WORDS and role not in bought and positive(own, "length_mm") is not None:
            yield _part(build, 0, role, 1, own)


def _beyond_the_box(role: str, figures: Figures) -> bool:
    """A heating cable lies outside, wherever its maker wants it."""
    return role == "night_heat" and text(figures, "kind") == "cable"


def _part(build: Build, number: int, role: str, quantity: int, figures: Figures) -> Part:
    if role == "plant":
        return _plant(build, number, quantity, figures)
    length, width, height = _size(role, figures)
    form = text(figures, "kind") or text(figures, "technology")
    if role == "hide":
        form = "damp" if figures.get("humid") is True else "dry"
    return Part(number, role, _label(build, role, figures), quantity, length, width, height, form)


def _label(build: Build, role: str, figures: Figures) -> str:
    if role == "cleanup_crew":
        return _name(build.cleanup.get(text(figures, "taxon"))) or WORDS[role]
    if role == "hide" and figures.get("humid") is True:
        return "damp hide"
    return WORDS[role]


def _name(subject: Subject | None) -> str:
    return "" if subject is None else subject.english_name or subject.name


def _size(role: str, figures: Figures) -> tuple[float, float, float]:
    """Length along the width of the box, width along its depth, height."""
    round_mm = positive(figures, "diameter_mm")
    length = positive(figures, "length_mm") or round_mm or USUAL_SIDE.get(role, 0.0)
    width = positive(figures, "width_mm") or round_mm or USUAL_SIDE.get(role, 0.0)
    height = positive(figures, "height_mm") or USUAL_HEIGHT.get(role, 0.0)
    if role == "feeding_ledge":
        length = LEDGE_MM
    if role == "night_heat" and text(figures, "kind") == "panel":
        return (*PANEL_MM, 16.0)
    if role in ("lamp_holder", "night_heat"):
        height = 0.85 * width
    if role == "water_dish":
        height = max(20.0, 0.2 * width)
    return length, width, height


def _plant(build: Build, number: int, quantity: int, figures: Figures) -> Part:
    species = text(figures, "species")
    subject = build.plants.get(species) or Subject("plant", species, species)
    form = plant_form(subject)
    low = form in ("vine", "carpet")
    height = subject.number("height_lo_mm" if low else "height_hi_mm") or 150.0
    spreads = [s for key in ("spread_lo_mm", "spread_hi_mm") if (s := subject.number(key)) is not None]
    spread = sum(spreads) / len(spreads) if spreads else 150.0
    return Part(
        number, "plant", _name(subject), quantity, spread, spread, height, form,
        subject.text("position") or "middle",
    )  # fmt: skip


def plant_form(plant: Subject) -> str:
    """The drawn shape of a species, from its group, habit and height."""
    group, habit = plant.text("plant_group"), plant.text("habit")
    if habit == "climber":
        return "vine"
    by_group = {"fern": "fern", "grass": "grass", "succulent": "succulent", "moss": "cushion"}
    if group in by_group:
        return by_group[group]
    if habit == "epiphyte":
        return "rosette"
    if habit == "carpet" or group == "creeper":
        return "carpet"
    return "upright" if (plant.number("height_hi_mm") or 0.0) > TALL_MM else "clump"
