"""The fields of an item as people and files give them: read, checked, and told in one sentence each."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any

from inventory.calc.errors import Impossible
from inventory.errors import FieldError
from inventory.models import BaseUnit, Item, Kind, Live, Mix, Place, Supplier, TaxClass
from inventory.models.items import URL_SAFE

Reader = Callable[[str], Any]
WORDS_FOR_YES = frozenset({"yes", "true", "1", "y"})
WORDS_FOR_NO = frozenset({"no", "false", "0", "n"})
PRICES = frozenset({"price", "cost"})


def _text(longest: int) -> Reader:
    def read(text: str) -> str:
        if len(text) > longest:
            raise ValueError(f"is longer than {longest} characters")
        if any(ord(character) < 32 for character in text):
            raise ValueError("holds a line break or another control character")
        return text

    return read


def _code(text: str) -> str:
    if len(text) > 64 or not re.fullmatch(URL_SAFE.regex, text):
        raise ValueError("may hold letters, digits, dot, hyphen and underscore only, at most 64 of them")
    return text


def _mix_code(text: str) -> str:
    if len(text) > 64 or not re.fullmatch(r"[-A-Za-z0-9_]+", text):
        raise ValueError("may hold letters, digits, hyphen and underscore only, at most 64 of them")
    return text


def _one_of(words: list[str]) -> Reader:
    def read(text: str) -> str:
        if text not in words:
            raise ValueError(f"must be one of {', '.join(word for word in words if word)}, not {text!r}")
        return text

    return read


def _decimal(*, digits: int, places: int) -> Reader:
    def read(text: str) -> Decimal:
        try:
            number = Decimal(text)
        except InvalidOperation:
            raise ValueError(f"must be a number, not {text!r}") from None
        if not number.is_finite() or not 0 <= number < 10 ** (digits - places):
            raise ValueError(f"must lie from 0 to below {10 ** (digits - places)}")
        if number != round(number, places):
            raise ValueError(f"may have at most {places} decimals")
        return round(number, places)

    return read


def _whole(low: int, high: int) -> Reader:
    def read(text: str) -> int:
        if not re.fullmatch(r"[-+]?[0-9]{1,12}", text):
            raise ValueError(f"must be a whole number, not {text!r}")
        if not low <= int(text) <= high:
            raise ValueError(f"must lie from {low} to {high}")
        return int(text)

    return read


def _yes_or_no(text: str) -> bool:
    if text.lower() not in WORDS_FOR_YES | WORDS_FOR_NO:
        raise ValueError(f"must be yes or no, not {text!r}")
    return text.lower() in WORDS_FOR_YES


def _list(read: Reader) -> Reader:
    def read_all(text: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys(read(word.strip()) for word in text.split(";") if word.strip()))

    return read_all


REQUIRED = object()


@dataclass(frozen=True, slots=True)
class Field:
    """How one field is read and what an empty cell means."""

    read: Reader
    blank: Any


_MILLIMETRES = Field(_whole(1, 100_000), None)
_NO = Field(_yes_or_no, False)

FIELDS: Mapping[str, Field] = {
    "code": Field(_code, REQUIRED),
    "name": Field(_text(200), REQUIRED),
    "kind": Field(_one_of(Kind.values), Kind.SUNDRY.value),
    "base_unit": Field(_one_of(BaseUnit.values), BaseUnit.PIECE.value),
    "unit_name": Field(_text(24), "piece"),
    "price": Field(_decimal(digits=10, places=2), Decimal("0.00")),
    "cost": Field(_decimal(digits=12, places=4), Decimal("0.0000")),
    "tax_class": Field(_text(32), REQUIRED),
    "content_quantity": Field(_whole(1, 2**31 - 1), None),
    "content_unit": Field(_one_of(BaseUnit.values), ""),
    "length_mm": _MILLIMETRES,
    "width_mm": _MILLIMETRES,
    "height_mm": _MILLIMETRES,
    "mass_g": Field(_whole(1, 10_000_000), None),
    "place": Field(_text(32), None),
    "supplier": Field(_text(32), None),
    "lead_time_days": Field(_whole(0, 3650), None),
    "live": Field(_one_of(Live.values), ""),
    "fragile": _NO,
    "liquid": _NO,
    "electrical": _NO,
    "keep_min_c": Field(_whole(-50, 100), None),
    "keep_max_c": Field(_whole(-50, 100), None),
    "maximum_watts": Field(_whole(0, 100_000), None),
    "watts": Field(_decimal(digits=8, places=2), None),
    "mix": Field(_mix_code, None),
    "family": Field(_text(64), ""),
    "preference": Field(_whole(-32768, 32767), 100),
    "active": Field(_yes_or_no, True),
    "tracks_lots": _NO,
    "barcodes": Field(_list(_text(48)), ()),
    "superseded_codes": Field(_list(_code), ()),
}
LISTS = ("barcodes", "superseded_codes")
LINKS: Mapping[str, Any] = {"tax_class": TaxClass, "place": Place, "supplier": Supplier, "mix": Mix}


def read_fields(raw: Mapping[str, Any]) -> tuple[dict[str, Any], list[FieldError]]:
    """The fields that can be used, and a sentence for each that cannot; links stay codes."""
    fields: dict[str, Any] = {}
    faults: list[FieldError] = []
    for name, value in raw.items():
        try:
            fields[name] = read_field(name, value)
        except Impossible as fault:
            faults.append(FieldError(f"/{name}", f"{name} {fault.sentence}."))
    return fields, faults


def read_field(name: str, value: Any) -> Any:
    """One field as the model keeps it. Raises Impossible naming it."""
    field = FIELDS.get(name)
    if field is None:
        raise Impossible(name, "is not a field of an item")
    text = _as_text(value)
    if not text:
        if field.blank is REQUIRED:
            raise Impossible(name, "is missing")
        return field.blank
    try:
        return field.read(text)
    except ValueError as fault:
        raise Impossible(name, str(fault)) from None


def read_rate(text: str) -> Decimal:
    """A tax rate in percent. Raises ValueError saying what is wrong with it."""
    rate: Decimal = _decimal(digits=6, places=3)(text)
    if rate > 100:
        raise ValueError("must lie from 0 to 100")
    return rate


def agreement_faults(fields: Mapping[str, Any]) -> list[FieldError]:
    """What is wrong between fields that are each right; fields are those of the finished item."""
    faults = []
    if (fields.get("content_quantity") is None) != (not fields.get("content_unit")):
        faults.append(FieldError("/content_quantity", "content_quantity and content_unit go together."))
    low, high = fields.get("keep_min_c"), fields.get("keep_max_c")
    if low is not None and high is not None and low > high:
        faults.append(FieldError("/keep_min_c", "keep_min_c must not be above keep_max_c."))
    return faults


def shown(item: Item) -> dict[str, Any]:
    """Every field of an item as it is read back: links as codes. Wants its links and lists prefetched."""
    values: dict[str, Any] = {name: getattr(item, name) for name in FIELDS if name not in (*LINKS, *LISTS)}
    values |= {name: link.code if (link := getattr(item, name)) else None for name in LINKS}
    values["barcodes"] = tuple(sorted(barcode.text for barcode in item.barcodes.all()))
    values["superseded_codes"] = tuple(sorted(old.code for old in item.superseded_codes.all()))
    return {name: values[name] for name in FIELDS}


def _as_text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, list | tuple):
        return ";".join(map(str, value))
    return str(value).strip()
