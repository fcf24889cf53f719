"""The first 30 days, from the empty box to the first full check. Common practice, no source."""

from kits.documents.content import Step

LAMPS = frozenset(("uvb_lamp", "plant_light", "basking_lamp", "night_heat"))
COVERS = frozenset(("litter", "moss", "bark"))
FUZZY = frozenset(("substrate", "litter", "climb"))


def steps(
    roles: frozenset[str], *, installed: str, has_animals: bool, eats_insects: bool = False
) -> tuple[Step, ...]:
    """What to do when, leaving out what this kit does not have."""
    living = _animal_steps(eats_insects=eats_insects) if has_animals else (Step("Day 30", PLANTS_ONLY),)
    found = (*_before(roles, installed), *_filling(roles), *_running(roles), *living)
    return tuple(step for step in found if step.text)


def _before(roles: frozenset[str], installed: str) -> tuple[Step, ...]:
    carries = f" on a stand that carries {installed}," if installed else ""
    plug = "residual_current_device" in roles
    return (
        Step("Day 0", PLACE.format(carries=carries)),
        Step("Day 0", READ_FIRST + (PLUG if plug else "")),
    )


def _filling(roles: frozenset[str]) -> tuple[Step, ...]:
    floor = (
        ("hide", "Set heavy hides and stones on the floor first. "),
        ("drainage", "Rinse the drainage until the water is clear and pour it level. "),
        ("barrier", "Lay the barrier over it up to all four walls. "),
        ("drain_tube", "Stand the drain tube in a corner, cut to length. "),
    )
    starter = " Mix the soil starter in." if "inoculant" in roles else ""
    return (
        Step("Day 1", "".join(text for role, text in floor if role in roles)),
        Step("Day 1", SOIL + starter if "substrate" in roles else ""),
        Step("Day 1", "Fix branches so that they cannot turn or fall." if "climb" in roles else ""),
        Step("Day 1", PLANTING if "plant" in roles else ""),
        Step("Day 1", "Spread litter, moss and bark last." if roles & COVERS else ""),
        Step("Day 2", CREW if "cleanup_crew" in roles else ""),
    )


def _running(roles: frozenset[str]) -> tuple[Step, ...]:
    return (
        Step(
            "Days 2 to 9",
            RUN + (WARM_UP if "basking_lamp" in roles else "") + READINGS
            if roles & LAMPS
            else "Write down the readings every day.",
        ),
        Step("Days 3 to 21", FUZZ if roles & FUZZY else ""),
        Step("Day 14", WATER if "drainage" in roles else ""),
    )


def _animal_steps(*, eats_insects: bool) -> tuple[Step, ...]:
    feeding = Step("From day 10", PREY if eats_insects else "")
    return (Step("From day 10", MOVING_IN), feeding, Step("Day 30", FIRST_CHECK))


PLACE = (
    "Set the empty enclosure where it will stay: level,{carries} out of the sun and of draughts. Try doors, "
    "locks and vents."
)
READ_FIRST = "Read the maker's instructions of every lamp and control before it is plugged in. "
PLUG = "Plug every cord in through the residual current device, each with a drip loop."
SOIL = (
    "Moisten the soil until a squeezed handful holds together and gives no more than a drop or two; pour it "
    "front to back as drawn and do not press it down."
)
PLANTING = "Wash the plants and their roots, plant them as drawn, and water them in."
CREW = "Tip the clean-up crew under the bark or litter, away from lamps."
RUN = "Run lamps, heat and timers with nobody inside. Fix each probe where an animal cannot move it. "
WARM_UP = "Of two heat lamps that would do begin with the one of fewer watts, dimmed, and work up. "
READINGS = (
    "Write down the warmest, the coolest and the night temperature and the humidity every day; change one "
    "thing at a time until all stay within the settings."
)
FUZZ = (
    "White fuzz on new wood and leaves is usual: the clean-up crew eats it. Air more, water less, and take "
    "out what smells foul."
)
WATER = "Look for water in the drainage layer and siphon it before it reaches the barrier."
MOVING_IN = (
    "The animal moves in once everything has stayed within the settings for seven days in a row. Leave it "
    "alone for a week but for food, water and readings."
)
PREY = (
    "Offer live insects no larger than the gap between the animal's eyes, and take out in the evening what "
    "it has not eaten."
)
FIRST_CHECK = (
    "Check every reading again, weigh the animal and write it down, and see a veterinarian who knows the "
    "species, with a fresh dropping, for a first check."
)
PLANTS_ONLY = "Trim the plants, top up what has sunk, and begin the upkeep calendar."
