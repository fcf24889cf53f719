"""In which order cautions are read: the gravest first, of one level those of one subject together."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from kits.planning.registry import ROLES
from kits.terms.plan import Caution

LEVELS = ("stop", "warning", "note")
ANIMALS, REST = "animals", "the kit"
# What a caution is about, by subject, in the order in which they are read.
SUBJECTS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "electricity": ("residual_current_device", "power_w", "timer", "lamp_holder", "dimmer"),
        "heat": ("basking_lamp", "night_heat", "thermostat", "day_temperature", "room", "thermometer"),
        "ultraviolet": ("uvb_lamp", "uvb_fixture"),
        ANIMALS: ("animals", "hide", "climb", "perches_mm", "supplement", "feeding_ledge"),
        "enclosure": ("enclosure", "style", "mesh_cover"),
        "soil and water": (
            *("depths_mm", "substrate", "drainage", "barrier", "drain_tube", "siphon_days", "mister"),
            *("hygrometer", "water_dish", "water_conditioner", "moss", "litter", "bark", "inoculant"),
        ),
        "plants and crew": ("planting", "plant", "plant_light", "cleanup_crew", "live"),
        "setting up": ("installed_kg", "figures"),
    }
)
ABOUT = {about: subject for subject, abouts in SUBJECTS.items() for about in abouts}


def subject_of(about: str) -> str:
    """The subject of a caution; a species is told among the animals.

    >>> subject_of("uvb_fixture"), subject_of("pogona-vitticeps"), subject_of("extra")
    ('ultraviolet', 'animals', 'the kit')
    """
    return ABOUT.get(about) or (ANIMALS if "-" in about else REST)


def in_order(told: Iterable[Caution]) -> tuple[Caution, ...]:
    """Each sentence once, at its gravest, as they are to be read."""
    by_text: dict[str, Caution] = {}
    for caution in sorted(told, key=_place):
        by_text.setdefault(caution.text, caution)
    return tuple(by_text.values())


def _place(caution: Caution) -> tuple[int, int, int]:
    subject, role = subject_of(caution.about), ROLES.get(caution.about)
    order = list(SUBJECTS).index(subject) if subject in SUBJECTS else len(SUBJECTS)
    return LEVELS.index(caution.level), order, 0 if role is None else role.ORDER
