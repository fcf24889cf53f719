"""The whole job, told by the people who do it: a quote at the counter becomes goods in a customer's hands.

Read this first: it walks through every room of the house from the outside, over HTTP.
"""

from datetime import timedelta

import pytest
from django.db import transaction
from django.utils import timezone

from inventory.actors import SYSTEM
from inventory.selectors import ledger
from kits.services.facts import load_facts
from shop.demo import catalogue, opening_stock
from shop.models import House
from shop.services import staff
from tests.shop.counter import Caller

FOREST = {
    "enclosure": {"size": "20x20x30-glass"},
    "style": "humid-forest",
    "planting": "sparse",
    "without": ["uvb_lamp", "uvb_fixture"],
}


@pytest.fixture
def people(django_db_setup, django_db_blocker):
    """Rosa keeps the shop, Tom and Uma stand at the counter, Pia packs; the shelf is the demo shop's."""
    with django_db_blocker.unblock(), transaction.atomic():
        House.current()
        load_facts()
        catalogue.load()
        opening_stock.load()
        for name, role in {"rosa": "owner", "tom": "counter", "uma": "counter", "pia": "packer"}.items():
            staff.add(name, roles=[role], actor=SYSTEM)
        yield [Caller(name) for name in ("rosa", "tom", "uma", "pia")]
        transaction.set_rollback(True)


def lines_of(plan):
    wanted = {}
    for line in plan["lines"]:
        wanted[line["item"]] = wanted.get(line["item"], 0) + line["quantity"]
    return wanted


def free_of(caller, items):
    return {item: caller.get(f"items/{item}/").json()["free"] for item in items}


def test_from_a_spec_to_goods_in_the_customers_hands(people):
    rosa, tom, uma, pia = people

    # A customer stands before Tom. He works out the kit: everything is on the shelf.
    plan = tom.post("plans/", FOREST).json()
    assert plan["complete"], [line for line in plan["lines"] if line["status"] != "free"]
    wanted = lines_of(plan)
    before = free_of(tom, wanted)

    # He writes a quote for her and holds the stock.
    quote = tom.post("quotes/", {"spec": FOREST, "customer": "Mira Holt", "note": "Friday."}).json()
    number = quote["number"]
    held = tom.post(f"quotes/{number}/hold/").json()
    assert {line["item"]: line["quantity"] for line in held["hold"]["lines"]} == wanted
    assert held["plan"]["complete"]  # The quote does not count its own hold against itself.

    # At the other till Uma sees that much less, and cannot promise what Tom has promised.
    assert free_of(uma, wanted) == {item: before[item] - quantity for item, quantity in wanted.items()}
    scarce = min(wanted, key=lambda item: before[item] - wanted[item])
    greedy = {**FOREST, "extra": [{"item": scarce, "quantity": before[scarce]}]}
    other = uma.post("quotes/", {"spec": greedy}).json()["number"]
    refused = uma.post(f"quotes/{other}/hold/")
    assert refused.status_code == 409
    assert scarce in [short["item"] for short in refused.json()["short"]]

    # Mira says yes. The hold becomes the order's, without end.
    order = tom.post(f"quotes/{number}/accept/").json()
    assert {line["item"]: line["quantity"] for line in order["held"]} == wanted
    assert tom.get(f"quotes/{number}/").json()["state"] == "accepted"

    # Pia may not open quotes, but she hands the box over.
    assert pia.post("quotes/", {"spec": FOREST}).status_code == 403
    collected = pia.post(f"orders/{order['number']}/hand-over/", {}, key="box-1").json()
    assert collected["state"] == "collected"
    again = pia.post(f"orders/{order['number']}/hand-over/", {}, key="box-1")
    assert (again.json(), again["Idempotency-Replayed"]) == (collected, "true")

    # The shelf has that much less on it, nothing of it is held, and the books agree with themselves.
    for item, quantity in wanted.items():
        seen = rosa.get(f"items/{item}/").json()
        assert (seen["free"], seen["held"]) == (before[item] - quantity, 0)
    assert not ledger.differences()


def test_one_lot_number_answers_who_got_it(people):
    rosa, tom, _, pia = people
    item = tom.post("plans/", FOREST).json()["lines"][-1]["item"]
    soon = (timezone.localdate() + timedelta(days=20)).isoformat()
    delivery = {"item": item, "quantity": 5, "lot": "DELIVERY-7", "best_before": soon, "unit_cost": "3.10"}
    rosa.post("receipts/", {"lines": [delivery]})

    number = tom.post("quotes/", {"spec": FOREST}).json()["number"]
    order = tom.post(f"quotes/{number}/accept/").json()["number"]
    pia.post(f"orders/{order}/hand-over/")

    # First expired, first out: the delivery that spoils soonest went first, and its trace says to whom.
    trace = rosa.get("lots/DELIVERY-7/trace/").json()
    assert [step["demand_ref"] for step in trace["forward"]] == [f"order {order}"]
    assert trace["back"][0]["kind"] == "receipt"

    # It turns out bad: nothing of it can be sold any more.
    assert pia.post("lots/DELIVERY-7/quarantine/", {"why": "Mites."}).json()["state"] == "quarantined"
    seen = rosa.get(f"items/{item}/").json()
    assert seen["on_hand"] - seen["sellable"] >= 4
    assert not ledger.differences()
