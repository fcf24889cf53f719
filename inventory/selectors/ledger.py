"""The ledger read back: its lines, and whether every figure still agrees with it."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from django.db import connection
from django.db.models import QuerySet

from inventory.models import Movement

# Each query names one figure that does not agree: what, whose, what stands there, what it should be.
CHECKS: Mapping[str, str] = {
    "balance": """
        SELECT l.code || ' at ' || p.code, coalesce(b.on_hand, 0), coalesce(m.total, 0)
        FROM inventory_lotbalance b
        FULL JOIN (
            SELECT lot_id, place_id, sum(quantity)::bigint AS total FROM inventory_movement GROUP BY 1, 2
        ) m ON m.lot_id = b.lot_id AND m.place_id = b.place_id
        LEFT JOIN inventory_lot l ON l.id = coalesce(b.lot_id, m.lot_id)
        LEFT JOIN inventory_place p ON p.id = coalesce(b.place_id, m.place_id)
        WHERE coalesce(b.on_hand, 0) <> coalesce(m.total, 0) ORDER BY 1""",
    "sellable": """
        SELECT i.code, coalesce(s.sellable, 0), coalesce(m.total, 0)
        FROM inventory_stock s
        FULL JOIN (
            SELECT p.site_id, m.item_id, sum(m.quantity)::bigint AS total FROM inventory_movement m
            JOIN inventory_place p ON p.id = m.place_id JOIN inventory_lot l ON l.id = m.lot_id
            WHERE l.state = 'good' GROUP BY 1, 2
        ) m ON m.site_id = s.site_id AND m.item_id = s.item_id
        JOIN inventory_item i ON i.id = coalesce(s.item_id, m.item_id)
        WHERE coalesce(s.sellable, 0) <> coalesce(m.total, 0) ORDER BY 1""",
    "held": """
        SELECT i.code, coalesce(s.held, 0), coalesce(h.total, 0)
        FROM inventory_stock s
        FULL JOIN (
            SELECT site_id, item_id, sum(quantity)::bigint AS total FROM inventory_hold
            WHERE ended_at IS NULL GROUP BY 1, 2
        ) h ON h.site_id = s.site_id AND h.item_id = s.item_id
        JOIN inventory_item i ON i.id = coalesce(s.item_id, h.item_id)
        WHERE coalesce(s.held, 0) <> coalesce(h.total, 0) ORDER BY 1""",
    "hold": """
        SELECT h.demand_ref || ' of ' || i.code, h.quantity, coalesce(c.total, 0)
        FROM inventory_hold h JOIN inventory_item i ON i.id = h.item_id
        LEFT JOIN (
            SELECT hold_id, sum(quantity)::bigint AS total FROM inventory_holdchange GROUP BY 1
        ) c ON c.hold_id = h.id
        WHERE h.quantity <> coalesce(c.total, 0) ORDER BY 1""",
    "promise": """
        SELECT i.code, s.held, s.sellable FROM inventory_stock s JOIN inventory_item i ON i.id = s.item_id
        WHERE s.held < 0 OR s.held > s.sellable ORDER BY 1""",
    "handed_over": """
        SELECT coalesce(c.demand_ref, m.demand_ref) || ' of ' || i.code,
            coalesce(m.total, 0), coalesce(c.total, 0)
        FROM (
            SELECT c.demand_ref, h.item_id, -sum(c.quantity)::bigint AS total FROM inventory_holdchange c
            JOIN inventory_hold h ON h.id = c.hold_id WHERE c.kind = 'handed_over' GROUP BY 1, 2
        ) c FULL JOIN (
            SELECT demand_ref, item_id, -sum(quantity)::bigint AS total FROM inventory_movement
            WHERE kind = 'hand_over' GROUP BY 1, 2
        ) m ON m.demand_ref = c.demand_ref AND m.item_id = c.item_id
        JOIN inventory_item i ON i.id = coalesce(c.item_id, m.item_id)
        WHERE coalesce(m.total, 0) <> coalesce(c.total, 0) ORDER BY 1""",
    "lot_state": """
        SELECT l.code, 0, 1 FROM inventory_lot l JOIN LATERAL (
            SELECT new_state FROM inventory_lotchange c WHERE c.lot_id = l.id ORDER BY c.id DESC LIMIT 1
        ) c ON true WHERE c.new_state <> l.state ORDER BY 1""",
}

COUNTS = """
    SELECT (SELECT count(*) FROM inventory_item), (SELECT count(*) FROM inventory_lot),
        (SELECT count(*) FROM inventory_movement), (SELECT count(*) FROM inventory_hold),
        (SELECT count(*) FROM inventory_hold WHERE ended_at IS NULL),
        (SELECT count(*) FROM inventory_holdchange),
        (SELECT coalesce(sum(on_hand), 0)::bigint FROM inventory_lotbalance),
        (SELECT coalesce(sum(sellable), 0)::bigint FROM inventory_stock),
        (SELECT coalesce(sum(held), 0)::bigint FROM inventory_stock),
        (SELECT coalesce(sum(quantity), 0)::bigint FROM inventory_movement)
"""
COUNT_NAMES = (
    "items", "lots", "movements", "holds", "active_holds", "hold_changes",
    "on_hand", "sellable", "held", "moved",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Difference:
    """One figure that does not agree with what it is worked out from."""

    figure: str
    about: str
    stored: int
    recomputed: int


@dataclass(frozen=True, slots=True)
class Audit:
    """Counts and sums of the ledger, and every difference."""

    counts: Mapping[str, int]
    differences: Sequence[Difference]

    def as_json(self) -> dict[str, Any]:
        """The published shape: the same ledger always gives the same text."""
        return {
            "agrees": not self.differences,
            "counts": dict(self.counts),
            "differences": [asdict(difference) for difference in self.differences],
        }


def audit() -> Audit:
    """Recompute every figure from movements, holds and hold changes, all as of one moment."""
    with connection.cursor() as cursor:
        cursor.execute(_everything())
        rows = cursor.fetchall()
    counts = {name: stored for figure, name, stored, _ in rows if figure == "count"}
    found = [Difference(*row) for row in rows if row[0] != "count"]
    return Audit({name: counts[name] for name in COUNT_NAMES}, found)


def differences() -> Sequence[Difference]:
    """Every figure that does not agree; empty when all do."""
    return audit().differences


def movements(
    *, item: str | None = None, lot: str | None = None, demand_ref: str | None = None
) -> QuerySet[Movement]:
    """Lines of the ledger, newest first, of an item, a lot or a demand; one query."""
    wanted = {"item__code": item, "lot__code": lot, "demand_ref": demand_ref}
    rows = Movement.objects.filter(**{name: value for name, value in wanted.items() if value is not None})
    return rows.select_related("item", "lot", "place").order_by("-pk")


def _everything() -> str:
    """One statement, so that all figures are read from one snapshot while others go on working."""
    checks = [
        f"SELECT '{figure}', about::text, stored::bigint, recomputed::bigint "  # noqa: S608  Our own constants.
        f"FROM ({query}) AS f (about, stored, recomputed)"
        for figure, query in CHECKS.items()
    ]
    pairs = ", ".join(f"('{name}', c{index})" for index, name in enumerate(COUNT_NAMES))
    columns = ", ".join(f"c{index}" for index in range(len(COUNT_NAMES)))
    counts = (
        f"SELECT 'count', v.name, v.value, 0::bigint FROM ({COUNTS}) AS f ({columns}) "  # noqa: S608
        f"CROSS JOIN LATERAL (VALUES {pairs}) AS v (name, value)"
    )
    return " UNION ALL ".join([counts, *checks])
