"""What differs between two versions of a kit, and between a kit as quoted and its prices today."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

PlanJson = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class LineChange:
    """One item before and after; a quantity of 0 means that it is not in that kit."""

    item: str
    name: str
    quantity_before: int
    quantity_after: int
    total_before: str
    total_after: str


def line_changes(before: PlanJson, after: PlanJson) -> list[LineChange]:
    """Every item whose quantity or total differs, in the order of the kit that follows, gone ones last.

    >>> bag = {"item": "BAG", "name": "bag", "quantity": 2, "total": "9.00"}
    >>> [(c.quantity_before, c.quantity_after) for c in line_changes({"lines": [bag]}, {"lines": []})]
    [(2, 0)]
    """
    old, new = _by_item(before), _by_item(after)
    changes = []
    for item in [*new, *(item for item in old if item not in new)]:
        a, b = old.get(item, _NOTHING), new.get(item, _NOTHING)
        if a[1:] != b[1:]:
            changes.append(LineChange(item, b[0] or a[0], a[1], b[1], f"{a[2]:.2f}", f"{b[2]:.2f}"))
    return changes


def spec_changes(before: Mapping[str, Any], after: Mapping[str, Any]) -> list[tuple[str, str, str]]:
    """Every value of the spec that differs: its name, before, after; empty text for nothing said.

    >>> spec_changes({"style": "desert"}, {"style": "desert", "depths_mm": {"litter": 25}})
    [('depths mm, litter', '', '25')]
    """
    old, new = dict(_flat(before)), dict(_flat(after))
    return [
        (name, old.get(name, ""), new.get(name, ""))
        for name in dict.fromkeys([*old, *new])
        if old.get(name) != new.get(name)
    ]


_NOTHING = ("", 0, Decimal(0))


def _by_item(plan: PlanJson) -> dict[str, tuple[str, int, Decimal]]:
    lines: dict[str, tuple[str, int, Decimal]] = {}
    for line in plan["lines"]:
        _, quantity, total = lines.get(line["item"], _NOTHING)
        lines[line["item"]] = (line["name"], quantity + line["quantity"], total + Decimal(line["total"]))
    return lines


def _flat(value: Any, name: str = "") -> Iterator[tuple[str, str]]:
    if isinstance(value, Mapping):
        for key, inner in value.items():
            words = str(key).replace("_", " ")
            yield from _flat(inner, f"{name}, {words}" if name else words)
    elif isinstance(value, list) and any(isinstance(entry, Mapping) for entry in value):
        for place, entry in enumerate(value, start=1):
            yield from _flat(entry, f"{name} {place}")
    elif isinstance(value, list):
        yield name, ", ".join(map(str, value))
    elif value is not None:
        yield name, str(value)
