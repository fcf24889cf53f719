"""Names that people give -> rows, or a refusal that names what is unknown. One query for many names."""

import re
from collections.abc import Iterable, Mapping

from django.db import connection

from inventory.calc.codes import numbered
from inventory.errors import BadInput, Conflict, FieldError, Unknown
from inventory.models import MAIN_PLACE, Item, Lot, LotState, Place, SupersededCode
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


def known_lots(codes: Iterable[str | None]) -> dict[str, Lot]:
    """Those lots of these codes that there are."""
    return {
        lot.code: lot for lot in Lot.objects.filter(code__in={code for code in codes if code is not None})
    }


def lot_of(item: Item, code: str, *, known: Mapping[str, Lot]) -> Lot:
    """The lot of this code among the known ones; refuses one that is unknown or another item's."""
    found = known.get(code)
    if found is None:
        raise Unknown("lot", code)
    if found.item_id != item.pk:
        raise BadInput([FieldError("/lot", f"lot {code} is not a lot of {item.name}.")])
    return found


def lot(code: str) -> Lot:
    """The lot of this code."""
    found = Lot.objects.filter(code=code).first()
    if found is None:
        raise Unknown("lot", code)
    return found


def standing_lots(items: Iterable[Item]) -> dict[int, Lot]:
    """Item id -> the lot that its stock lies in where lots do not matter."""
    return {lot.item_id: lot for lot in Lot.objects.filter(item__in=list(items), standing=True)}


def found_in(item: Item, code: str | None, *, known: Mapping[str, Lot], standing: Mapping[int, Lot]) -> Lot:
    """The lot that found goods belong to: the named one, or the standing lot while it is good."""
    if code is not None:
        return lot_of(item, code, known=known)
    lot = standing[item.pk]
    if lot.state != LotState.GOOD:
        raise Conflict(f"lot: name the lot of {item.name}, because its standing lot is {lot.state}.")
    return lot


def place_ids(codes: Iterable[str | None]) -> dict[str, int]:
    """Place id by code, blanks left out."""
    wanted = {code for code in codes if code is not None}
    rows = Place.objects.filter(code__in=wanted).order_by("-pk").values_list("code", "pk")
    found = dict(rows)
    for code in sorted(wanted):
        if code not in found:
            raise Unknown("place", code)
    return found


def shelf_of(item: Item) -> int:
    """The id of the place where an item lies when nothing else is said."""
    return item.place_id or MAIN_PLACE


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


def check_code(code: str, *, pointer: str = "/lot") -> None:
    """Refuse a lot code that a web address or a label could not carry."""
    if len(code) > 80 or not re.fullmatch(LOT_CODE_PATTERN, code):
        sentence = "lot must have at most 80 letters, digits, dots, hyphens or underscores."
        raise BadInput([FieldError(pointer, sentence)])
