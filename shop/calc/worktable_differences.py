"""What differs between two build specs, or between a kit as quoted and as it is today, in sentences."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from shop.calc.words import words_of
from shop.calc.worktable_fields import NUMBERS, owned_roles, texts_of

MOST_TOLD = 12
WORDS = {
    **{name: words for name, (_, words) in NUMBERS.items()},
    "animal": "animal",
    "count": "number of animals",
    "stage": "stage",
    "sex": "sex",
    "enclosure": "enclosure",
    "style": "style",
    "planting": "planting",
    "fill": "fill",
    "units": "units",
}


def spec_differences(
    mine: Mapping[str, Any], theirs: Mapping[str, Any], *, name: Callable[[str], str] = words_of
) -> list[str]:
    """What theirs says otherwise than mine; `name` gives the words that people know a code by.

    >>> spec_differences({"style": "desert"}, {"style": "desert", "depths_mm": {"litter": 25}})
    ['litter: nothing said, theirs 25']
    """
    return list(_spec_differences(mine, theirs, name))[:MOST_TOLD]


def plan_differences(quoted: Mapping[str, Any], today: Mapping[str, Any]) -> list[str]:
    """What today's plan of the same spec has otherwise than the quoted one; empty when nothing changed."""
    before, now = _lines(quoted), _lines(today)
    found = [*_gone(before, now), *_changed(before, now)]
    if quoted["totals"]["gross"] != today["totals"]["gross"]:
        found.append(f"total {quoted['totals']['gross']} → {today['totals']['gross']}")
    return found[: MOST_TOLD + 1]


def _spec_differences(
    mine: Mapping[str, Any], theirs: Mapping[str, Any], name: Callable[[str], str]
) -> Iterator[str]:
    a, b = texts_of(mine), texts_of(theirs)
    for field, words in WORDS.items():
        if a[field] != b[field]:
            here, there = (
                text if field in NUMBERS or not text else name(text) for text in (a[field], b[field])
            )
            yield f"{words}: {here or 'nothing said'}, theirs {there or 'nothing said'}"
    for words, ours, other in (
        ("customer has", _owned(mine, name), _owned(theirs, name)),
        ("left out", _left_out(mine, name), _left_out(theirs, name)),
        ("extras", _extras(mine, name), _extras(theirs, name)),
        ("chosen", _chosen(mine, name), _chosen(theirs, name)),
    ):
        if sorted(ours) != sorted(other):
            yield f"{words}: {_listed(ours)}, theirs {_listed(other)}"
    if (
        mine.get("perches_mm") != theirs.get("perches_mm")
        or mine.get("animals", [])[1:] != theirs.get("animals", [])[1:]
    ):
        yield "perches or further animals differ"


def _listed(names: list[str]) -> str:
    return ", ".join(sorted(names)) or "nothing"


def _owned(spec: Mapping[str, Any], name: Callable[[str], str]) -> list[str]:
    return [name(role) for role in owned_roles(spec)]


def _left_out(spec: Mapping[str, Any], name: Callable[[str], str]) -> list[str]:
    return [
        name(one) if isinstance(one, str) else f"{name(one['role'])} {name(one['item'])}"
        for one in spec.get("without", ())
    ]


def _extras(spec: Mapping[str, Any], name: Callable[[str], str]) -> list[str]:
    return [f"{entry.get('quantity', 1)} x {name(entry['item'])}" for entry in spec.get("extra", ())]


def _chosen(spec: Mapping[str, Any], name: Callable[[str], str]) -> list[str]:
    return [name(item) for items in spec.get("choose", {}).values() for item in items]


def _lines(plan: Mapping[str, Any]) -> dict[tuple[str, str], Mapping[str, Any]]:
    return {(line["role"], line["item"]): line for line in plan["lines"]}


def _gone(before: Mapping[Any, Any], now: Mapping[Any, Any]) -> Iterator[str]:
    yield from (f"no longer {before[key]['name']}" for key in before if key not in now)
    yield from (f"now {now[key]['name']}" for key in now if key not in before)


def _changed(before: Mapping[Any, Any], now: Mapping[Any, Any]) -> Iterator[str]:
    for key in before:
        if key not in now:
            continue
        old, new = before[key], now[key]
        if old["each"] != new["each"]:
            yield f"{new['name']}: {old['each']} → {new['each']} each"
        if old["quantity"] != new["quantity"]:
            yield f"{new['name']}: {old['quantity']} → {new['quantity']}"
