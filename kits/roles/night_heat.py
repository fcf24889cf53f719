"""Heat without light for nights that are too cold."""

import math

from kits.effects.airing import air_changes_h
from kits.effects.warmth import MARGIN, loss_w_k, night_gap_k
from kits.physics.heat import heater_power_w
from kits.terms.build import Build
from kits.terms.conditions import wants_night_heat
from kits.terms.needs import Coupling, Figures, Fit, Need, Tie
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, text, wanted_number
from kits.terms.rounding import rounded

CODE = "night_heat"
ORDER = 180
IN_SOIL = False
LEAST_W = 10.0
BAND = (1 / 3, 4.0)  # at most three share the work
RANKS = {"panel": 0, "cable": 1, "ceramic": 2}


def needs(build: Build) -> tuple[Need, ...]:
    """One heater for the gap between the room's worst night and the animals' coldest night."""
    low = build.climate.night_lo_c
    if low is None or not wants_night_heat(build):
        return ()
    gap, loss = night_gap_k(build), loss_w_k(build, air_changes_h(build, low, build.room.night_temperature_c))
    box = build.box
    watts = max(LEAST_W, heater_power_w(loss, low, build.room.night_temperature_c, MARGIN))
    because = (
        f"The room falls to {build.room.night_temperature_c:g} C, the animals need {low:g} C at night.",
        f"The box loses {rounded(loss, 1)} W for each of {gap:g} K; with {MARGIN - 1:.0%} in hand that makes "
        f"{rounded(watts)} W (estimate).",
    )
    wanted = {
        "watts": watts,
        "holder": "lamp_holder" in build.owned,
        "long_mm": max(box.width_mm, box.depth_mm),
        "short_mm": min(box.width_mm, box.depth_mm),
    }
    return (Need(CODE, count=1, wanted=wanted, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """A heater that gives no light and enough, but not far too much, heat; several may share the work."""
    watts, wanted = positive(figures, "watts"), wanted_number(need, "watts")
    if watts is None:
        return missing("watts")
    if figures.get("lightless") is not True:
        return Fit(refusal="It gives light, which disturbs the night.")
    if text(figures, "cap") and not need.wanted["holder"]:
        return Fit(refusal=f"It needs a holder {text(figures, 'cap')} of its own, which the kit has not.")
    refusal = _too_strong_or_weak(watts, wanted) or _too_large(
        need, figures, pieces=math.ceil(wanted / watts)
    )
    if refusal:
        return Fit(refusal=refusal)
    rank = RANKS.get(text(figures, "kind"), 3)
    return Fit(because=(f"It gives {watts:g} W without light.",), each=min(1.0, watts / wanted), rank=rank)


def _too_strong_or_weak(watts: float, wanted: float) -> str:
    most = max(BAND[1] * wanted, 40.0)
    if watts > most:
        return f"Its {watts:g} W are more than {rounded(most)} W, too much for the box."
    if watts < BAND[0] * wanted:
        return f"Its {watts:g} W are less than a third of the {rounded(wanted)} W wanted."
    return ""


def _too_large(need: Need, figures: Figures, *, pieces: int) -> str:
    """Why panels do not go into the box side by side; empty where they do or have no size."""
    length, width = positive(figures, "length_mm"), positive(figures, "width_mm")
    if length is None or width is None:
        return ""
    long, short = wanted_number(need, "long_mm"), wanted_number(need, "short_mm")
    laid = ((length, pieces * width), (pieces * length, width))
    if any(max(rows) <= long and min(rows) <= short for rows in laid):
        return ""
    return f"{pieces} of {length:g} x {width:g} mm do not go into {long:g} x {short:g} mm of the box."


def coupling(figures: Figures) -> Coupling:
    """It asks for a thermostat, and for a holder when it is a ceramic emitter."""
    watts, cap = positive(figures, "watts"), text(figures, "cap")
    if watts is None:
        return Coupling()
    control = Tie("control", CODE, watts)
    return Coupling(asks=(control, Tie("socket", cap, watts)) if cap else (control,))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Heaters burn, and are to be measured."""
    if figures is None:
        return ()
    text_ = (
        "A heater burns skin: guard it, never let it run without its thermostat; its power is an estimate."
    )
    return (Caution("warning", CODE, text_), *_socket(build, figures))


def _socket(build: Build, figures: Figures) -> tuple[Caution, ...]:
    """What the customer's own holder must carry, since the kit has none for a heater that is screwed in."""
    cap, watts = text(figures, "cap"), positive(figures, "watts")
    if not cap or watts is None:
        return ()
    rated = positive(build.owned.get("lamp_holder", {}), "max_watts")
    if rated is not None and rated < watts:
        text_ = f"The ceramic heater of {watts:g} W is above the {rated:g} W of the customer's own holder."
        return (Caution("stop", CODE, text_),)
    text_ = (
        f"The ceramic heater screws into the customer's own holder: one of ceramic with an {cap} socket, "
        f"rated for at least {watts:g} W, that no lamp uses. Read its label."
    )
    return (Caution("warning", CODE, text_),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Test before the cold comes."""
    return (Reminder("Read the lowest temperature of the night", 7, CODE),)
