"""The recipes of mixes as the shop has them: the parts of its own mixes, by the medium that each item is."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace

from inventory.models import MixPart
from kits.models import Profile
from kits.physics.mixes import SHRINKAGE
from kits.terms.facts import Figure, Subject
from kits.terms.profiles import INGREDIENT

OWN, PARTS = "own", "parts"
SOURCE = "the shop's own recipe"
Parts = Mapping[str, float]
Key = tuple[str, str]  # code and name of a mix


def with_own(published: Mapping[str, Subject], *, media: Mapping[str, Subject]) -> dict[str, Subject]:
    """The published mixes with the shop's recipes and measured shrinkage in their place; two queries.

    An item that is no ingredient, or one of an unknown medium, stands under its item code: no figure of the
    mix can be known then.
    """
    found = dict(published)
    recipes, measured = _parts(media)
    for (code, name), parts in recipes.items():
        known = published.get(code) or Subject("mix", code, name)
        if parts != _told(known):
            known = replace(known, name=name, figures=_own(known, parts))
        found[code] = replace(known, figures={**known.figures, **measured.get((code, name), {})})
    return found


def _parts(media: Mapping[str, Subject]) -> tuple[dict[Key, dict[str, float]], dict[Key, dict[str, Figure]]]:
    """The parts of each mix, and what the shop has measured of it."""
    mediums = dict(Profile.objects.filter(role=INGREDIENT).values_list("item__code", "figures__medium"))
    found: dict[Key, dict[str, float]] = defaultdict(lambda: defaultdict(float))
    measured: dict[Key, dict[str, Figure]] = {}
    mix = ("mix__code", "mix__name", "mix__shrinkage_pct", "mix__shrinkage_measured_on")
    for code, name, shrinkage, day, item, parts in MixPart.objects.order_by("pk").values_list(
        *mix, "item__code", "parts"
    ):
        medium = str(mediums.get(item, ""))
        found[code, name][medium if medium in media else f"item {item}"] += float(parts)
        if shrinkage is not None:
            source = f"measured by the shop on {day}"
            measured[code, name] = {SHRINKAGE: Figure(float(shrinkage), OWN, source, "%")}
    return found, measured


def _told(mix: Subject) -> Parts:
    return {
        name: float(figure.value)
        for name, figure in mix.figures.items()
        if figure.unit == PARTS and isinstance(figure.value, int | float)
    }


def _own(mix: Subject, parts: Parts) -> dict[str, Figure]:
    """The remarks on a mix, such as its styles, stay."""
    remarks = {name: figure for name, figure in mix.figures.items() if figure.unit != PARTS}
    return remarks | {name: Figure(amount, OWN, SOURCE, PARTS) for name, amount in parts.items()}
