"""A deed that touches one demand several times locks all of its stock rows at first, in one order."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.models import Item
from inventory.services import adjusting
from inventory.services.returning import Returned
from shop.services import orders, quotes, second_thoughts
from shop.services.orders import Take
from tests.shop.counter import actor, quoted

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def locked_by(do):
    """The items of each lock that was asked for, in order."""
    with CaptureQueriesContext(connection) as asked:
        do()
    texts = [row["sql"] for row in asked if "inventory_lock(" in row["sql"]]
    ids = dict(Item.objects.values_list("id", "code"))
    return [{ids[int(n)] for n in text.partition("{")[2].partition("}")[0].split(",") if n} for text in texts]


def assert_nothing_is_locked_late(locks):
    assert len(locks) > 1
    assert [late for late in locks[1:] if not late <= locks[0]] == []


@pytest.mark.parametrize("again", [quotes.hold, quotes.accept])
def test_completing_a_hold_that_lost_an_item_locks_it_with_the_rest(again):
    number = quotes.hold(quoted(BAG=1, HIDE=1).number, actor=actor("Ben")).number
    adjusting.adjust("HIDE", quantity=-1, reason="breakage", actor=actor("Ben"))
    adjusting.adjust("HIDE", quantity=1, reason="found_on_shelf", actor=actor("Ben"))
    locks = locked_by(lambda: again(number, actor=actor("Ben")))
    assert locks[0] == {"BAG", "HIDE"}
    assert_nothing_is_locked_late(locks)


def test_undoing_a_hand_over_in_part_locks_all_of_the_order():
    number = quotes.accept(quoted(BAG=1, HIDE=1).number, actor=actor("Ben")).number
    orders.hand_over(number, lines=[Take("BAG", 1)], actor=actor("Cleo"))
    back = [Returned("BAG", 1)]
    assert_nothing_is_locked_late(
        locked_by(lambda: second_thoughts.put_back(number, lines=back, actor=actor("Cleo")))
    )
