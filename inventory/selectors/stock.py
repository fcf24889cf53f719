"""How much of what there is."""

from collections.abc import Collection
from dataclasses import dataclass

from django.db import connection
from django.db.models import QuerySet

from inventory.models import MAIN_SITE, Hold, LotBalance, Want

# What is free in a row of stock, its hold for one demand not counted.
FREE = """
    s.sellable - s.held + coalesce(
        (SELECT h.quantity FROM inventory_hold h
         WHERE h.demand_ref = %s AND h.item_id = s.item_id AND h.site_id = s.site_id
         AND h.ended_at IS NULL), 0)
"""
FREE_BY_ID = f"SELECT s.item_id, {FREE} FROM inventory_stock s WHERE s.site_id = %s AND s.item_id = ANY (%s)"  # noqa: S608 - own text
FREE_FOR_ANYBODY = """
    SELECT item_id, sellable - held FROM inventory_stock WHERE site_id = %s AND item_id = ANY (%s)
"""
# OFFSET 0 keeps the database from reading all stock where a few hundred rows are wanted.
FREE_BY_CODE = f"""
    SELECT i.code, {FREE} FROM inventory_item i
    CROSS JOIN LATERAL (SELECT * FROM inventory_stock WHERE site_id = %s AND item_id = i.id OFFSET 0) s
    WHERE i.code = ANY (%s)
"""  # noqa: S608 - own text


@dataclass(frozen=True, slots=True)
class Levels:
    """The four figures of one item."""

    on_hand: int
    sellable: int
    held: int

    @property
    def free(self) -> int:
        """What may still be promised."""
        return self.sellable - self.held


def free_by_code(codes: Collection[str], *, leaving_out: str | None = None) -> dict[str, int]:
    """Free quantity by item code, 0 for a code without stock; one query.

    `leaving_out` names a demand whose own hold counts as free. A hold past its time counts as held until
    it is swept.
    """
    free = dict.fromkeys(codes, 0)
    with connection.cursor() as cursor:
        cursor.execute(FREE_BY_CODE, [leaving_out, MAIN_SITE, list(free)])
        free.update(cursor.fetchall())
    return free


def free_by_id(ids: Collection[int], *, leaving_out: str | None = None) -> dict[int, int]:
    """The same by the keys of items, for those who know them: half the work; one query."""
    free = dict.fromkeys(ids, 0)
    with connection.cursor() as cursor:
        if leaving_out is None:
            cursor.execute(FREE_FOR_ANYBODY, [MAIN_SITE, list(free)])
        else:
            cursor.execute(FREE_BY_ID, [leaving_out, MAIN_SITE, list(free)])
        free.update(cursor.fetchall())
    return free


def levels_by_code(codes: Collection[str]) -> dict[str, Levels]:
    """On hand (whatever its state), sellable and held by item code; one query."""
    levels = dict.fromkeys(codes, Levels(0, 0, 0))
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT i.code, coalesce((SELECT sum(b.on_hand) FROM inventory_lotbalance b "
            "WHERE b.item_id = i.id AND b.on_hand > 0), 0)::bigint, s.sellable, s.held "
            "FROM inventory_stock s JOIN inventory_item i ON i.id = s.item_id "
            "WHERE s.site_id = %s AND i.code = ANY (%s)",
            [MAIN_SITE, list(levels)],
        )
        levels.update({code: Levels(*figures) for code, *figures in cursor.fetchall()})
    return levels


def balances(item_code: str) -> QuerySet[LotBalance]:
    """Where an item lies: one row per lot and place with something in it; one query."""
    rows = LotBalance.objects.filter(item__code=item_code, on_hand__gt=0)
    return rows.select_related("lot", "place").order_by("lot__best_before", "lot__code", "place__code")


def holds_of(demand_ref: str) -> QuerySet[Hold]:
    """What is held for a demand, one row per item; one query."""
    return Hold.objects.filter(demand_ref=demand_ref, ended_at=None).select_related("item").order_by("pk")


def wants_of(demand_ref: str) -> QuerySet[Want]:
    """What a demand still waits for, one row per item; one query."""
    return Want.objects.filter(demand_ref=demand_ref, ended_at=None).select_related("item").order_by("pk")
