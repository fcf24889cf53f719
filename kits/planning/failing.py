"""What a lamp or heater does at full power: what is left of its control when that fails."""

from collections.abc import Iterator

from kits.effects import warmth
from kits.effects.day_air import day_air_c
from kits.planning.effect_figures import lit_place
from kits.planning.kit import Kit
from kits.terms.conditions import LOADS
from kits.terms.plan import Caution
from kits.terms.rounding import rounded

TOLERANCE_K = 1.5  # of an estimate
LOOK = "Look at the thermometer every day."


def failing_controls(kit: Kit) -> Iterator[Caution]:
    """A stop where a lamp without its dimmer would burn, a warning where it or a heater gets too warm."""
    yield from _lamp(kit)
    yield from _heater(kit)


def _lamp(kit: Kit) -> Iterator[Caution]:
    found, control = lit_place(kit), _control(kit)
    if found is None or not control:
        return
    _, place, full = found
    if full.surface_c <= place.high_c and full.nearest_w_m2 <= warmth.FULL_SUN_W_M2:
        return
    set_c = warmth.surface_at(place, full, warmth.set_share(place, full))
    text = (
        f"If its {control} fails, the basking lamp shines at full power: the surface then reaches "
        f"{rounded(full.surface_c)} C instead of {rounded(set_c)} C, and the highest reach gets "
        f"{rounded(full.nearest_w_m2)} W/m2 (estimates)."
    )
    if full.nearest_w_m2 > warmth.FULL_SUN_W_M2:
        burns = (
            f"That is more than full sun ({warmth.FULL_SUN_W_M2:g} W/m2) and burns: lower the highest "
            "perch or take a weaker lamp."
        )
        yield Caution("stop", "basking_lamp", f"{text} {burns}")
    else:
        yield Caution("warning", "basking_lamp", f"{text} {LOOK}")


def _control(kit: Kit) -> str:
    """What keeps the basking lamp below full power."""
    if kit.filled("dimmer") is not None and "dimmer" in kit.wanted:
        return "dimmer"
    slots = {need.slot for need in kit.wanted.get("thermostat", ())}
    return "thermostat" if "basking_lamp" in slots and kit.filled("thermostat") is not None else ""


def _heater(kit: Kit) -> Iterator[Caution]:
    most = kit.build.climate.day_hi_c
    if most is None or kit.at_work("night_heat") is None or kit.filled("thermostat") is None:
        return
    equipment = {role: tuple(kit.pieces(role)) for role in sorted(LOADS)}
    reached = day_air_c(kit.build, equipment, heated=True)
    if "night_heat" in kit.wanted and reached > most + TOLERANCE_K:
        text = (
            f"If its thermostat fails, the night heat stays on by day: the air then reaches about "
            f"{rounded(reached)} C, the animals stand at most {most:g} C (estimate). {LOOK}"
        )
        yield Caution("warning", "night_heat", text)
