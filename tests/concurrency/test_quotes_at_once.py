"""Several tills at once: real connections, real commits."""

import threading
from datetime import UTC, datetime, timedelta

import pytest
from django.db import connections, transaction
from zeal import zeal_ignore

from inventory.errors import Refusal
from inventory.selectors import ledger, stock
from kits.services.facts import load_facts
from shop.models import Order, Quote
from shop.selectors import quotes as quote_selector
from shop.services import quotes
from tests.shop.counter import Caller, actor, open_shop, quoted, spec

# One crowd at a time: two of them side by side would ask for more connections than the server allows.
pytestmark = pytest.mark.xdist_group("crowds")


@pytest.fixture
def shop(committed_db):
    with zeal_ignore():  # Many deeds one after the other are what these tests are about.
        load_facts()
        open_shop()
        yield


def evening(day):
    return datetime(day.year, day.month, day.day, 23, tzinfo=UTC)


def at_once(*deeds):
    """What each deed returned or refused, all started together."""
    gate, results = threading.Barrier(len(deeds)), [None] * len(deeds)

    def run(index, deed):
        try:
            gate.wait(timeout=60)
            results[index] = deed()
        except Refusal as refusal:
            results[index] = refusal
        finally:
            connections.close_all()

    threads = [threading.Thread(target=run, args=pair) for pair in enumerate(deeds)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return results


@pytest.mark.parametrize("_round", range(5))
def test_accepting_while_the_quote_lapses_ends_in_one_of_the_two_and_never_in_both(shop, _round):
    number = quoted(BAG=4).number
    quotes.hold(number, actor=actor("Ben"))
    tomorrow = Quote.objects.get(number=number).valid_until + timedelta(days=1)
    ben = actor("Ben")
    at_once(
        lambda: quotes.accept(number, actor=ben),
        lambda: quotes.lapse_due(now=evening(tomorrow)),
    )
    state = Quote.objects.get(number=number).state
    orders = Order.objects.filter(quote__number=number).count()
    held = 6 - stock.free_by_code(["BAG"])["BAG"]
    assert (state, orders, held) in {("accepted", 1, 4), ("lapsed", 0, 0)}
    assert not ledger.differences()


def test_a_quote_accepted_at_two_tills_becomes_one_order(shop):
    number = quoted(BAG=3).number
    ben, dov = actor("Ben"), actor("Dov")
    at_once(*(lambda who=who: quotes.accept(number, actor=who) for who in (ben, dov) * 4))
    order = Order.objects.get()
    assert quote_selector.held_lines(order.demand_ref) == {"BAG": 3}


def test_of_many_quotes_for_the_last_bags_no_more_are_held_than_there_are(shop):
    numbers = [quoted(BAG=2, LAMP=1).number for _ in range(8)]
    ben = actor("Ben")
    results = at_once(*(lambda number=number: quotes.hold(number, actor=ben) for number in numbers))
    assert sum(isinstance(result, Quote) for result in results) == 2
    assert stock.free_by_code(["BAG", "LAMP"]) == {"BAG": 2, "LAMP": 0}
    assert not ledger.differences()


def test_of_two_revisions_of_the_same_version_one_wins(shop):
    number = quoted(BAG=1).number
    ben = actor("Ben")
    results = at_once(
        *(
            lambda n=n: quotes.revise(number, spec=spec(BAG=n), expected_version=1, actor=ben)
            for n in (2, 3, 4)
        )
    )
    assert sum(isinstance(result, quotes.StaleVersion) for result in results) == 2
    assert Quote.objects.get(number=number).version == 2


def test_of_many_deeds_on_one_edition_one_is_done(shop):
    number = quoted(BAG=1).number
    seen = quote_selector.edition(quote_selector.document(quote_selector.find(number)))
    ben = actor("Ben")

    def noted(words):
        with transaction.atomic():
            quotes.must_be(number, {seen})
            return quotes.revise(number, note=words, actor=ben)

    results = at_once(*(lambda words=words: noted(words) for words in "abcd"))
    assert sum(isinstance(result, quotes.StaleVersion) for result in results) == 3
    assert Quote.objects.get(number=number).note in "abcd"


def test_of_different_deeds_over_http_under_one_tag_one_is_done(shop):
    path, ada = f"quotes/{quoted(BAG=1).number}/", Caller("Ada")
    seen = {"If-Match": ada.get(path)["ETag"]}
    deeds = {"hold": {}, "discount": {"percent": "5", "why": "a regular"}, "withdraw": {}, "accept": {}}
    answers = at_once(
        lambda: ada.client.patch(f"/api/{path}", {"note": "x"}, "json", headers=seen),
        *(lambda name=name: ada.post(f"{path}{name}/", deeds[name], **seen) for name in deeds),
    )
    statuses = sorted(answer.status_code for answer in answers)
    assert statuses[0] in {200, 201}
    assert statuses[1:] == [412] * len(deeds)
