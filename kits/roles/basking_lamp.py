"""The lamp that warms a basking spot, or the air of a cold room by day."""

from kits.terms.build import Build
from kits.terms.conditions import CATALOGUE_RULE, amphibians, volume_l, wants_basking
from kits.terms.needs import Coupling, Figures, Fit, Need, Tie
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, number, positive, text, wanted_number

CODE = "basking_lamp"
ORDER = 140
IN_SOIL = False
# Litres of the box -> watts of one halogen lamp; common practice, no source.
BANDS = ((60, 15, 50), (130, 25, 75), (250, 40, 100), (500, 50, 150), (float("inf"), 75, 250))
USUAL_LIFE_DAYS = 240


def needs(build: Build) -> tuple[Need, ...]:
    """One lamp of a power that goes with the volume of the box."""
    if not wants_basking(build):
        return ()
    litres = volume_l(build)
    low, high = next((low, high) for upto, low, high in BANDS if litres <= upto)
    because = (_why(build), f"{low} to {high} W go with a box of {litres:.0f} L ({CATALOGUE_RULE}).")
    return (Need(CODE, count=1, wanted={"low_w": low, "high_w": high}, because=because),)


def _why(build: Build) -> str:
    climate = build.climate
    if climate.bask_lo_c is not None:
        return f"A surface of {climate.bask_lo_c:g} C is wanted to bask on."
    return f"Day air of {climate.day_lo_c:g} C is wanted in a room of {build.room.temperature_c:g} C."


def fit(need: Need, figures: Figures) -> Fit:
    """Power within the band; halogen first."""
    watts = positive(figures, "watts")
    if watts is None or not text(figures, "cap"):
        return missing("watts or cap")
    low, high = (wanted_number(need, key) for key in ("low_w", "high_w"))
    if not low <= watts <= high:
        return Fit(refusal=f"Its {watts:g} W lie outside {low:g} to {high:g} W.")
    return Fit(because=(f"It draws {watts:g} W.",), rank=0 if text(figures, "kind") == "halogen" else 1)


def coupling(figures: Figures) -> Coupling:
    """It asks for a holder that is rated for it and for a control."""
    watts, cap = positive(figures, "watts"), text(figures, "cap")
    if watts is None:
        return Coupling()
    control = Tie("control", CODE, watts)
    return Coupling(asks=(Tie("socket", cap, watts), control) if cap else (control,))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Hot lamps burn animals, people and houses."""
    if figures is None:
        return ()
    text_ = (
        "A hot lamp burns skin and sets fire: guard it, keep the maker's distance to animals and "
        "0.9 m to anything "
        "that burns, and measure the surface below it before an animal moves in: its power is an estimate."
    )
    found = [Caution("warning", CODE, text_)]
    if amphibians(build):
        dry = (
            "Amphibians dry out under a hot lamp: warm the room or the box gently instead, and "
            "ask a vet first."
        )
        found.append(Caution("warning", CODE, dry))
    return tuple(found)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Lamps fail without warning."""
    days = int(number(figures, "life_days") or USUAL_LIFE_DAYS)
    return (
        Reminder("Measure the temperature of the basking surface", 7, CODE),
        Reminder("Replace the basking lamp and keep a spare", max(1, days), CODE),
    )
