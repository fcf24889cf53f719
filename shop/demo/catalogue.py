"""The demo shop's catalogue: suppliers, shelves, items with their codes, what each item can do, and mixes."""

import csv
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from inventory.actors import SYSTEM
from inventory.calc.gtin import gtin14
from inventory.models import Barcode, Item, Mix, MixPart, Place, SupersededCode, Supplier, TaxClass
from kits.services import profiles
from kits.services.facts import FOLDER
from kits.services.profiles import ItemRole
from shop.demo import tables

_TEXTS = ("code", "name", "kind", "base_unit", "unit_name", "content_unit", "live", "family")
_WHOLE_NUMBERS = (
    "content_quantity", "length_mm", "width_mm", "height_mm", "mass_g",
    "keep_min_c", "keep_max_c", "maximum_watts", "preference",
)  # fmt: skip
_AMOUNTS = ("price", "cost", "watts")
_FLAGS = ("fragile", "liquid", "electrical", "tracks_lots")


def load() -> None:
    """Write the whole catalogue into empty tables."""
    _load_suppliers()
    _load_places()
    _load_tax_classes()
    _load_mixes()
    rows = list(tables.item_rows())
    items = _load_items(rows)
    _load_codes(rows, items)
    _load_profiles(rows)
    _load_mix_parts(items)


def _load_suppliers() -> None:
    Supplier.objects.bulk_create(
        Supplier(code=row["supplier"], name=row["name"], lead_time_days=int(row["lead_time_days"]))
        for row in tables.rows("suppliers")
    )


def _load_places() -> None:
    Place.objects.bulk_create(Place(code=row["place"], name=row["name"]) for row in tables.rows("places"))


def _load_tax_classes() -> None:
    for row in tables.rows("tax_classes"):
        TaxClass.objects.update_or_create(
            code=row["tax_class"], defaults={"name": row["name"], "rate": Decimal(row["rate_pct"])}
        )


def _load_items(rows: Iterable[tables.Row]) -> dict[str, Item]:
    links: dict[str, dict[str, Any]] = {
        "supplier": Supplier.objects.in_bulk(field_name="code"),
        "mix": Mix.objects.in_bulk(field_name="code"),
        "place": {place.code: place for place in Place.objects.all()},
    }
    tax_class = TaxClass.objects.get(code=tables.rows("tax_classes")[0]["tax_class"])
    Item.objects.bulk_create(Item(**_item_fields(row, links), tax_class=tax_class) for row in rows)
    return Item.objects.in_bulk(field_name="code")


def _item_fields(row: tables.Row, links: dict[str, dict[str, Any]]) -> dict[str, Any]:
    fields: dict[str, Any] = {name: row[name] for name in _TEXTS if row.get(name)}
    fields |= {name: int(row[name]) for name in _WHOLE_NUMBERS if row.get(name)}
    fields |= {name: Decimal(row[name]) for name in _AMOUNTS if row.get(name)}
    fields |= {name: row[name] == "yes" for name in _FLAGS if row.get(name)}
    fields |= {name: known[row[name]] for name, known in links.items() if row.get(name)}
    return fields


def _load_codes(rows: Iterable[tables.Row], items: dict[str, Item]) -> None:
    Barcode.objects.bulk_create(
        Barcode(item=items[row["code"]], text=text, gtin=gtin14(text))
        for row in rows
        for text in tables.words(row["barcodes"])
    )
    SupersededCode.objects.bulk_create(
        SupersededCode(item=items[row["code"]], code=code)
        for row in rows
        for code in tables.words(row.get("superseded", ""))
    )


def _load_profiles(rows: Iterable[tables.Row]) -> None:
    said = [
        ItemRole(row["code"], role, figures) for row in rows for role, figures in tables.profiles(row).items()
    ]
    profiles.set_all(said, actor=SYSTEM)


def _recipe_rows() -> list[dict[str, str]]:
    with (FOLDER / "mixes.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _load_mixes() -> None:
    names = {row["code"]: row["name"] for row in _recipe_rows()}
    Mix.objects.bulk_create(Mix(code=code, name=name) for code, name in names.items())


def _load_mix_parts(items: dict[str, Item]) -> None:
    mixes = Mix.objects.in_bulk(field_name="code")
    item_of = {row["ingredient"]: items[row["item"]] for row in tables.rows("mix_ingredients")}
    MixPart.objects.bulk_create(
        MixPart(mix=mixes[row["code"]], item=item_of[row["ingredient"]], parts=Decimal(row["parts"]))
        for row in _recipe_rows()
    )
