"""Where the lamp hangs, where the animal lies, how high it reaches: how far light and heat have to go."""

from dataclasses import dataclass

from kits.terms.build import Build, Perch
from kits.terms.conditions import of_habit

# Heights in millimetres; estimates, no source: measure yours.
ABOVE_MESH_MM = 20.0  # a lamp in its fixture or holder stands this far above a mesh or open top
BELOW_LID_MM = 80.0  # a guarded lamp hangs this far below a closed top
BACK_MM = 20.0  # the back of an animal above what it lies on
LEAST_MM = 20.0  # nothing comes nearer to a lamp than its guard or the mesh lets it
STRETCH_SHARE = 0.5  # of its body length a climber reaches above its perch
MOST_STRETCH_MM = 150.0
GROUND_STRETCH_MM = 50.0
CLOSED_TOPS = frozenset({"glass", "solid"})


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one lamp and one animal meet; all heights are above the floor of the box."""

    lamp_mm: float
    lies_mm: float  # the animal's back on the highest perch
    reaches_mm: float  # the highest that it stretches from there
    open_fraction: float  # of the mesh between the two; 1 where there is none

    @classmethod
    def on_perch(cls, perch_mm: float, lamp_mm: float, open_fraction: float, stretch_mm: float) -> "Spot":
        """The animal on a perch at this height; it comes no nearer to the lamp than its guard lets it."""
        lies = perch_mm + BACK_MM
        return cls(lamp_mm, lies, min(lies + stretch_mm, lamp_mm - LEAST_MM), open_fraction)

    @property
    def distance_m(self) -> float:
        """From the lamp to the animal's back."""
        return max(self.lamp_mm - self.lies_mm, LEAST_MM) / 1000

    @property
    def nearest_m(self) -> float:
        """From the lamp to the highest that the animal reaches."""
        return max(self.lamp_mm - self.reaches_mm, LEAST_MM) / 1000


def basking_spot(build: Build) -> Spot:
    """The highest perch below a lamp that stands on, or hangs under, the top."""
    perch_mm = highest_perch(build).height_mm
    return Spot.on_perch(perch_mm, lamp_height_mm(build), light_share(build), _stretch_mm(build))


def highest_perch(build: Build) -> Perch:
    """The perch nearest to a lamp; the ground in the middle of a box without one."""
    if build.perches:
        return max(build.perches, key=lambda perch: perch.height_mm)
    return Perch(sum(build.surface_mm()) / 2, build.box.depth_mm / 2)


def lamp_height_mm(build: Build) -> float:
    """Height of a lamp's face: above a mesh, below a closed top."""
    if build.box.top_kind in CLOSED_TOPS:
        return build.box.height_mm - min(BELOW_LID_MM, build.box.height_mm / 4)
    return build.box.height_mm + ABOVE_MESH_MM


def light_share(build: Build) -> float:
    """What a mesh lets through from straight above; a lamp below a closed top shines freely."""
    return build.box.top_open_fraction if build.box.top_kind == "mesh" else 1.0


def _stretch_mm(build: Build) -> float:
    climbers = of_habit(build, "arboreal")
    if not climbers:
        return GROUND_STRETCH_MM
    longest = max(climber.subject.number("length_hi_mm") or 0.0 for climber in climbers)
    return min(max(STRETCH_SHARE * longest, GROUND_STRETCH_MM), MOST_STRETCH_MM)
