"""How much light plant lamps bring to the ground of one build, and to the plants above it."""

from collections.abc import Callable
from dataclasses import dataclass

from kits.effects.places import lamp_height_mm, light_share
from kits.physics import light
from kits.terms.build import Build
from kits.terms.conditions import humid
from kits.terms.facts import Subject
from kits.terms.needs import Figures
from kits.terms.reading import positive, text

# Lower ends of the medium and bright classes of the plant table, for plants that the kit does not choose.
PPFD_FOREST, PPFD_DRY = 40.0, 80.0
HEIGHTS = {"floor": 0.0, "middle": 0.5, "top": 0.8}  # share of the air between ground and top
RAISED = "mounted"  # plants that hang at middle height
NEAREST_MM = 20.0


@dataclass(frozen=True, slots=True)
class Brightness:
    """Photons that reach a level at its middle and at its edge [umol/m2/s]."""

    middle: float
    edge: float

    @property
    def mean(self) -> float:
        """Between the middle and the edge."""
        return (self.middle + self.edge) / 2


def wanted_ppfd(build: Build) -> float:
    """What the ground is to get, so that every chosen plant gets at its own height what it grows by."""
    each = [_asks_of_the_ground(build, plant) for plant in build.planted]
    known = [ppfd for ppfd in each if ppfd is not None]
    if known:
        return max(known)
    return PPFD_FOREST if humid(build) else PPFD_DRY


def _asks_of_the_ground(build: Build, plant: Subject) -> float | None:
    low = plant.number("design_ppfd_lo")
    raised = plant.text("position") == RAISED
    return None if low is None else low / (_gain(build) if raised else 1.0)


def _gain(build: Build) -> float:
    """How much brighter it is at middle height than at the ground, below a bar as long as the box is wide."""
    length = build.box.width_mm / 1000
    ground, middle = (
        light.bar_ppfd(1.0, length, below_lamp_m(build, HEIGHTS[h])) for h in ("floor", "middle")
    )
    return middle / ground


def below_lamp_m(build: Build, share: float) -> float:
    """How far a level between ground (0) and top (1) lies below the lamps."""
    return max(_gap_mm(build, share), NEAREST_MM) / 1000


def lies_below(build: Build, share: float) -> bool:
    """Whether a level between ground (0) and top (1) lies below the lamps, not beside or above them."""
    return _gap_mm(build, share) >= NEAREST_MM


def _gap_mm(build: Build, share: float) -> float:
    ground = sum(build.surface_mm()) / 2
    return lamp_height_mm(build) - (ground + share * (build.box.height_mm - ground))


@dataclass(frozen=True, slots=True)
class Top:
    """The top that plant lamps stand on: its sides, what it lets through, and how far the ground is."""

    width_mm: float
    depth_mm: float
    through: float
    ground_m: float


def top(build: Build) -> Top:
    """All of a build that says what its plant lamps bring to the ground."""
    box, ground_m = build.box, below_lamp_m(build, HEIGHTS["floor"])
    return Top(box.width_mm, box.depth_mm, light_share(build), ground_m)


def middle_inputs(
    build: Build, figures: Figures, share: float
) -> tuple[Callable[..., float], dict[str, float]] | None:
    """The calculation of the light below a lamp's middle at this level; None where its flux is not known."""
    return _middle_inputs(figures, below_lamp_m(build, share))


def _middle_inputs(
    figures: Figures, distance_m: float
) -> tuple[Callable[..., float], dict[str, float]] | None:
    flux, length = positive(figures, "flux_umol_s"), positive(figures, "length_mm")
    if flux is None or length is None:
        return None
    inputs = {"flux_umol_s": flux, "length_m": length / 1000, "distance_m": distance_m}
    width = positive(figures, "width_mm")
    if text(figures, "kind") == "panel" and width is not None:
        return light.panel_ppfd, {**inputs, "width_m": width / 1000}
    return light.bar_ppfd, inputs


def at_level(build: Build, figures: Figures, share: float) -> Brightness | None:
    """What one lamp brings to a level between ground (0) and top (1); None where its flux is not known."""
    return below_top(top(build), figures, below_lamp_m(build, share))


def below_top(lit: Top, figures: Figures, distance_m: float) -> Brightness | None:
    """What one lamp brings so far below this top; None where its flux is not known."""
    found = _middle_inputs(figures, distance_m)
    if found is None:
        return None
    function, inputs = found
    aside = lit.depth_mm / 4000
    if function is light.panel_ppfd:
        edge = light.panel_ppfd_at(**inputs, aside_m=aside)
    else:
        edge = light.bar_ppfd_at(**inputs, along_m=lit.width_mm / 4000, aside_m=aside)
    return Brightness(function(**inputs) * lit.through, edge * lit.through)
