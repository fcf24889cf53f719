"""Bringing the published figures of the data files into the database.

One row of a file is one figure with its unit, mark and source; `sources.csv` explains the tags in brackets.
Figures that were published together carry the mark of the weakest of them. Left out as too weak to sell by:
body mass and life span from memory alone, and the light that a plant was only classed by from memory
(its class stays). Loaded but never offered by a kit: plants listed toxic or of unknown toxicity.
"""

import csv
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from django.db import transaction

from kits.models import Figure, Subject

FOLDER = Path(__file__).resolve().parents[1] / "data"
TABLES = {
    "animals": "animal",
    "plants": "plant",
    "cleanup": "cleanup",
    "enclosures": "enclosure",
    "styles": "style",
    "media": "medium",
}
MIXES, MIX = "mixes", "mix"

SubjectKey = tuple[str, str]  # kind and code
FigureKey = tuple[str, str, str]  # kind, code and field
FigureRow = tuple[object, str, str, str]  # value, unit, mark, source


@dataclass(frozen=True, slots=True)
class Published:
    """What the data files say."""

    subjects: Mapping[SubjectKey, tuple[str, str]]  # name and English name
    figures: Mapping[FigureKey, FigureRow]


@dataclass(frozen=True, slots=True)
class Loaded:
    """How many rows there are now, and how many had to be written or removed."""

    subjects: int
    figures: int
    written: int
    removed: int


def load_facts() -> Loaded:
    """Make subjects and figures equal to the data files; overrides stay, unchanged rows are not touched.

    Refuses nothing. A second run writes nothing, so the catalogue version stays as it is.
    A withdrawn subject stays for as long as an override speaks of it.
    """
    published = read_published()
    with transaction.atomic():
        ids, written_subjects = _write_subjects(published)
        written_figures, removed_figures = _write_figures(published, ids)
        removed_subjects = _remove_withdrawn_subjects(published, ids)
    return Loaded(
        subjects=len(published.subjects),
        figures=len(published.figures),
        written=written_subjects + written_figures,
        removed=removed_figures + removed_subjects,
    )


def read_published(folder: Path = FOLDER) -> Published:
    """The data files as one value; a figure of an unknown subject is refused by KeyError."""
    subjects = {
        (row["kind"], row["code"]): (row["name"], row["english_name"]) for row in _rows(folder, "subjects")
    }
    figures = {
        (kind, row["code"], row["field"]): (_value(row), row["unit"], row["mark"], row["source"])
        for table, kind in TABLES.items()
        for row in _rows(folder, table)
    }
    recipes = list(_rows(folder, MIXES))
    names = {(MIX, row["code"]): (row["name"], "") for row in recipes}
    return Published(subjects | names, figures | _recipe_figures(recipes))


def _recipe_figures(recipes: Iterable[Mapping[str, str]]) -> dict[FigureKey, FigureRow]:
    """A house mix as a subject: a figure for each medium in it, in parts by volume, and its styles."""
    figures: dict[FigureKey, FigureRow] = {}
    for row in recipes:
        told = (row["mark"], row["source"])
        figures[MIX, row["code"], row["medium"]] = (int(row["parts"]), "parts", *told)
        figures[MIX, row["code"], "styles"] = (row["styles"], "text", *told)
    return figures


def _rows(folder: Path, table: str) -> Iterator[dict[str, str]]:
    with (folder / f"{table}.csv").open(encoding="utf-8", newline="") as handle:
        yield from csv.DictReader(handle)


def _value(row: Mapping[str, str]) -> str | bool | int | float:
    text, unit = row["value"], row["unit"]
    if unit == "text":
        return text
    if unit == "yes/no":
        return {"yes": True, "no": False}[text]
    number = float(text)
    return int(number) if number.is_integer() else number


def _write_subjects(published: Published) -> tuple[dict[SubjectKey, int], int]:
    """Ids of all subjects by key, and how many were written."""
    rows = Subject.objects.values_list("kind", "code", "name", "english_name")
    found = {(kind, code): (name, english) for kind, code, name, english in rows}
    changed = [
        Subject(kind=kind, code=code, name=names[0], english_name=names[1])
        for (kind, code), names in published.subjects.items()
        if found.get((kind, code)) != names
    ]
    Subject.objects.bulk_create(
        changed,
        update_conflicts=True,
        unique_fields=["kind", "code"],
        update_fields=["name", "english_name"],
    )
    ids = {(kind, code): pk for pk, kind, code in Subject.objects.values_list("pk", "kind", "code")}
    return ids, len(changed)


def _write_figures(published: Published, ids: Mapping[SubjectKey, int]) -> tuple[int, int]:
    """How many figures were written and how many removed."""
    columns = ("subject_id", "field", "pk", "value", "unit", "mark", "source")
    found = {(row[0], row[1]): row[2:] for row in Figure.objects.values_list(*columns)}
    wanted = {(ids[kind, code], field): row for (kind, code, field), row in published.figures.items()}
    changed = [
        Figure(subject_id=subject, field=field, value=row[0], unit=row[1], mark=row[2], source=row[3])
        for (subject, field), row in wanted.items()
        if (subject, field) not in found or found[subject, field][1:] != row
    ]
    Figure.objects.bulk_create(
        changed,
        batch_size=1000,
        update_conflicts=True,
        unique_fields=["subject", "field"],
        update_fields=["value", "unit", "mark", "source"],
    )
    withdrawn = [row[0] for key, row in found.items() if key not in wanted]
    if withdrawn:
        Figure.objects.filter(pk__in=withdrawn).delete()
    return len(changed), len(withdrawn)


def _remove_withdrawn_subjects(published: Published, ids: Mapping[SubjectKey, int]) -> int:
    withdrawn = [pk for key, pk in ids.items() if key not in published.subjects]
    if not withdrawn:
        return 0
    removable = Subject.objects.filter(pk__in=withdrawn, overrides=None)
    count = removable.count()
    removable.delete()
    return count
