"""Water from above: a hand sprayer for small boxes, a pump for large ones."""

from kits.effects.airing import warm_air_c
from kits.effects.moisture import minutes_a_day, sprayed_l_day
from kits.effects.warmth import pane
from kits.physics.heat import pane_u_value
from kits.physics.vapour import fogging_humidity_pct
from kits.terms.build import Build
from kits.terms.conditions import humid, humidity_pct, yes
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import positive, text, wanted_number

CODE = "mister"
ORDER = 250
IN_SOIL = False
BY_HAND_L_DAY = 0.3  # more than that nobody sprays by hand every day; common practice, no source
LONGEST_MIN_DAY = 60.0  # a mister that runs longer is too weak for the box; common practice, no source


def needs(build: Build) -> tuple[Need, ...]:
    """One where the style or the animals want humid air."""
    low, _ = humidity_pct(build)
    if low is None or not (humid(build) or yes(build.style, CODE)):
        return ()
    litres = sprayed_l_day(build)
    because = (
        f"At least {low:g} % humidity in a room of {build.room.relative_humidity_pct:g} % "
        f"takes {litres:.2f} L sprayed a day (estimate).",
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
            refusal=f"It would run {minutes:.0f} minutes a day; {LONGEST_MIN_DAY:.0f} are the most.",
            remedy="Cover more of the mesh, or take a room that is less dry.",
        )
    tank = positive(figures, "tank_l")
    lasts = f" and its tank of {tank:g} L lasts {tank / litres:.0f} days" if tank and litres > 0 else ""
    because = (
        f"It is worked by {'hand' if kind == 'hand' else 'a pump'}; {litres:.2f} L a day take "
        f"{minutes:.1f} minutes{lasts} (estimate).",
    )
    by_hand = litres <= BY_HAND_L_DAY
    shown = {"misting_min_day": round(minutes, 1)}
    return Fit(because=because, figures=shown, rank=0 if (kind == "hand") == by_hand else 1)


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
    if build.box.wall_material != "glass" or high is None or fogs >= high:
        return ()
    text_ = (
        f"At {warm_c:.0f} C inside and {room_c:g} C in the room the glass fogs above {fogs:.0f} % humidity: "
        "that is water, not a fault; wipe it, or warm the room (estimate)."
    )
    return (Caution("note", CODE, text_),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Germs grow in tanks."""
    return (Reminder("Empty, clean and refill the mister's tank", 7, CODE),)
