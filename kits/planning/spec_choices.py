"""Readers of what the customer has, does not want, chooses and adds."""

from collections.abc import Mapping
from dataclasses import dataclass

from kits.planning.faults import joined, shown
from kits.planning.registry import ROLES
from kits.planning.spec_terms import Extra, Owned, Reading
from kits.terms.profiles import ROLE_FIGURES

MOST_LEFT_OUT = 100
MOST_FIGURES = 40
LONGEST_FIGURE = 200


@dataclass(frozen=True, slots=True)
class Without:
    """What is not wanted: whole roles, and single items of a role."""

    roles: frozenset[str] = frozenset()
    items: frozenset[tuple[str, str]] = frozenset()


def read_without(reading: Reading) -> Without:
    """The roles, and the items of a role, that are not wanted."""
    if "without" not in reading.given:
        return Without()
    roles: set[str] = set()
    items: set[tuple[str, str]] = set()
    for pointer, entry in reading.faults.listing(reading.given["without"], "/without", MOST_LEFT_OUT):
        if isinstance(entry, Mapping):
            _leave_out_item(reading, pointer, entry, items)
            continue
        role = reading.faults.word(entry, pointer, ROLES, "a role")
        if role in roles:
            reading.faults.add(pointer, f"names {role} a second time.")
        if role is not None:
            roles.add(role)
    return Without(frozenset(roles), frozenset(items))


def _leave_out_item(reading: Reading, pointer: str, entry: object, items: set[tuple[str, str]]) -> None:
    """One item that is left out of its role, the rest of which stays."""
    given = reading.faults.mapping(entry, pointer, ("role", "item"))
    for key in ("role", "item"):
        if key not in given:
            reading.faults.add(f"{pointer}/{key}", "must be given.")
            return
    role = reading.faults.word(given["role"], f"{pointer}/role", ROLES, "a role")
    item = _item(reading, given["item"], f"{pointer}/item")
    if (role, item) in items:
        reading.faults.add(pointer, f"names {item} a second time.")
    if role and item:
        items.add((role, item))


def read_own(reading: Reading) -> tuple[Owned, ...]:
    """What the customer has already."""
    if "own" not in reading.given:
        return ()
    owned: dict[str, Owned] = {}
    for pointer, entry in reading.faults.listing(reading.given["own"], "/own", 2 * len(ROLES)):
        thing = _owned(reading, pointer, entry)
        if thing is None:
            continue
        if thing.role in owned:
            reading.faults.add(pointer, f"names {thing.role} a second time.")
        owned[thing.role] = thing
    return tuple(owned.values())


def _owned(reading: Reading, pointer: str, entry: object) -> Owned | None:
    faults = reading.faults
    if not isinstance(entry, Mapping):
        role = faults.word(entry, pointer, ROLES, "a role")
        return None if role is None else Owned(role)
    given = faults.mapping(entry, pointer, ("role", "item", "figures"))
    if "role" not in given:
        faults.add(f"{pointer}/role", "must be given.")
        return None
    role = faults.word(given["role"], f"{pointer}/role", ROLES, "a role")
    if "item" in given and "figures" in given:
        faults.add(f"{pointer}/figures", "may not stand beside item: give one or the other.")
    item = _item(reading, given["item"], f"{pointer}/item") if "item" in given else ""
    figures = _figures(reading, given["figures"], f"{pointer}/figures", role) if "figures" in given else {}
    return None if role is None or item is None else Owned(role, item, figures)


def _figures(reading: Reading, value: object, pointer: str, role: str | None) -> dict[str, object]:
    if not isinstance(value, Mapping) or len(value) > MOST_FIGURES:
        reading.faults.add(pointer, f"must be an object of at most {MOST_FIGURES} figures.")
        return {}
    for key, figure in value.items():
        if role is not None and key not in ROLE_FIGURES[role]:
            reading.faults.add(joined(pointer, key), f"is no figure of {role}.")
        parts = figure if isinstance(figure, list) and len(figure) <= MOST_FIGURES else [figure]
        for part in parts:
            _figure(reading, joined(pointer, key), part)
    return dict(value)


def _figure(reading: Reading, pointer: str, value: object) -> None:
    if isinstance(value, bool):
        return
    if isinstance(value, int | float):
        reading.faults.number(value, pointer, 0, 1e6)
    elif not isinstance(value, str) or len(value) > LONGEST_FIGURE:
        reading.faults.add(pointer, f"must be a number or a short word, not {shown(value)}.")


def read_choose(reading: Reading) -> dict[str, tuple[str, ...]]:
    """The items that the customer chose, by role."""
    if "choose" not in reading.given:
        return {}
    faults, chosen = reading.faults, {}
    given = faults.mapping(reading.given["choose"], "/choose", ROLES)
    for role, codes in given.items():
        items: list[str] = []
        for pointer, entry in faults.listing(codes, f"/choose/{role}", 50):
            item = _item(reading, entry, pointer)
            if item in items:
                faults.add(pointer, f"names {item} a second time.")
            if item:
                items.append(item)
        if items:
            chosen[role] = tuple(items)
    return chosen


def read_extra(reading: Reading) -> tuple[Extra, ...]:
    """What comes along with the kit."""
    if "extra" not in reading.given:
        return ()
    faults, extras = reading.faults, dict[str, Extra]()
    for pointer, entry in faults.listing(reading.given["extra"], "/extra", 300):
        given = faults.mapping(entry, pointer, ("item", "quantity"))
        if not isinstance(entry, Mapping):
            continue
        if "item" not in given:
            faults.add(f"{pointer}/item", "must be given.")
            continue
        item = _item(reading, given["item"], f"{pointer}/item")
        quantity = faults.whole(given.get("quantity", 1), f"{pointer}/quantity", 1, 1000)
        if item in extras:
            faults.add(
                f"{pointer}/item", f"names {item} a second time: give one entry with the whole quantity."
            )
        if item and quantity:
            extras[item] = Extra(item, quantity)
    return tuple(extras.values())


def _item(reading: Reading, value: object, pointer: str) -> str | None:
    code = reading.faults.item(value, pointer)
    if code is None:
        return None
    if not reading.knows_item(code):
        reading.faults.add(pointer, f"names an item that is not known here: {shown(code)}.")
        return None
    return code
