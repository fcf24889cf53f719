"""What the room takes from a box, what a heater must give back, and how hot a lamp makes a surface."""

import functools
from dataclasses import dataclass

from kits.effects.places import CLOSED_TOPS, Spot, basking_spot
from kits.physics import heat
from kits.physics.walls import wall
from kits.terms.build import Build
from kits.terms.needs import Figures
from kits.terms.reading import number, positive

MARGIN = 1.25  # common practice, no source
SHARES = {"radiant_fraction": 0.85, "beam_fraction": 0.7}  # of a halogen or incandescent lamp; estimates
BEAM_DEG = 60.0  # where the lamp does not say; estimate
FULL_SUN_W_M2 = 1000.0  # ASTM G173 global: more than this on skin is a burn risk
LEAST_DIMMED = 0.05  # below this share no dimming thermostat holds a lamp steady; common practice, no source


@dataclass(frozen=True, slots=True)
class Place:
    """Where animals bask, in which air, and how warm the surface is to be."""

    spot: Spot
    air_c: float
    low_c: float
    high_c: float

    @property
    def middle_c(self) -> float:
        """What the lamp is set to."""
        return (self.low_c + self.high_c) / 2


@dataclass(frozen=True, slots=True)
class Beam:
    """What a basking lamp does at full power at the place below it."""

    irradiance_w_m2: float
    nearest_w_m2: float  # at the highest place that the animal reaches
    surface_c: float


def pane(build: Build) -> tuple[float, float]:
    """Thickness [m] and conductivity [W/mK] of the walls."""
    box = build.box
    return box.wall_thickness_mm / 1000, wall(box.wall_material).conductivity_w_mk


def loss_inputs(build: Build, air_changes_h: float) -> dict[str, float]:
    """The arguments of the box's heat loss."""
    box = build.box
    return {
        "width_m": box.width_mm / 1000,
        "depth_m": box.depth_mm / 1000,
        "height_m": box.height_mm / 1000,
        "wall_u": heat.pane_u_value(*pane(build)),
        "top_u": heat.top_u_value(*(pane(build) if box.top_kind in CLOSED_TOPS else ())),
        "floor_u": heat.floor_u_value(*pane(build)),
        "air_changes_h": air_changes_h,
    }


def loss_w_k(build: Build, air_changes_h: float) -> float:
    """What the box loses for each kelvin that it is warmer than the room."""
    return heat.enclosure_loss_w_k(**loss_inputs(build, air_changes_h))


def night_gap_k(build: Build) -> float:
    """How much the room's worst night is colder than the animals may have it; 0 where it is not."""
    low = build.climate.night_lo_c
    return 0.0 if low is None else max(0.0, low - build.room.night_temperature_c)


def basking_place(build: Build) -> Place | None:
    """The place below the lamp; None where no animal asks for a basking surface."""
    low, high = build.climate.bask_lo_c, build.climate.bask_hi_c
    if low is None:
        return None
    return Place(basking_spot(build), basking_air_c(build), low, low if high is None else high)


def basking_air_c(build: Build) -> float:
    """The air around the basking place by day: the middle of the animals' band, else the room's."""
    low, high = build.climate.day_lo_c, build.climate.day_hi_c
    if low is None or high is None:
        return build.room.temperature_c
    return max((low + high) / 2, build.room.temperature_c)


def beam(place: Place, figures: Figures) -> Beam | None:
    """The lamp at full power straight above the place; None where its watts are not known."""
    watts = positive(figures, "watts")
    if watts is None:
        return None
    shares = [number(figures, key) or usual for key, usual in SHARES.items()]
    return _beam(place, watts, *shares, positive(figures, "beam_deg") or BEAM_DEG)


@functools.lru_cache(maxsize=1024)
def _beam(place: Place, watts: float, radiant: float, within: float, beam_deg: float) -> Beam:
    """Kept, since the lamps of a shelf are asked for at one place again and again."""
    here, near = (
        heat.beam_irradiance_w_m2(watts, radiant, within, beam_deg, distance) * place.spot.open_fraction
        for distance in (place.spot.distance_m, place.spot.nearest_m)
    )
    return Beam(here, near, heat.basking_surface_c(here, place.air_c))


def surface_at(place: Place, full: Beam, share: float) -> float:
    """Surface temperature with the lamp dimmed to this share of its power."""
    return heat.basking_surface_c(full.irradiance_w_m2 * share, place.air_c)


def dimmed_share(place: Place, full: Beam, surface_c: float) -> float:
    """Share of full power that makes the surface just so warm; above 1 the lamp cannot."""
    wanted = heat.irradiance_for_surface_w_m2(surface_c, place.air_c)
    return wanted / full.irradiance_w_m2 if full.irradiance_w_m2 > 0 else float("inf")


def set_share(place: Place, full: Beam) -> float:
    """Share of full power that the lamp is set to: for the middle of the band, at most all of it."""
    return min(1.0, dimmed_share(place, full, place.middle_c))


def beam_inputs(figures: Figures, watts: float, distance_m: float) -> dict[str, float]:
    """The arguments of a lamp's irradiance, its own figures before the usual ones."""
    shares = {key: number(figures, key) or usual for key, usual in SHARES.items()}
    return {
        "power_w": watts,
        **shares,
        "beam_deg": positive(figures, "beam_deg") or BEAM_DEG,
        "distance_m": distance_m,
    }


def enters_w(build: Build, figures: Figures) -> float:
    """Heat of the lamp that comes into the box: all of it below a closed top, else what the beam brings."""
    return brings_w(beam_through(build), figures)


def beam_through(build: Build) -> float | None:
    """Share of a lamp's beam that the top lets through; None where the lamp hangs below a closed one."""
    return None if build.box.top_kind in CLOSED_TOPS else basking_spot(build).open_fraction


def brings_w(through: float | None, figures: Figures) -> float:
    """Heat that a lamp brings into a box whose top lets this share of its beam through."""
    watts = positive(figures, "watts") or 0.0
    if through is None:
        return watts
    shares = [number(figures, key) or usual for key, usual in SHARES.items()]
    return watts * shares[0] * shares[1] * through
