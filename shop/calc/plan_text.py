"""A plan as text for the terminal: the parts list aligned, every state a shape and a word."""

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import Any

from kits.planning.caution_order import subject_of
from kits.terms.counting import counted
from kits.terms.rounding import figure

SHAPES = {"free": "● free", "short": "◐ short", "none": "○ none"}
LEVELS = {"stop": "■ stop", "warning": "▲ warning", "note": "· note"}
HEADINGS = ("No", "Status", "Quantity", "Item", "Name", "Each", "Total")
RIGHT = {0, 5, 6}
NAME_COLUMN = 4
NARROWEST_NAME = 16
INDENT = " " * 4
SHOWN = ("wanted ", "no bound ", "inside,", "by its outside,")  # clauses of a working beside its figure

Json = Mapping[str, Any]


def as_text(plan: Json, *, width: int = 120, why: bool = False) -> str:
    """The whole plan in at most about `width` columns; `why` adds reasons of lines and sources of figures."""
    blocks = [
        _heading(plan),
        _parts(plan, width, why=why),
        _unmet(plan, width),
        _totals(plan),
        _cautions(plan, width),
        _figures(plan, width, why=why),
        _calendar(plan),
        [_verdict(plan)],
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _heading(plan: Json) -> list[str]:
    spec = plan["spec"]
    enclosure = spec.get("enclosure", {})
    inside = enclosure.get("interior_mm")
    size = enclosure.get("size") or " x ".join(f"{inside[side]:g}" for side in inside or ()) + " mm inside"
    animals = ", ".join(f"{a.get('count', 1)} x {a['species']}" for a in spec.get("animals", ()))
    title = " · ".join(part for part in (size, spec.get("style", ""), animals or "no animal") if part)
    return [f"KIT  {title}"]


def _parts(plan: Json, width: int, *, why: bool) -> list[str]:
    if not plan["lines"]:
        return ["PARTS LIST", f"{INDENT}nothing is needed"]
    rows = [HEADINGS, *(_row(number, line) for number, line in enumerate(plan["lines"], start=1))]
    widths = _widths(rows, width)
    printed = ["PARTS LIST", _aligned(HEADINGS, widths), _aligned(["─" * size for size in widths], widths)]
    said: Sequence[str] = ()  # packs of one product are there for one reason
    for line, row in zip(plan["lines"], rows[1:], strict=True):
        printed.append(_aligned(row, widths))
        printed += _wrapped(_remarks(line, why=why and line["because"] != said), width, first=INDENT * 2)
        said = line["because"]
    return printed


def _row(number: int, line: Json) -> tuple[str, ...]:
    return (
        str(number),
        SHAPES[line["status"]],
        counted(line["quantity"], line["unit"]),
        line["item"],
        _plain(line["name"]),
        line["each"],
        line["total"],
    )


def _widths(rows: Sequence[Sequence[str]], width: int) -> list[int]:
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEADINGS))]
    too_wide = sum(widths) + 2 * (len(widths) - 1) - width
    if too_wide > 0:
        widths[NAME_COLUMN] = max(widths[NAME_COLUMN] - too_wide, NARROWEST_NAME)
    return widths


def _aligned(row: Sequence[str], widths: Sequence[int]) -> str:
    cells = (
        _cut(cell, size).rjust(size) if column in RIGHT else _cut(cell, size).ljust(size)
        for column, (cell, size) in enumerate(zip(row, widths, strict=True))
    )
    return "  ".join(cells).rstrip()


def _remarks(line: Json, *, why: bool) -> Iterator[str]:
    if why and line["because"]:
        yield f"because: {' '.join(line['because'])}"
    if not line["missing"]:
        return
    yield f"{line['free']} free, {line['missing']} missing"
    for substitute in line["substitutes"]:
        items = " + ".join(f"{entry['quantity']} x {entry['item']}" for entry in substitute["items"])
        reasons = "; ".join(substitute["because"])
        yield f"instead: {items} for {substitute['total']}" + (f" ({reasons})" if reasons else "")


