"""64 clients over the last units: nothing is sold twice, nothing is lost, nobody meets a deadlock."""

import random
from collections import Counter

import pytest
from django.db import connection

from inventory.calc.lines import Line
from inventory.models import Hold, Place
from inventory.selectors import stock
from inventory.services import adjusting, counting, handing_over, holding, lots, moving, receiving
from inventory.services.counting import Counted
from inventory.services.receiving import Receipt
from tests.concurrency.crowd import holds_in_processes, outcome, together
from tests.inventory.shelf import OWNER, assert_agrees, levels, stocked

# One crowd at a time: two of them side by side would ask for more connections than the server allows.
pytestmark = pytest.mark.xdist_group("crowds")

ITEMS = ["bag", "lamp", "hide", "dish", "cork", "moss"]


def active():
    return set(Hold.objects.filter(ended_at=None).values_list("demand_ref", flat=True))


def test_64_clients_in_4_processes_get_exactly_what_there_is(committed_db):
    for item in ITEMS:
        stocked(item, 40)
    counts, told = holds_in_processes(committed_db, processes=4, clients=16, attempts=5, items=ITEMS)
    assert counts == {"done": 40, "NotEnoughStock": 64 * 5 - 40}
    assert (len(told), set(told)) == (40, active())
    assert [levels(item) for item in ITEMS] == [(40, 40, 40)] * len(ITEMS)
    assert_agrees()


def test_64_threads_naming_two_items_in_opposite_orders_never_deadlock(committed_db):
    stocked("bag", 1000)
    stocked("lamp", 1000)

    def client(number):
        lines = [Line("bag", 1), Line("lamp", 1)][:: 1 if number % 2 else -1]
        return Counter(
            outcome(lambda: holding.hold(f"q {number}/{n}", lines=lines, until=None, actor=OWNER))  # noqa: B023
            for n in range(10)
        )

    assert sum(together(64, client), Counter()) == {"done": 640}
    assert (levels("bag"), levels("lamp")) == ((1000, 1000, 640), (1000, 1000, 640))
    assert_agrees()


def an_act(chance, ref):
    """One thing that somebody in the shop might do just now."""
    item, number = chance.choice(ITEMS), chance.randint(1, 3)
    lines = [Line(code, chance.randint(1, 2)) for code in chance.sample(ITEMS, 3)]
    return chance.choice([
        lambda: holding.hold(ref, lines=lines, until=None, actor=OWNER, partial=chance.random() < 0.3),
        lambda: holding.rehold(ref, new_ref=ref, lines=lines, until=None, actor=OWNER),
        lambda: holding.transfer(ref, new_ref=f"{ref} again", until=None, actor=OWNER),
        lambda: holding.release(ref, actor=OWNER),
        lambda: handing_over.hand_over(ref, actor=OWNER),
        lambda: receiving.receive([Receipt(code, number) for code in chance.sample(ITEMS, 3)], actor=OWNER),
        lambda: adjusting.adjust(item, quantity=-number, reason="breakage", actor=OWNER),
        lambda: counting.count([Counted(code, number) for code in chance.sample(ITEMS, 2)], actor=OWNER),
        lambda: lots.quarantine(f"{item}-0", why="wet", actor=OWNER),
        lambda: lots.release(f"{item}-0", actor=OWNER),
        lambda: moving.move(item, quantity=1, from_place="shelf", to_place="back", actor=OWNER),
    ])  # fmt: skip


def test_everything_at_once_ends_in_refusals_or_done_and_the_figures_agree(committed_db):
    Place.objects.create(code="back")
    for item in ITEMS:
        stocked(item, 10)

    def client(number):
        chance = random.Random(number)
        return Counter(outcome(an_act(chance, f"q {chance.randrange(12)}")) for _ in range(40))

    outcomes = sum(together(16, client), Counter())
    assert set(outcomes) <= {"done", "NotEnoughStock", "Conflict"}
    assert outcomes["done"] > 100
    assert_agrees()


def test_a_receipt_and_a_waiting_demand_never_miss_each_other(committed_db):
    stocked("bag", 0)

    def client(number):
        if number % 2:
            return receiving.receive([Receipt("bag", 3)], actor=OWNER)
        return holding.hold(f"q {number}", lines=[Line("bag", 4)], until=None, actor=OWNER, partial=True)

    together(20, client)
    assert (levels("bag"), stock.free_by_code(["bag"])) == ((30, 30, 30), {"bag": 0})
    assert_agrees()


@pytest.mark.parametrize("lapsing", range(3))
def test_a_sweep_and_holds_that_lapse_for_room_do_not_meet_badly(committed_db, lapsing):
    stocked("bag", 8)
    for number in range(8):
        holding.hold(f"old {number}", lines=[Line("bag", 1)], until=None, actor=OWNER)
    with connection.cursor() as cursor:
        cursor.execute("UPDATE inventory_hold SET until = now() - interval '1 hour'")

    def client(number):
        if number % 4 == lapsing:
            return outcome(holding.lapse_overdue)
        return outcome(lambda: holding.hold(f"new {number}", lines=[Line("bag", 1)], until=None, actor=OWNER))

    assert Counter(together(16, client)) == {"done": 12, "NotEnoughStock": 4}
    assert levels("bag") == (8, 8, 8)
    assert_agrees()
