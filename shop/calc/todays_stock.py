"""A plan as it was promised, with the stock of this moment written over it."""

from collections.abc import Iterator, Mapping
from typing import Any

PlanJson = Mapping[str, Any]


def items_named(plan: PlanJson) -> set[str]:
    """Every item code that a plan or one of its substitutes names."""
    return set(_named(plan))


def with_free(plan: PlanJson, free: Mapping[str, int]) -> dict[str, Any]:
    """The same lines at the same prices, with `free`, `missing`, `status` and `complete` as of now.

    An item on several lines counts once: what an earlier line takes is not free for a later one.

    >>> line = {"item": "BAG", "quantity": 3, "substitutes": []}
    >>> fresh = with_free({"lines": [line, line], "unmet": []}, {"BAG": 4})
    >>> [(line["status"], line["free"], line["missing"]) for line in fresh["lines"]]
    [('free', 4, 0), ('short', 1, 2)]
    >>> fresh["complete"]
    False
    """
    left = dict(free)
    lines = []
    for line in plan["lines"]:
        available = max(left.get(line["item"], 0), 0)
        left[line["item"]] = available - min(available, line["quantity"])
        lines.append(
            {**line, **_status(line["quantity"], available), "substitutes": _substitutes(line, free)}
        )
    complete = not plan["unmet"] and all(line["status"] == "free" for line in lines)
    return {**plan, "lines": lines, "complete": complete}


def _named(plan: PlanJson) -> Iterator[str]:
    for line in plan["lines"]:
        yield line["item"]
        for substitute in line["substitutes"]:
            yield from (entry["item"] for entry in substitute["items"])


def _status(quantity: int, available: int) -> dict[str, Any]:
    status = "free" if available >= quantity else "short" if available else "none"
    return {"status": status, "free": available, "missing": max(quantity - available, 0)}


def _substitutes(line: PlanJson, free: Mapping[str, int]) -> list[dict[str, Any]]:
    return [{**substitute, "free": _times(substitute["items"], free)} for substitute in line["substitutes"]]


def _times(items: list[dict[str, Any]], free: Mapping[str, int]) -> int:
    return min((free.get(entry["item"], 0) // entry["quantity"] for entry in items), default=0)
