"""What rows of fields would do to the catalogue, with every fault told, before anything is written."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from inventory.calc.errors import Impossible
from inventory.calc.gtin import gtin14
from inventory.errors import FieldError
from inventory.models import Barcode, Item, Movement, SupersededCode
from inventory.services.item_fields import (
    FIELDS,
    LINKS,
    LISTS,
    PRICES,
    REQUIRED,
    agreement_faults,
    read_fields,
    shown,
)

Fields = Mapping[str, Any]
NOTHING: Mapping[str, Collection[str]] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Change:
    """One field of an item that would read otherwise."""

    code: str
    field: str
    old: Any
    new: Any


@dataclass(slots=True)
class Draft:
    """What rows of fields would do to the catalogue; nothing is written yet."""

    new: dict[str, dict[str, Any]] = field(default_factory=dict)
    changes: list[Change] = field(default_factory=list)
    unchanged: int = 0
    faults: list[FieldError] = field(default_factory=list)

    @property
    def touches_prices(self) -> bool:
        """Whether a price or cost is set or changed."""
        return any(change.field in PRICES for change in self.changes) or any(
            fields[name] for fields in self.new.values() for name in PRICES
        )


def draft(
    rows: Iterable[tuple[int | None, Fields]], *, also: Mapping[str, Collection[str]] = NOTHING
) -> Draft:
    """What rows of fields, each with its row number in a file or None, would add and change.

    `also` names by field the codes that are about to be made, so that rows may link to them.
    """
    found = Draft()
    readings = [(number, *read_fields(fields)) for number, fields in rows]
    for number, _, faults in readings:
        found.faults += [_at(number, fault) for fault in faults]
    numbered = _once_each(readings, found)
    known = _known(numbered)
    links = {
        name: {*model.objects.values_list("code", flat=True), *also.get(name, ())}
        for name, model in LINKS.items()
    }
    for code, (number, fields) in numbered.items():
        faults = _draft_one(found, code, fields, known.get(code))
        faults += [
            FieldError(f"/{name}", f"{name} {fields[name]!r} is not known; {_remedy(name, number)}.")
            for name in LINKS
            if fields.get(name) and fields[name] not in links[name]
        ]
        found.faults += [_at(number, fault) for fault in faults]
    _check_codes_and_units(found, numbered)
    return found


def _remedy(name: str, number: int | None) -> str:
    """A file can make a tax class by telling its rate; a form or a program cannot."""
    in_file = name == "tax_class" and number is not None
    return "give its rate in a column tax_rate_pct, or add it first" if in_file else "add it first"


def _at(number: int | None, fault: FieldError) -> FieldError:
    """The fault, told with its row when the fields came from one."""
    if number is None:
        return fault
    return FieldError(f"/rows/{number}{fault.pointer}", f"Row {number}, {fault.detail}")


def _once_each(
    readings: Iterable[tuple[int | None, Fields, list[FieldError]]], found: Draft
) -> dict[str, tuple[int | None, Fields]]:
    numbered: dict[str, tuple[int | None, Fields]] = {}
    for number, fields, faults in readings:
        code = fields.get("code")
        if code is None:
            if not any(fault.pointer == "/code" for fault in faults):
                found.faults.append(_at(number, FieldError("/code", "code is missing.")))
        elif code in numbered:
            sentence = f"code {code} stands in row {numbered[code][0]} already."
            found.faults.append(_at(number, FieldError("/code", sentence)))
        else:
            numbered[code] = (number, fields)
    return numbered


def _known(codes: Iterable[str]) -> dict[str, Item]:
    rows = Item.objects.filter(code__in=list(codes)).select_related(*LINKS)
    return {item.code: item for item in rows.prefetch_related(*LISTS)}


def _draft_one(found: Draft, code: str, fields: Fields, item: Item | None) -> list[FieldError]:
    if item is None:
        complete = {name: fields.get(name, column.blank) for name, column in FIELDS.items()}
        missing = [name for name, value in complete.items() if value is REQUIRED]
        found.new[code] = complete
        return [FieldError(f"/{name}", f"{name} is missing.") for name in missing] or agreement_faults(
            complete
        )
    now = shown(item)
    changes = [
        Change(code, name, now[name], new) for name, new in fields.items() if _differs(name, now[name], new)
    ]
    found.changes += changes
    found.unchanged += not changes
    return agreement_faults({**now, **fields})


def _differs(name: str, old: Any, new: Any) -> bool:
    """Lists only grow here, so that a file with fewer of them takes nothing away."""
    return bool(set(new) - set(old)) if name in LISTS else old != new


def _check_codes_and_units(found: Draft, numbered: Mapping[str, tuple[int | None, Fields]]) -> None:
    fresh = {code: fields["barcodes"] for code, fields in found.new.items()}
    fresh |= {change.code: change.new for change in found.changes if change.field == "barcodes"}
    for fault in barcode_faults(fresh):
        code = fault.pointer.rpartition("/")[2]
        found.faults.append(_at(numbered[code][0], FieldError("/barcodes", fault.detail)))
    for code, sentence in (*_former_code_faults(found), *_unit_faults(found)):
        column = "superseded_codes" if sentence.startswith("superseded") else "base_unit"
        found.faults.append(_at(numbered[code][0], FieldError(f"/{column}", sentence)))


def barcode_faults(wanted: Mapping[str, Sequence[str]]) -> list[FieldError]:
    """Barcodes by item code that cannot be right or are another item's; pointers end in the item code."""
    texts = {text for barcodes in wanted.values() for text in barcodes}
    owners = dict(Barcode.objects.filter(text__in=texts).values_list("text", "item__code"))
    faults = []
    for code, barcodes in wanted.items():
        for text in barcodes:
            complaint = _barcode_complaint(text) or _taken(owners.setdefault(text, code), code)
            if complaint:
                faults.append(FieldError(f"/barcodes/{code}", f"barcodes {text!r} {complaint}."))
    return faults


def _barcode_complaint(text: str) -> str:
    try:
        gtin14(text)
    except Impossible as fault:
        return f"cannot be right: {fault.sentence.rstrip('.')}"
    return ""


def _taken(owner: str, code: str) -> str:
    return "" if owner == code else f"is a barcode of item {owner}"


def _former_code_faults(found: Draft) -> list[tuple[str, str]]:
    wanted = [(code, old) for code, fields in found.new.items() for old in fields["superseded_codes"]]
    wanted += [(c.code, old) for c in found.changes if c.field == "superseded_codes" for old in c.new]
    names = [old for _, old in wanted]
    owners = dict(SupersededCode.objects.filter(code__in=names).values_list("code", "item__code"))
    owners |= {code: code for code in Item.objects.filter(code__in=names).values_list("code", flat=True)}
    owners |= {code: code for code in found.new}
    return [
        (code, f"superseded_codes {old!r} is the code of item {owner}.")
        for code, old in wanted
        if (owner := owners.setdefault(old, code)) != code
    ]


def _unit_faults(found: Draft) -> list[tuple[str, str]]:
    codes = [change.code for change in found.changes if change.field == "base_unit"]
    moved = Movement.objects.filter(item__code__in=codes).values_list("item__code", flat=True).distinct()
    return [(code, "base_unit cannot change once stock has moved.") for code in moved]