def _unmet(plan: Json, width: int) -> list[str]:
    if not plan["unmet"]:
        return []
    sentences = (f"✗ {unmet['role']}: {unmet['because']}" for unmet in plan["unmet"])
    return ["UNMET", *_wrapped(sentences, width)]


def _totals(plan: Json) -> list[str]:
    totals = plan["totals"]
    size = max(len(totals[key]) for key in ("net", "tax", "gross"))
    lines = [f"{INDENT}{key:<6}{totals[key]:>{size}} {totals['currency']}" for key in ("net", "tax", "gross")]
    return ["TOTALS", *lines]


def _cautions(plan: Json, width: int) -> list[str]:
    """Under one head what is of one level and one subject, in the order of the plan."""
    if not plan["cautions"]:
        return []
    printed = ["CAUTIONS"]
    for (level, subject), told in groupby(plan["cautions"], lambda c: (c["level"], subject_of(c["about"]))):
        printed.append(f"{INDENT}{LEVELS[level]}, {subject}")
        printed += _wrapped((caution["text"] for caution in told), width, first=INDENT * 2)
    return printed


def _figures(plan: Json, width: int, *, why: bool) -> list[str]:
    """Each figure with its unit, how far it may be off and what is wanted of it."""
    if not plan["figures"]:
        return []
    workings = {working["figure"]: working for working in plan["workings"]}
    size = max(map(len, plan["figures"]))
    printed = ["FIGURES (estimates; check with instruments)"]
    for name, value in plan["figures"].items():
        working = workings.get(name, {})
        amount = f"{_number(name, value)} {_unit(working.get('unit', ''))}".rstrip()
        beside = "; ".join(_beside(working.get("note", "")))
        printed.append(f"{INDENT}{name:<{size}}  {amount}{f'  ({beside})' if beside else ''}")
        printed += _wrapped(_source(working) if why else iter(()), width, first=INDENT * 2)
    return printed


def _beside(note: str) -> Iterator[str]:
    """What a reader of the bare figure would miss: the clauses on its doubt and on what is wanted."""
    clauses = (clause.partition(",")[0] if "either way" in clause else clause for clause in note.split("; "))
    return (clause for clause in clauses if clause.startswith(SHOWN) or clause.endswith("either way"))


def _source(working: Json) -> Iterator[str]:
    if working:
        yield f"worked out: {working['formula']}; source: {working['source']}"


def _calendar(plan: Json) -> list[str]:
    if not plan["calendar"]:
        return []
    size = max(len(str(entry["every_days"])) for entry in plan["calendar"])
    lines = [f"{INDENT}every {e['every_days']:>{size}} days  {e['what']}" for e in plan["calendar"]]
    return ["UPKEEP", *lines]


def _verdict(plan: Json) -> str:
    if plan["complete"]:
        return "● Complete: every line is free."
    counts = {state: sum(line["status"] == state for line in plan["lines"]) for state in ("short", "none")}
    counts["unmet"] = len(plan["unmet"])
    return "◐ Not complete: " + ", ".join(f"{count} {word}" for word, count in counts.items() if count) + "."


def _wrapped(sentences: Iterator[str], width: int, first: str = INDENT) -> list[str]:
    return [
        row
        for sentence in sentences
        for row in textwrap.wrap(
            _plain(sentence), max(width, 40), initial_indent=first, subsequent_indent=first + INDENT
        )
    ]


def _number(name: str, value: Any) -> str:
    if isinstance(value, list):
        return " x ".join(_number(name, entry) for entry in value)
    return figure(name, value) if isinstance(value, float) else str(value)


def _unit(unit: str) -> str:
    return "" if unit in {"", "-", "1"} else unit


def _cut(text: str, size: int) -> str:
    return text if len(text) <= size else text[: size - 1] + "…"


def _plain(text: str) -> str:
    return "".join(letter if letter.isprintable() else " " for letter in text)
