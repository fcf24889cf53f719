"""All that is known: published figures with the shop's own figures and recipes in their place."""

from collections import defaultdict

from kits.models import Figure, FigureOverride, Subject
from kits.selectors import recipes
from kits.selectors.catalogue import CatalogueKey, KeptByCatalogue
from kits.terms.facts import Facts
from kits.terms.facts import Figure as KnownFigure
from kits.terms.facts import Subject as KnownSubject

OWN = "own"
Figures = dict[int, dict[str, KnownFigure]]


def facts(at: CatalogueKey | None = None) -> Facts:
    """Every subject with its figures; six queries after a change of the catalogue, else one.

    `at` is the catalogue's key where it is known already: one query less.
    """
    return _KEPT.value(at)


def _make(version: int) -> Facts:
    figures = _published()
    _put_own(figures)
    by_kind: dict[str, dict[str, KnownSubject]] = defaultdict(dict)
    for pk, kind, code, name, english in Subject.objects.values_list(
        "pk", "kind", "code", "name", "english_name"
    ):
        by_kind[kind][code] = KnownSubject(kind, code, name, english, figures.get(pk, {}))
    return Facts(
        animals=by_kind["animal"],
        plants=by_kind["plant"],
        cleanup=by_kind["cleanup"],
        enclosures=by_kind["enclosure"],
        styles=by_kind["style"],
        media=by_kind["medium"],
        mixes=recipes.with_own(by_kind["mix"], media=by_kind["medium"]),
        version=version,
    )


def _published() -> Figures:
    figures: Figures = defaultdict(dict)
    columns = ("subject_id", "field", "value", "mark", "source", "unit")
    for subject, field, value, mark, source, unit in Figure.objects.values_list(*columns):
        figures[subject][field] = KnownFigure(value, mark, source, unit)
    return figures


def _put_own(figures: Figures) -> None:
    columns = ("subject_id", "field", "value", "why", "by")
    for subject, field, value, why, by in FigureOverride.objects.values_list(*columns):
        published = figures[subject].get(field)
        unit = published.unit if published else ""
        figures[subject][field] = KnownFigure(value, OWN, f"{why} ({by})", unit)


_KEPT = KeptByCatalogue(_make)
