"""Upkeep of the catalogue: items, their barcodes and the codes they used to have."""

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import IntegrityError, transaction

from inventory.actors import Actor
from inventory.calc.errors import Impossible
from inventory.calc.gtin import gtin14
from inventory.errors import BadInput, Conflict, FieldError, Unknown
from inventory.models import Barcode, Item, SupersededCode
from inventory.services import lookups
from inventory.services.drafting import Change, Draft, Fields, barcode_faults, draft
from inventory.services.item_fields import LINKS, LISTS, read_field


def create(fields: Fields, *, actor: Actor) -> Item:
    """A new item is in the catalogue with its stock row and standing lot.

    Refuses with BadInput naming every field that is wrong, Conflict when the code is taken.
    """
    code = str(fields.get("code", ""))
    if Item.objects.filter(code=code).exists():
        raise Conflict(f"code: there is an item {code} already.")
    write(draft([(None, fields)]), actor=actor)
    return Item.objects.get(code=code)


def update(code: str, *, changes: Fields, actor: Actor) -> Item:
    """The item's fields read as given; those not named stay. Prices need the ability to price.

    Refuses with BadInput naming every field that is wrong, Unknown an item. A code changes by `supersede`.
    """
    item = lookups.item(code)
    if "code" in changes:
        raise BadInput([FieldError("/code", "code cannot be changed like a field; supersede it instead.")])
    write(draft([(None, {**changes, "code": item.code})]), actor=actor)
    return lookups.item(code)


@transaction.atomic
def add_barcode(item: str, *, text: str, actor: Actor) -> Barcode:
    """The item is found by this barcode in any scanned form; refuses one that is another item's."""
    actor.must("catalogue")
    row = lookups.item(item)
    read_field("barcodes", [text])
    faults = barcode_faults({row.code: (text,)})
    if faults:
        raise BadInput(faults)
    return Barcode.objects.get_or_create(text=text, item=row, defaults={"gtin": gtin14(text)})[0]


@transaction.atomic
def supersede(code: str, *, new_code: str, actor: Actor) -> Item:
    """The item has a new code and is still found by the old one."""
    actor.must("catalogue")
    item = lookups.item(code)
    try:
        wanted = read_field("code", new_code)
    except Impossible as fault:
        raise BadInput([FieldError("/new_code", f"new_code {fault.sentence}.")]) from None
    if Item.objects.filter(code=wanted).exists() or _is_former_code_of_another(wanted, item):
        raise Conflict(f"new_code: {wanted} is the code of another item.")
    SupersededCode.objects.filter(code=wanted).delete()
    SupersededCode.objects.get_or_create(code=item.code, defaults={"item": item})
    item.code = wanted
    item.save(update_fields=["code"])
    return item


@transaction.atomic
def write(planned: Draft, *, actor: Actor) -> Draft:
    """All of a draft is in the catalogue, or nothing: refuses with BadInput a draft with faults."""
    actor.must("catalogue")
    if planned.touches_prices:
        actor.must("price")
    if planned.faults:
        raise BadInput(planned.faults)
    ids = {name: dict(model.objects.values_list("code", "pk")) for name, model in LINKS.items()}
    try:
        Item.objects.bulk_create((Item(**_columns(f, ids)) for f in planned.new.values()), batch_size=1000)
        _write_changes(planned.changes, ids)
        _write_lists(planned)
    except IntegrityError as error:
        raise Conflict("Somebody else changed the catalogue in the meantime; try again.") from error
    return planned


def _columns(fields: Fields, ids: Mapping[str, Mapping[str, int]]) -> dict[str, Any]:
    """Model columns of fields: links by id, lists left out."""
    plain = {name: value for name, value in fields.items() if name not in (*LINKS, *LISTS)}
    linked = {f"{name}_id": ids[name].get(fields[name]) for name in LINKS if name in fields}
    return {**plain, **linked}


def _write_changes(changes: Sequence[Change], ids: Mapping[str, Mapping[str, int]]) -> None:
    by_code: dict[str, dict[str, Any]] = {}
    for change in changes:
        if change.field not in LISTS:
            by_code.setdefault(change.code, {})[change.field] = change.new
    items = list(Item.objects.filter(code__in=by_code))
    if len(items) < len(by_code):
        raise Unknown("item", next(iter(by_code.keys() - {item.code for item in items})))
    touched: set[str] = set()
    for item in items:
        columns = _columns(by_code[item.code], ids)
        touched |= columns.keys()
        for name, value in columns.items():
            setattr(item, name, value)
    if touched:
        Item.objects.bulk_update(
            items, [name.removesuffix("_id") for name in sorted(touched)], batch_size=500
        )


def _write_lists(planned: Draft) -> None:
    wanted = {code: {name: fields[name] for name in LISTS} for code, fields in planned.new.items()}
    for change in planned.changes:
        if change.field in LISTS:
            wanted.setdefault(change.code, {})[change.field] = change.new
    pks = dict(Item.objects.filter(code__in=wanted).values_list("code", "pk"))
    barcodes = {text: pks[code] for code, lists in wanted.items() for text in lists.get("barcodes", ())}
    former = {old: pks[code] for code, lists in wanted.items() for old in lists.get("superseded_codes", ())}
    for text in Barcode.objects.filter(text__in=barcodes).values_list("text", flat=True):
        del barcodes[text]
    for old in SupersededCode.objects.filter(code__in=former).values_list("code", flat=True):
        del former[old]
    Barcode.objects.bulk_create(
        Barcode(item_id=pk, text=text, gtin=gtin14(text)) for text, pk in barcodes.items()
    )
    SupersededCode.objects.bulk_create(SupersededCode(item_id=pk, code=old) for old, pk in former.items())


def _is_former_code_of_another(code: str, item: Item) -> bool:
    return SupersededCode.objects.filter(code=code).exclude(item=item).exists()
