"""The published facts of kits/data as pure subjects, for tests of planning that need no database."""

import csv
from functools import cache
from pathlib import Path

import kits
from kits.terms.facts import Facts, Figure, Subject

FOLDER = Path(kits.__file__).parent / "data"
TABLES = {
    "animal": "animals",
    "plant": "plants",
    "cleanup": "cleanup",
    "enclosure": "enclosures",
    "style": "styles",
    "medium": "media",
}


@cache
def known_facts():
    names = {(row["kind"], row["code"]): row for row in _rows("subjects")}
    return Facts(*(_subjects(kind, table, names) for kind, table in TABLES.items()), mixes=_mixes())


def _subjects(kind, table, names):
    figures = {}
    for row in _rows(table):
        value = _value(row["value"], row["unit"])
        figures.setdefault(row["code"], {})[row["field"]] = Figure(
            value, row["mark"], row["source"], row["unit"]
        )
    return {
        code: Subject(kind, code, names[kind, code]["name"], names[kind, code]["english_name"], of_code)
        for code, of_code in figures.items()
    }


def _mixes():
    recipes = {}
    for row in _rows("mixes"):
        figures = recipes.setdefault((row["code"], row["name"]), {})
        figures[row["medium"]] = Figure(float(row["parts"]), row["mark"], row["source"], "parts")
    return {code: Subject("mix", code, name, "", figures) for (code, name), figures in recipes.items()}


def _rows(table):
    with (FOLDER / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _value(text, unit):
    if unit == "yes/no":
        return text == "yes"
    return text if unit == "text" else float(text)
