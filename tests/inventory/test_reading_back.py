"""Traces, lists and the audit: what the ledger tells afterwards."""

import json

import pytest
from django.core.management import call_command
from django.db import connection

from inventory.calc.lines import Line
from inventory.errors import Unknown
from inventory.selectors import ledger, lots, stock
from inventory.services import handing_over, holding, receiving, returning, reversing
from inventory.services.receiving import Receipt
from inventory.services.returning import Returned
from tests.inventory.shelf import OWNER, make_item, stocked

pytestmark = pytest.mark.django_db


def sold(ref, code, quantity):
    holding.hold(ref, lines=[Line(code, quantity)], until=None, actor=OWNER)
    return handing_over.hand_over(ref, actor=OWNER)


def test_a_lot_is_traced_back_to_its_receipt_and_forward_to_the_demands_that_got_it():
    make_item("moss")
    receiving.receive([Receipt("moss", 9, lot="A7")], actor=OWNER)
    sold("order 1", "moss", 2)
    sold("order 2", "moss", 3)
    trace = lots.trace("A7").as_json()
    assert [(step["kind"], step["quantity"]) for step in trace["back"]] == [("receipt", 9)]
    assert [(step["demand_ref"], step["quantity"]) for step in trace["forward"]] == [
        ("order 1", -2),
        ("order 2", -3),
    ]


def test_a_return_set_aside_is_traced_to_the_lot_that_it_was_split_from():
    make_item("moss")
    receiving.receive([Receipt("moss", 9, lot="A7")], actor=OWNER)
    sold("order 1", "moss", 2)
    returning.take_back("order 1", lines=[Returned("moss", 1, good=False)], actor=OWNER)
    aside = lots.trace("A7").forward[-1]
    assert (aside.kind, aside.quantity, aside.demand_ref) == ("return", 1, "order 1")
    assert [step.kind for step in lots.trace(aside.lot).back] == ["return", "receipt"]


def test_what_was_reversed_is_not_traced():
    make_item("moss")
    receiving.receive([Receipt("moss", 9, lot="A7")], actor=OWNER)
    left = sold("order 1", "moss", 2)
    reversing.reverse(left[0].movement_id, why="wrong customer", actor=OWNER)
    assert lots.trace("A7").forward == ()


def test_a_lot_that_is_not_there_cannot_be_traced():
    with pytest.raises(Unknown, match="no lot 'A7'"):
        lots.trace("A7")


def test_every_line_of_the_ledger_says_who_when_why_and_in_which_request():
    stocked("bag", 5)
    sold("order 1", "bag", 2)
    newest = ledger.movements(item="bag").first()
    assert (newest.by, newest.request_id, newest.demand_ref) == ("Ines", "request-1", "order 1")
    assert [m.quantity for m in ledger.movements(lot="bag-0")] == [-2, 5]
    assert [m.quantity for m in ledger.movements(demand_ref="order 1")] == [-2]


def test_free_stock_of_many_items_is_one_query(django_assert_num_queries):
    for number in range(5):
        stocked(f"bag{number}", number)
    with django_assert_num_queries(1):
        free = stock.free_by_code([f"bag{number}" for number in range(6)], leaving_out="order 1")
    assert free == {"bag0": 0, "bag1": 1, "bag2": 2, "bag3": 3, "bag4": 4, "bag5": 0}


def test_lots_of_an_item_come_with_what_is_left_of_them():
    make_item("moss")
    receiving.receive([Receipt("moss", 9, lot="A7"), Receipt("moss", 2, lot="A8")], actor=OWNER)
    sold("order 1", "moss", 9)
    assert [(lot.code, lot.on_hand) for lot in lots.of_item("moss")] == [("A7", 0), ("A8", 2), ("moss-0", 0)]


def test_a_hand_over_of_many_lines_costs_no_query_per_line(django_assert_max_num_queries):
    codes = [f"bag{number}" for number in range(12)]
    for code in codes:
        stocked(code, 3)
    holding.hold("order 1", lines=[Line(code, 2) for code in codes], until=None, actor=OWNER)
    with django_assert_max_num_queries(20):
        handing_over.hand_over("order 1", actor=OWNER)


def audited(capsys, *options):
    try:
        call_command("audit_stock", *options)
        status = 0
    except SystemExit as end:
        status = end.code
    return status, capsys.readouterr().out


def test_the_audit_counts_and_agrees(capsys):
    stocked("bag", 5)
    sold("order 1", "bag", 2)
    status, text = audited(capsys, "--json")
    told = json.loads(text)
    assert (status, told["agrees"], told["differences"]) == (0, True, [])
    assert (told["counts"]["on_hand"], told["counts"]["movements"], told["counts"]["moved"]) == (3, 2, 3)
    assert audited(capsys, "--json") == (0, text)


DAMAGES = [
    ("balance", "UPDATE inventory_lotbalance SET on_hand = on_hand + 1"),
    ("sellable", "UPDATE inventory_stock SET sellable = sellable + 1"),
    ("sellable", "UPDATE inventory_lot SET state = 'expired'"),
    ("held", "UPDATE inventory_stock SET held = held - 1"),
    ("hold", "UPDATE inventory_hold SET quantity = quantity + 1 WHERE ended_at IS NULL"),
    (
        "handed_over",
        "INSERT INTO inventory_movement (item_id, lot_id, place_id, quantity, kind, at, by, demand_ref) "
        "SELECT item_id, id, 1, -1, 'hand_over', now(), 'x', 'order 9' FROM inventory_lot",
    ),
    (
        "lot_state",
        "INSERT INTO inventory_lotchange (lot_id, old_state, new_state, why, at, by) "
        "SELECT id, 'good', 'expired', '', now(), 'x' FROM inventory_lot",
    ),
]


@pytest.mark.parametrize(("figure", "damage"), DAMAGES)
def test_the_audit_finds_every_kind_of_damage(capsys, figure, damage):
    stocked("bag", 5)
    holding.hold("order 1", lines=[Line("bag", 1)], until=None, actor=OWNER)
    with connection.cursor() as cursor:
        cursor.execute(damage)
    status, text = audited(capsys, "--json")
    assert status == 1
    assert figure in {found["figure"] for found in json.loads(text)["differences"]}


def test_the_audit_says_in_words_what_does_not_agree(capsys):
    stocked("bag", 5)
    with connection.cursor() as cursor:
        cursor.execute("UPDATE inventory_stock SET sellable = 7")
    assert "sellable of bag says 7, the ledger gives 5" in audited(capsys)[1]
