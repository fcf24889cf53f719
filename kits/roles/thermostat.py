"""The thermostat that every heater runs on."""

from kits.terms.build import Build
from kits.terms.conditions import wants_basking, wants_night_heat
from kits.terms.needs import Coupling, Figures, Fit, Need, Tie
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, words

CODE = "thermostat"
ORDER = 170
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """One for each heater."""
    loads = [("basking_lamp", wants_basking(build)), ("night_heat", wants_night_heat(build))]
    return tuple(
        Need(
            CODE,
            slot=load,
            count=1,
            wanted={"load": load},
            serves=load,
            because=(f"It cuts off the {load.replace('_', ' ')}.",),
        )
        for load, wanted in loads
        if wanted and not build.goes_without(load)
    )


def fit(need: Need, figures: Figures) -> Fit:
    """A thermostat that may control this load."""
    watts, loads, load = positive(figures, "max_watts"), words(figures, "for"), str(need.wanted["load"])
    if watts is None:
        return missing("max_watts")
    wanted = load.replace("_", " ")
    if not loads:
        return Fit(refusal=f"What it may control is not recorded; a {wanted} is to be controlled.")
    if load not in loads:
        controls = " or a ".join(known.replace("_", " ") for known in loads)
        return Fit(refusal=f"It may control a {controls}, not a {wanted}.")
    return Fit(
        because=(f"It controls a {wanted} of up to {watts:g} W.",),
        rank=int(load == "basking_lamp" and figures.get("kind") != "dimming"),  # else the lamp flickers
    )


def coupling(figures: Figures) -> Coupling:
    """Control of each load that it is made for, up to its rated watts."""
    watts = positive(figures, "max_watts")
    loads = () if watts is None else words(figures, "for")
    return Coupling(offers=tuple(Tie("control", load, watts or 0.0) for load in loads))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """A heater without a thermostat cooks."""
    level, text_ = (
        "note",
        "Fix the thermostat's probe where an animal cannot move it, and check it with a thermometer.",
    )
    if figures is None:
        level, text_ = "stop", "No heater may run without a thermostat."
    return (Caution(level, CODE, text_),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Probes drift."""
    return (Reminder("Check the thermostat against a second thermometer", 30, CODE),)
