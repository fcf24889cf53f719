"""Water from above: a hand sprayer for small boxes, a pump for large ones."""

from kits.terms.build import Build
from kits.terms.conditions import CATALOGUE_RULE, humid, humidity_pct, volume_l, yes
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import positive, text

CODE = "mister"
ORDER = 250
IN_SOIL = False
BY_HAND_UP_TO_L = 150.0


def needs(build: Build) -> tuple[Need, ...]:
    """One where the style or the animals want humid air."""
    low, _ = humidity_pct(build)
    if low is None or not (humid(build) or yes(build.style, CODE)):
        return ()
    litres = volume_l(build)
    kind = "hand" if litres <= BY_HAND_UP_TO_L else "pump"
    room = build.room.relative_humidity_pct
    because = (
        f"At least {low:g} % humidity in {litres:.0f} L of air in a room of {room:g} % ({CATALOGUE_RULE}).",
    )
    return (Need(CODE, count=1, wanted={"kind": kind}, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """Either kind does; the one that goes with the size of the box comes first."""
    kind, wanted = text(figures, "kind"), str(need.wanted["kind"])
    if kind not in ("hand", "pump"):
        return Fit(refusal="It is not recorded whether it is worked by hand or by a pump.")
    tank = positive(figures, "tank_l")
    because = f"It is worked by {'hand' if kind == 'hand' else 'a pump'}" + (
        f" and holds {tank:g} L." if tank else "."
    )
    return Fit(because=(because,), rank=0 if kind == wanted else 1)


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Wet boxes need dry plugs."""
    if figures is None:
        return ()
    text_ = (
        "Spray clean water of low hardness, let surfaces dry between sprays, and keep spray "
        "off lamps and sockets."
    )
    return (Caution("note", CODE, text_),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Germs grow in tanks."""
    return (Reminder("Empty, clean and refill the mister's tank", 7, CODE),)
