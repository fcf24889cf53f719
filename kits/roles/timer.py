"""The timer that makes day and night."""

from collections.abc import Sequence

from kits.physics.power import CONTINUOUS_SHARE
from kits.terms.build import Build
from kits.terms.conditions import lit_loads
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive

CODE = "timer"
ORDER = 190
IN_SOIL = False
AFTER_LAMPS = True  # its outlets are counted against the plugs of the lamps that were chosen
SPOKEN = {"uvb_lamp": "UVB lamp"}


def needs(build: Build) -> tuple[Need, ...]:
    """An outlet for each plug; lamps share a timer as far as its outlets and watts go."""
    loads = lit_loads(build)
    if not loads:
        return ()
    plugs = build.timed or tuple((load, 0.0) for load in loads)
    watts = sum(watts for _, watts in plugs)
    together = f", {watts:g} W together" if all(watts > 0 for _, watts in plugs) else ""
    because = f"It switches {_counted(plugs)}: {_outlets(len(plugs))}{together}."
    wanted = {"plugs_w": tuple(watts for _, watts in plugs)}
    return (Need(CODE, count=len(plugs), wanted=wanted, because=(because, *_same_hours(loads))),)


def _same_hours(loads: Sequence[str]) -> tuple[str, ...]:
    """Most timers switch all of their outlets together."""
    if "basking_lamp" not in loads or len(loads) == 1:
        return ()
    return ("Lamps on one timer keep the same hours: for a shorter basking time take a timer more.",)


def _counted(plugs: Sequence[tuple[str, float]]) -> str:
    kinds: dict[str, int] = {}
    for role, _ in plugs:
        kinds[role] = kinds.get(role, 0) + 1
    return ", ".join(f"{_named(role)}" + (f" x {n}" if n > 1 else "") for role, n in kinds.items())


def _named(role: str) -> str:
    return SPOKEN.get(role, role.replace("_", " "))


def _outlets(number: int) -> str:
    return f"{number} outlet{'s' if number > 1 else ''}"


def fit(need: Need, figures: Figures) -> Fit:
    """As many as it takes by outlets and by what each may carry for hours."""
    watts, outlets = positive(figures, "max_watts"), max(1, int(positive(figures, "outlets") or 1.0))
    if watts is None:
        return missing("max_watts")
    limit = CONTINUOUS_SHARE * watts
    plugs = _watts(need)
    said = f"{_outlets(outlets)}, {watts:g} W, of which {limit:g} W for hours on end"
    if max(plugs) > limit:
        return Fit(refusal=f"It has {said}; one lamp draws {max(plugs):g} W.")
    pieces = _pieces(plugs, outlets, limit)
    return Fit(because=(f"It has {said}.",), each=len(plugs) / pieces)


def _watts(need: Need) -> tuple[float, ...]:
    known = need.wanted.get("plugs_w")
    return known if isinstance(known, tuple) else (0.0,) * max(1, need.count)


def _pieces(plugs: Sequence[float], outlets: int, limit_w: float) -> int:
    """Timers that carry all plugs: each plug, large ones first, into the first with room for it."""
    timers: list[list[float]] = []
    for watts in sorted(plugs, reverse=True):
        room = (one for one in timers if len(one) < outlets and sum(one) + watts <= limit_w)
        timer = next(room, None)
        if timer is None:
            timers.append([watts])
        else:
            timer.append(watts)
    return len(timers)


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Nothing to warn of beyond the ratings."""
    return ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Clocks drift, seasons change."""
    return (Reminder("Check the timer's clock and set the hours of the season", 30, CODE),)
