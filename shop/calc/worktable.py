"""Edits of a build spec as the worktable makes them: each takes a spec and returns a new one."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

Spec = Mapping[str, Any]
PlanJson = Mapping[str, Any]
Does = Callable[[str, str], bool]  # role and item -> whether the item can do that role

EXTRA = "extra"
POURED = ("drainage", "substrate", "moss", "litter")  # packs of one product stay and go together
MOST_PIECES = 1000


def is_ready(spec: Spec) -> bool:
    """Whether enough is known to work out a kit.

    >>> is_ready({"enclosure": {"size": "45x45x60-glass"}})
    False
    >>> is_ready({"enclosure": {"size": "45x45x60-glass"}, "style": "desert"})
    True
    """
    return bool(spec.get("enclosure")) and bool(spec.get("animals") or spec.get("style"))


def with_substitute(spec: Spec, plan: PlanJson, *, line: int, nth: int = 0, does: Does) -> dict[str, Any]:
    """The nth substitute of a line (counted from 1) is chosen; the spec as it was when there is none.

    Other items of the same role stay chosen beside it. A combination sets every role that it fills.
    """
    found = plan["lines"][line - 1 : line] if line > 0 else []
    substitutes = found[0]["substitutes"] if found else []
    if not 0 <= nth < len(substitutes):
        return dict(spec)
    replaced, items = found[0], [entry["item"] for entry in substitutes[nth]["items"]]
    choose = dict(spec.get("choose", {}))
    for role, fillers in _by_role(plan, replaced["role"], items, does).items():
        stays = _beside(spec, plan, replaced) if role == replaced["role"] else []
        choose[role] = list(dict.fromkeys([*fillers, *stays]))
    return _with(spec, choose=choose)


def _beside(spec: Spec, plan: PlanJson, replaced: Mapping[str, Any]) -> list[str]:
    """The items of the other lines of a role; a poured role is one job, so that nothing of it stays.

    What was left out by itself keeps its place among them, so that nothing else takes it.
    """
    if replaced["role"] in POURED:
        return []
    role, item = replaced["role"], replaced["item"]
    lines = [line["item"] for line in plan["lines"] if line["role"] == role and line["item"] != item]
    return [*lines, *_left_out(spec, role)]


def _left_out(spec: Spec, role: str) -> list[str]:
    entries = (entry for entry in spec.get("without", ()) if isinstance(entry, Mapping))
    return [entry["item"] for entry in entries if entry["role"] == role]


def _by_role(plan: PlanJson, first: str, items: Sequence[str], does: Does) -> dict[str, list[str]]:
    roles = [first, *dict.fromkeys(line["role"] for line in plan["lines"])]
    found: dict[str, list[str]] = {}
    for item in items:
        role = next((role for role in roles if does(role, item)), first)
        found.setdefault(role, []).append(item)
    return found


def codes_of(substitute: Mapping[str, Any]) -> str:
    """How a substitute is named by its items.

    >>> codes_of({"items": [{"item": "A", "quantity": 2}, {"item": "B", "quantity": 1}]})
    'A+B'
    """
    return "+".join(entry["item"] for entry in substitute["items"])


def line_number(plan: PlanJson, role: str, item: str) -> int:
    """The number of the line that a role and an item name; 0 where none is."""
    lines = enumerate(plan["lines"], start=1)
    return next((number for number, line in lines if (line["role"], line["item"]) == (role, item)), 0)


def chosen_freely(spec: Spec, role: str) -> dict[str, Any]:
    """Nothing is chosen by hand for a role any more."""
    return _with(spec, choose={key: items for key, items in spec.get("choose", {}).items() if key != role})


def without_role(spec: Spec, role: str) -> dict[str, Any]:
    """A role is not wanted; what was chosen for it, and left out of it, is forgotten.

    >>> without_role({"choose": {"mister": ["A"]}}, "mister")
    {'without': ['mister']}
    """
    others = [entry for entry in spec.get("without", ()) if owned_role(entry) != role]
    own = [entry for entry in spec.get("own", ()) if owned_role(entry) != role]
    return _with(chosen_freely(spec, role), without=sorted([*others, role], key=str), own=own)


def without_item(spec: Spec, role: str, item: str) -> dict[str, Any]:
    """One item of a role is not wanted; the rest of the role stays.

    >>> without_item({}, "plant", "FERN")
    {'without': [{'role': 'plant', 'item': 'FERN'}]}
    """
    entry = {"role": role, "item": item}
    others = [other for other in spec.get("without", ()) if other != entry]
    return _with(spec, without=sorted([*others, entry], key=str))


def wanted_again(spec: Spec, role: str, item: str = "") -> dict[str, Any]:
    """A role, or one item of it, that was left out is wanted again."""
    entry = {"role": role, "item": item} if item else role
    return _with(spec, without=[other for other in spec.get("without", ()) if other != entry])


def owned_role(entry: object) -> str:
    """The role of an entry of `own`, in either form."""
    return str(entry["role"]) if isinstance(entry, Mapping) else str(entry)


def with_extra(spec: Spec, item: str, quantity: int = 1) -> dict[str, Any]:
    """So many more pieces of an item come along.

    >>> with_extra({"extra": [{"item": "A", "quantity": 1}]}, "A", 2)
    {'extra': [{'item': 'A', 'quantity': 3}]}
    """
    pieces = _extras(spec)
    pieces[item] = min(pieces.get(item, 0) + quantity, MOST_PIECES)
    return _with_extras(spec, pieces)


def with_extra_quantity(spec: Spec, item: str, quantity: int) -> dict[str, Any]:
    """Exactly so many pieces of an extra; none takes it off."""
    pieces = _extras(spec)
    if item in pieces:
        pieces[item] = quantity
    return _with_extras(spec, {code: number for code, number in pieces.items() if number > 0})


def without_line(spec: Spec, plan: PlanJson, line: int) -> dict[str, Any]:
    """A line of the plan goes: an extra or one of several products by itself, else its whole role."""
    found = plan["lines"][line - 1 : line] if line > 0 else []
    if not found:
        return dict(spec)
    if found[0]["role"] == EXTRA:
        return with_extra_quantity(spec, found[0]["item"], 0)
    role = found[0]["role"]
    return (
        without_item(spec, role, found[0]["item"]) if leaves_alone(plan, role) else without_role(spec, role)
    )


def leaves_alone(plan: PlanJson, role: str) -> bool:
    """Whether a line of this role goes by itself, because the role has other products that stay."""
    return role not in POURED and sum(other["role"] == role for other in plan["lines"]) > 1


def with_fill_toggled(spec: Spec) -> dict[str, Any]:
    """Choose from what is free, or again what suits best.

    >>> with_fill_toggled({"fill": "free"})
    {}
    """
    return _with(spec, fill="" if spec.get("fill") == "free" else "free")


def _extras(spec: Spec) -> dict[str, int]:
    return {entry["item"]: entry.get("quantity", 1) for entry in spec.get("extra", ())}


def _with_extras(spec: Spec, pieces: Mapping[str, int]) -> dict[str, Any]:
    return _with(spec, extra=[{"item": item, "quantity": number} for item, number in pieces.items()])


def _with(spec: Spec, **parts: Any) -> dict[str, Any]:
    """The spec with these parts in place; an empty part is left out."""
    changed = {**spec, **parts}
    return {key: part for key, part in changed.items() if key not in parts or part not in ("", [], {}, None)}
