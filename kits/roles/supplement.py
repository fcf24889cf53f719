"""Calcium and vitamins for animals that do not eat whole vertebrates."""

from kits.terms.build import Build, Occupant
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import text

CODE = "supplement"
ORDER = 290
IN_SOIL = False
WHOLE_PREY = ("mice", "rats", "rodents")


def needs(build: Build) -> tuple[Need, ...]:
    """Calcium and vitamins; calcium with D3 first where there is little UVB."""
    eaters = [occupant for occupant in build.occupants if not _eats_whole_prey(occupant)]
    if not eaters:
        return ()
    little_uv = (build.climate.uv_zone_hi or 0) <= 1
    calcium = ("calcium-d3", "calcium") if little_uv else ("calcium", "calcium-d3")
    names = ", ".join(sorted({occupant.subject.english_name or occupant.subject.name for occupant in eaters}))
    because = (f"The food of {names} lacks calcium and vitamins.",)
    return (
        Need(CODE, slot="calcium", count=1, wanted={"kinds": calcium}, because=because),
        Need(CODE, slot="vitamin", count=1, wanted={"kinds": ("vitamin",)}, because=because),
    )


def _eats_whole_prey(occupant: Occupant) -> bool:
    return any(word in occupant.subject.text("diet") for word in WHOLE_PREY)


def fit(need: Need, figures: Figures) -> Fit:
    """The wanted kind; the better one first."""
    kind, kinds = text(figures, "kind"), need.wanted["kinds"]
    assert isinstance(kinds, tuple)
    if kind not in kinds:
        return Fit(refusal=f"It is {kind or 'of no recorded kind'}, wanted is {' or '.join(kinds)}.")
    return Fit(because=(f"It is {kind}.",), rank=kinds.index(kind))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Too much harms too."""
    if figures is None:
        return ()
    return (
        Caution(
            "note", CODE, "Dose supplements as the maker says and ask a vet: too much vitamin A or D harms."
        ),
    )


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Vitamins age."""
    return (Reminder("Replace opened supplements", 180, CODE),)
