"""What the rows of a file name and nobody has made yet: places, suppliers, mixes and tax classes."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from django.db import IntegrityError, transaction

from inventory.actors import Actor
from inventory.calc.errors import Impossible
from inventory.calc.tables import Row
from inventory.errors import Conflict, FieldError
from inventory.models import Mix, Place, Supplier, TaxClass
from inventory.services.item_fields import LINKS, read_field, read_rate

RATE_COLUMN = "tax_rate_pct"
MADE_BY_CODE = ("place", "supplier", "mix")


@dataclass(slots=True)
class Missing:
    """What would be made along with the rows: by code alone, and tax classes with their rate in percent."""

    codes: dict[str, dict[str, None]] = field(default_factory=lambda: {name: {} for name in MADE_BY_CODE})
    rates: dict[str, Decimal] = field(default_factory=dict)
    faults: list[FieldError] = field(default_factory=list)

    def by_link(self) -> dict[str, list[str]]:
        """Field that links -> the codes that it may name besides those known."""
        return {"tax_class": list(self.rates), **{name: list(codes) for name, codes in self.codes.items()}}

    def as_json(self) -> list[dict[str, Any]]:
        """One entry for each thing to make."""
        named = [{"kind": kind, "code": code} for kind, codes in self.codes.items() for code in codes]
        rated = [
            {"kind": "tax_class", "code": code, "rate_pct": f"{rate.normalize():f}"}
            for code, rate in self.rates.items()
        ]
        return [*rated, *named]


def missing(items: Sequence[tuple[int, Row]], *, places: Iterable[str] = ()) -> Missing:
    """What the rows of items, and the places of opening stock, name and the database does not know."""
    found = Missing()
    named: dict[str, list[str]] = {name: [row.get(name, "") for _, row in items] for name in MADE_BY_CODE}
    named["place"] += places
    for name, cells in named.items():
        known = set(LINKS[name].objects.values_list("code", flat=True))
        found.codes[name] = {
            cell: None for cell in cells if cell and cell not in known and _may_be(name, cell)
        }
    _read_rates(items, found)
    return found


def make(wanted: Missing, *, actor: Actor) -> None:
    """All of it is in the database, each named as its code; a new tax class needs the ability to price."""
    if not wanted.as_json():
        return
    actor.must("catalogue")
    if wanted.rates:
        actor.must("price")
    try:
        with transaction.atomic():
            TaxClass.objects.bulk_create(TaxClass(code=c, name=c, rate=r) for c, r in wanted.rates.items())
            Place.objects.bulk_create(Place(code=code) for code in wanted.codes["place"])
            Supplier.objects.bulk_create(Supplier(code=c, name=c) for c in wanted.codes["supplier"])
            Mix.objects.bulk_create(Mix(code=code, name=code) for code in wanted.codes["mix"])
    except IntegrityError as error:
        raise Conflict("Somebody else changed the catalogue in the meantime; try again.") from error


def describe(made: Sequence[Mapping[str, Any]]) -> str:
    """What is made, in a few words by kind: "place A1-3, A1-4; tax class goods (6.25 %)"."""
    by_kind: dict[str, list[str]] = {}
    for one in made:
        rate = f" ({one['rate_pct']} %)" if "rate_pct" in one else ""
        by_kind.setdefault(one["kind"].replace("_", " "), []).append(f"{one['code']}{rate}")
    return "; ".join(f"{kind} {', '.join(codes)}" for kind, codes in by_kind.items())


def _may_be(name: str, cell: str) -> bool:
    """Whether a thing can have this code; where it cannot, the reading of the row says why."""
    try:
        read_field(name, cell)
    except Impossible:
        return False
    return True


def _read_rates(items: Sequence[tuple[int, Row]], found: Missing) -> None:
    known = dict(TaxClass.objects.values_list("code", "rate"))
    for number, row in items:
        if row.get(RATE_COLUMN):
            complaint = _rate_complaint(row.get("tax_class"), row[RATE_COLUMN], known, found)
            if complaint:
                sentence = f"Row {number}, {RATE_COLUMN} {complaint}."
                found.faults.append(FieldError(f"/rows/{number}/{RATE_COLUMN}", sentence))


def _rate_complaint(code: str | None, cell: str, known: Mapping[str, Decimal], found: Missing) -> str:
    """What is wrong with a rate; a right one of a class that is not known yet is kept."""
    if code is None:
        return "needs the column tax_class beside it"
    try:
        rate = read_rate(cell)
    except ValueError as fault:
        return str(fault)
    if not code or not _may_be("tax_class", code):
        return ""
    other = known[code] if code in known else found.rates.setdefault(code, rate)
    if other == rate:
        return ""
    return (
        f"{cell} is not the rate of tax class {code}, which is {other.normalize():f}; change the class itself"
    )
