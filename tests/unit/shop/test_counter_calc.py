"""Quoted plans with the stock of the moment, agreed prices, hours, and the printed plan."""

from datetime import UTC, date, datetime, time
from decimal import Decimal

import pytest

from shop.calc import demands
from shop.calc.agreed import discount_cents
from shop.calc.opening_hours import closing_after, shop_day
from shop.calc.plan_text import as_text
from shop.calc.todays_stock import items_named, with_free


def line(item, quantity, total="10.00", **more):
    base = {"role": "litter", "item": item, "name": f"Item {item}", "quantity": quantity, "unit": "bag",
            "each": total, "total": total, "tax_rate_pct": "8", "because": [], "substitutes": []}  # fmt: skip
    return base | with_free({"lines": [base], "unmet": []}, {item: quantity})["lines"][0] | more


def plan(*lines, unmet=()):
    return {
        "spec": {"enclosure": {"size": "45x45x60-glass"}, "style": "desert"},
        "complete": True, "lines": list(lines), "unmet": list(unmet), "figures": {"footprint_m2": 0.19625},
        "workings": [], "cautions": [{"level": "stop", "about": "lamp", "text": "Too strong."}],
        "totals": {"net": "10.00", "tax": "0.80", "gross": "10.80", "currency": "USD"},
        "calendar": [{"what": "Wash the dish", "every_days": 1, "role": "water_dish"}],
    }  # fmt: skip


@pytest.mark.parametrize(
    ("free", "status", "missing"),
    [(5, "free", 0), (3, "free", 0), (2, "short", 1), (0, "none", 3), (-4, "none", 3)],
)
def test_status_follows_the_free_quantity(free, status, missing):
    fresh = with_free(plan(line("A", 3)), {"A": free})
    assert (fresh["lines"][0]["status"], fresh["lines"][0]["missing"]) == (status, missing)
    assert fresh["complete"] is (status == "free")


def test_an_unmet_role_keeps_a_plan_incomplete():
    assert not with_free(plan(unmet=[{"role": "mister", "because": "None."}]), {})["complete"]


def test_substitutes_say_how_often_they_could_be_taken():
    substitute = {"items": [{"item": "B", "quantity": 2}, {"item": "C", "quantity": 1}], "total": "9.00",
                  "free": 0, "because": [], "figures": {}}  # fmt: skip
    offered = plan(line("A", 1, substitutes=[substitute]))
    assert items_named(offered) == {"A", "B", "C"}
    assert with_free(offered, {"A": 0, "B": 5, "C": 9})["lines"][0]["substitutes"][0]["free"] == 2


def test_prices_and_quantities_stay_as_they_were_quoted():
    before = plan(line("A", 3))
    after = with_free(before, {"A": 0})
    assert [after["lines"][0][key] for key in ("quantity", "each", "total")] == [3, "10.00", "10.00"]
    assert before["lines"][0]["status"] == "free"


def test_a_percentage_is_rounded_half_up_and_an_amount_never_exceeds_the_price():
    assert discount_cents(1250, percent=Decimal("0.2"), amount=None) == 3
    assert discount_cents(1250, percent=None, amount=Decimal("99")) == 1250


def test_closing_time_keeps_to_the_clock_on_the_wall_over_the_end_of_summer_time():
    """Daylight saving time ends on 1 November 2026: 18:00 in Chicago is 23:00 UTC before, 0:00 after."""
    now = datetime(2026, 10, 30, 15, tzinfo=UTC)
    end = closing_after(now, days=3, closing=time(18), zone="America/Chicago")
    assert end.astimezone(UTC) == datetime(2026, 11, 3, 0, tzinfo=UTC)


def test_a_hold_for_today_after_closing_ends_tomorrow():
    now = datetime(2026, 11, 25, 20, tzinfo=UTC)
    assert closing_after(now, days=0, closing=time(18), zone="UTC") == datetime(2026, 11, 26, 18, tzinfo=UTC)


def test_the_shops_day_is_not_the_servers():
    assert shop_day(datetime(2026, 1, 1, 3, tzinfo=UTC), zone="America/Denver") == date(2025, 12, 31)


@pytest.mark.parametrize(
    "ref", ["", "quote 1042H", "quote x/1", "order 1042H/1", "batch 3", "quote 1042H/1 "]
)
def test_other_demands_are_nobody_here(ref):
    assert demands.read(ref) is None


def test_the_printed_plan_says_every_state_as_shape_and_word():
    printed = as_text(with_free(plan(line("A", 3), line("B", 2), line("C", 1)), {"A": 3, "B": 1, "C": 0}))
    for words in ("● free", "◐ short", "○ none", "■ stop", "1 free, 1 missing", "every 1 days"):
        assert words in printed


def test_the_printed_plan_keeps_to_its_width():
    wide = line("CODE", 1, name="A very long name of an item " * 5)
    assert max(map(len, as_text(plan(wide), width=90).splitlines())) <= 90


def test_the_printed_plan_prints_no_control_characters():
    assert "\x1b" not in as_text(plan(line("A", 1, name="\x1b[31mred")))
