"""Water from above: a hand sprayer for small boxes, a pump for large ones."""

import math

from kits.effects.airing import warm_air_c
from kits.effects.moisture import minutes_a_day, sprayed_l_day
from kits.effects.warmth import pane
from kits.physics.heat import pane_u_value
from kits.physics.vapour import fogging_humidity_pct
from kits.physics.walls import MESH, wall
from kits.terms.build import Build
from kits.terms.conditions import humid, humidity_pct, yes
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import positive, text, wanted_number
from kits.terms.rounding import rounded

CODE = "mister"
ORDER = 250
IN_SOIL = False
BY_HAND_L_DAY = 0.3  # more than that nobody sprays by hand every day; common practice, no source
LEAST_TOLD_L = 0.01
LONGEST_MIN_DAY = 60.0  # a mister that runs longer is too weak for the box; common practice, no source


def needs(build: Build) -> tuple[Need, ...]:
    """One where the style or the animals want humid air."""
    low, _ = humidity_pct(build)
    if low is None or not (humid(build) or yes(build.style, CODE)):
        return ()
    litres = sprayed_l_day(build)
    because = (
        f"At least {low:g} % humidity in a room of {build.room.relative_humidity_pct:g} % "
        f"takes {_litres(litres)} sprayed a day (estimate).",
    )
    return (Need(CODE, count=1, wanted={"litres_day": litres}, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """A mister that brings the day's water in a reasonable time."""
    kind, litres = text(figures, "kind"), wanted_number(need, "litres_day")
    if kind not in ("hand", "pump"):
        return Fit(refusal="It is not recorded whether it is worked by hand or by a pump.")
    minutes = minutes_a_day(figures, litres)
    if minutes > LONGEST_MIN_DAY:
        return Fit(
            refusal=f"It would run {rounded(minutes)} minutes a day; {LONGEST_MIN_DAY:g} are the most."
        )
    tank = positive(figures, "tank_l")
    because = (
        f"It is worked by {'hand' if kind == 'hand' else 'a pump'}; {_litres(litres)} a day take "
        f"{rounded(minutes, 1)} minutes{_lasts(tank, litres)} (estimate).",
    )
    by_hand = litres <= BY_HAND_L_DAY
    shown = {"misting_min_day": round(minutes, 1)}
    return Fit(because=because, figures=shown, rank=0 if (kind == "hand") == by_hand else 1)


def _litres(litres: float) -> str:
    return f"{rounded(litres, 2)} L" if litres >= LEAST_TOLD_L else f"less than {LEAST_TOLD_L:g} L"


def _lasts(tank_l: float | None, litres_day: float) -> str:
    """For how long a full tank is enough, or how often it has to be filled."""
    if tank_l is None or litres_day < LEAST_TOLD_L:
        return ""
    if tank_l < litres_day:
        return f" and its tank of {tank_l:g} L is to be filled {math.ceil(litres_day / tank_l)} times a day"
    return f" and its tank of {tank_l:g} L lasts {math.floor(tank_l / litres_day)} days"


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Wet boxes need dry plugs."""
    if figures is None:
        return ()
    text_ = (
        "Spray clean water of low hardness, let surfaces dry between sprays, and keep spray "
        "off lamps and sockets."
    )
    return (Caution("note", CODE, text_), *_fog(build))


def _fog(build: Build) -> tuple[Caution, ...]:
    """Where the glass is to fog before the air is as humid as it may be."""
    _, high = humidity_pct(build)
    warm_c, room_c = warm_air_c(build), build.room.temperature_c
    fogs = fogging_humidity_pct(warm_c, room_c, pane_u_value(*pane(build)))
    material = build.box.wall_material
    if material == MESH or high is None or fogs >= high:
        return ()
    what, help_ = (
        (f"the {material} fogs", "that is water, not a fault; wipe it, or warm the room")
        if wall(material).clear
        else ("water settles on the walls", "seal and wipe them, or warm the room")
    )
    text_ = (
        f"At {rounded(warm_c)} C inside and {room_c:g} C in the room {what} above {rounded(fogs)} % "
        f"humidity: {help_} (estimate)."
    )
    return (Caution("note", CODE, text_),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Germs grow in tanks."""
    return (Reminder("Empty, clean and refill the mister's tank", 7, CODE),)
