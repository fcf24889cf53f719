"""The switch that cuts off mains electricity before it flows through a person or an animal."""

from kits.terms.build import Build
from kits.terms.conditions import mains, wet
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive

CODE = "residual_current_device"
ORDER = 310
IN_SOIL = False
MOST_TRIP_MA = 30.0


def needs(build: Build) -> tuple[Need, ...]:
    """One where mains electricity meets water."""
    if not mains(build) or not wet(build):
        return ()
    return (Need(CODE, count=1, because=("Mains electricity meets water here.",)),)


def fit(need: Need, figures: Figures) -> Fit:
    """It must trip at 30 mA or less (BS 7671 and IEC 60364, from memory; 5 mA Class A in the US)."""
    trip, watts = positive(figures, "trip_ma"), positive(figures, "max_watts")
    if trip is None or watts is None:
        return missing("trip_ma or max_watts")
    if trip > MOST_TRIP_MA:
        return Fit(refusal=f"It trips at {trip:g} mA, more than {MOST_TRIP_MA:g} mA.")
    return Fit(because=(f"It trips at {trip:g} mA.",))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Water and mains can kill."""
    text_ = (
        "Mains electricity beside water can kill: run everything through a residual current "
        "device (5 mA Class A "
        "GFCI in the US, 30 mA elsewhere), let every cord hang in a drip loop below its outlet, "
        "and ask a licensed "
        "electrician where in doubt."
    )
    found = [Caution("warning", CODE, text_)]
    if figures is None:
        found.append(Caution("warning", CODE, "No residual current device is part of this kit."))
    return tuple(found)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Test it."""
    return (Reminder("Press the test button of the residual current device", 30, CODE),)
