"""Who may live with whom: cautions from the company figures of the animals, and stops on their sale."""

from collections.abc import Iterable, Sequence
from itertools import groupby

from kits.terms.build import Occupant
from kits.terms.facts import Subject
from kits.terms.plan import Caution

ABOUT = "animals"


def company_cautions(occupants: Sequence[Occupant]) -> tuple[Caution, ...]:
    """What speaks against these animals sharing one enclosure, each naming its figure."""
    ordered = sorted(occupants, key=lambda occupant: occupant.subject.code)
    by_species = [list(group) for _, group in groupby(ordered, key=lambda occupant: occupant.subject.code)]
    found = [caution for group in by_species for caution in _one_species(group)]
    return (*found, *_shared([group[0].subject for group in by_species]), *_mixed_ages(by_species))


def sale_stops(occupants: Iterable[Occupant]) -> tuple[Caution, ...]:
    """Species whose sale is stopped until the shop records its own figure."""
    stops = {o.subject.code: o.subject for o in occupants if o.subject.text("stop_sale")}
    return tuple(
        Caution("stop", code, f"{animal.name}: {animal.text('stop_sale')}")
        for code, animal in sorted(stops.items())
    )


def _one_species(group: Sequence[Occupant]) -> list[Caution]:
    animal, count = group[0].subject, sum(occupant.count for occupant in group)
    if count < 2:
        return []
    males, females = _of_sex(group, "male"), _of_sex(group, "female")
    company = animal.text("company")
    reasons = []
    if company == "solitary":
        reasons.append(f"{count} {animal.name} are planned; the species is kept alone")
    if company == "pair" and count > 2:
        reasons.append(f"{count} {animal.name} are planned; the species is kept as a pair")
    if company == "females" and males:
        reasons.append(f"{males} male {animal.name} would share; only females are kept together")
    if males > 1 and animal.value("males_together") is False:
        reasons.append(f"{males} male {animal.name} would share; males are never kept together")
    cautions = [Caution("warning", ABOUT, f"{reason}: {_rule(animal)}.") for reason in reasons]
    unknown = count - males - females
    if unknown and company != "solitary" and animal.value("males_together") is False:
        text = (
            f"The sex of {unknown} {animal.name} is unknown; males are never kept together: {_rule(animal)}."
        )
        cautions.append(Caution("warning", ABOUT, text))
    return cautions


def _of_sex(group: Iterable[Occupant], sex: str) -> int:
    return sum(occupant.count for occupant in group if occupant.sex == sex)


def _rule(animal: Subject) -> str:
    return f'"{animal.text("group_rule")}", {animal.credit("group_rule")}'


def _shared(species: Sequence[Subject]) -> tuple[Caution, ...]:
    if len(species) < 2:
        return ()
    names = ", ".join(animal.name for animal in species)
    text = f"{names} would share one enclosure; species are not mixed (common practice): ask a vet first."
    return (Caution("warning", ABOUT, text),)


def _mixed_ages(by_species: Iterable[Sequence[Occupant]]) -> tuple[Caution, ...]:
    return tuple(
        Caution(
            "warning", ABOUT, f"Young and adult {group[0].subject.name} would share; sizes are not mixed."
        )
        for group in by_species
        if len({occupant.stage for occupant in group}) > 1
    )
