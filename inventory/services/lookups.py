"""Names that people give -> rows, or a refusal that names what is unknown."""

import re
from collections.abc import Iterable

from django.db import connection

from inventory.calc.codes import numbered
from inventory.errors import BadInput, FieldError, Unknown
from inventory.models import MAIN_PLACE, Item, Lot, Place, SupersededCode
from inventory.models.lots import LOT_CODE_PATTERN

MOST = 2**53  # whole numbers that every JSON reader keeps exact


def items_by_code(codes: Iterable[str]) -> dict[str, Item]:
    """Items by the codes asked for; a superseded code finds the item that it became."""
    wanted = list(dict.fromkeys(codes))
    found = {item.code: item for item in Item.objects.filter(code__in=wanted)}
    missing = [code for code in wanted if code not in found]
    if missing:
        old = SupersededCode.objects.filter(code__in=missing).select_related("item")
        found |= {row.code: row.item for row in old}
    for code in missing:
        if code not in found:
            raise Unknown("item", code)
    return {code: found[code] for code in wanted}


def item(code: str) -> Item:
    """The item of this code."""
    return items_by_code([code])[code]


def lot(code: str, *, of: Item | None = None) -> Lot:
    """The lot of this code, of this item when one is named."""
    found = Lot.objects.filter(code=code).first()
    if found is None:
        raise Unknown("lot", code)
    if of is not None and found.item_id != of.pk:
        raise BadInput([FieldError("/lot", f"lot {code} is not a lot of item {of.code}.")])
    return found


def standing_lot(of: Item) -> Lot:
    """The lot that an item's stock lies in where lots do not matter."""
    return Lot.objects.get(item=of, standing=True)


def place_id(code: str | None, *, of: Item | None = None) -> int:
    """The place of this code; without one, the item's own shelf."""
    if code is None:
        return (of.place_id if of is not None else None) or MAIN_PLACE
    found = Place.objects.filter(code=code).order_by("pk").values_list("pk", flat=True).first()
    if found is None:
        raise Unknown("place", code)
    return found


def next_lot_code() -> str:
    """A new number code for a lot that came without one, e.g. "L1042H"."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT nextval('inventory_number')")
        (counter,) = cursor.fetchone()
    return f"L{numbered(int(counter))}"


def check_quantity(quantity: int, *, pointer: str = "/quantity", signed: bool = False) -> None:
    """Refuse a quantity of zero, below zero unless signed, or too large to be stock."""
    name = pointer.rsplit("/", 1)[-1]
    if quantity == 0 or (quantity < 0 and not signed):
        wanted = "must not be zero" if signed else "must be a whole number above zero"
        raise BadInput([FieldError(pointer, f"{name} {wanted}.")])
    if abs(quantity) > MOST:
        raise BadInput([FieldError(pointer, f"{name} is larger than any stock.")])


def check_code(code: str) -> None:
    """Refuse a lot code that a web address or a label could not carry."""
    if len(code) > 80 or not re.fullmatch(LOT_CODE_PATTERN, code):
        raise BadInput([FieldError("/lot", "lot must have letters, digits, dot, hyphen or underscore only.")])
