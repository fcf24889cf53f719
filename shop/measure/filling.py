"""A shop of a given size, grown from the demo shop: its items again and again at other prices and sizes.

Figures move straight into the stock table here, past the ledger: the database is thrown away and what is
measured is reading and holding, not receiving.
"""

import hashlib
from typing import Any

from django.db import connection

from inventory.models import Item
from kits.models import Profile
from kits.services.facts import load_facts
from shop.demo import load as demo

STOCK_EACH = 1_000_000
# Lamps, tubes and bags come in the trade's own sizes; other things are a little different from every maker.
VARIED_ROLES = {"hide", "climb", "water_dish", "mister", "mesh_cover", "bark", "drain_tube", "plant_light"}
VARIED = ("length_mm", "width_mm", "height_mm", "diameter_mm", "tank_l")
OWN_COLUMNS = ("id", "code", "name", "price", "preference", "family")
COLUMNS = [f.column for f in Item._meta.concrete_fields if f.column not in OWN_COLUMNS]


def grow(items: int) -> int:
    """Fill the database up to at least this many items, then stock them all; returns how many there are."""
    if not Item.objects.exists():
        load_facts()
        demo.load()
    base = Item.objects.exclude(code__contains="--").count()
    have = Item.objects.count() // base
    copies = max(0, -(-items // base) - have)
    for copy in range(have, have + copies):
        _copy_catalogue(copy)
    with connection.cursor() as cursor:
        cursor.execute("UPDATE inventory_stock SET sellable = held + %s", [STOCK_EACH])
        cursor.execute("ANALYZE")
    return Item.objects.count()


def _copy_catalogue(copy: int) -> None:
    columns = ", ".join(f'"{column}"' for column in COLUMNS)
    with connection.cursor() as cursor:
        cursor.execute(
            f"INSERT INTO inventory_item (code, name, price, preference, family, {columns}) "  # noqa: S608 - own names
            "SELECT code || %s, name || %s, round(price * (80 + abs(hashtext(code || %s)) %% 60) / 100, 2), "
            "preference + abs(hashtext(%s || code)) %% 3, "
            f"CASE WHEN family = '' THEN '' ELSE family || %s END, {columns} "
            "FROM inventory_item WHERE code NOT LIKE '%%--%%'",
            [f"--{copy}"] * 5,
        )
    fresh = dict(Item.objects.filter(code__endswith=f"--{copy}").values_list("code", "id"))
    originals = Profile.objects.exclude(item__code__contains="--").values_list(
        "item__code", "role", "figures"
    )
    Profile.objects.bulk_create(
        Profile(
            item_id=fresh[f"{code}--{copy}"],
            role=role,
            figures=_of_another_maker(figures, role, f"{code}--{copy}"),
        )
        for code, role, figures in originals
    )


def _of_another_maker(figures: dict[str, Any], role: str, code: str) -> dict[str, Any]:
    """A product family of its own, and one thing in five a little larger or smaller."""
    suffix = code[code.index("--") :]
    own: dict[str, Any] = {k: f"{v}{suffix}" if k == "family" else v for k, v in figures.items()}
    step = hashlib.sha256(code.encode()).digest()[0]
    if role not in VARIED_ROLES or step % 5:
        return own
    factor = 1 + (step % 7 - 3) / 100
    return {k: round(v * factor, 3) if k in VARIED and v else v for k, v in own.items()}
