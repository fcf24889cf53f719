"""What the background does, through the tasks themselves and a broker in memory."""

from datetime import UTC, date, datetime

import pytest
import time_machine
from celery import Celery, current_app

from inventory import tasks
from inventory.calc.lines import Line
from inventory.models import OutboxMessage
from inventory.services import holding, outbox, receiving
from inventory.services.receiving import Receipt
from tests.inventory.shelf import OWNER, assert_agrees, in_an_hour, levels, make_item, stocked

pytestmark = pytest.mark.django_db


@pytest.fixture
def broker():
    """An application whose messages stay in this process."""
    before = current_app._get_current_object()
    app = Celery("test", broker="memory://", set_as_current=False)
    app.set_current()
    with app.connection_for_read() as link:
        yield link
    before.set_current()


def test_news_reaches_the_task_that_wants_it_under_the_messages_own_id(broker, settings):
    settings.OUTBOX_HANDLERS = {"hold.lapsed": "somewhere.listen"}
    outbox.tell("hold.lapsed", payload={"demand_ref": "quote 1/1"})
    assert (tasks.send_outbox(), tasks.send_outbox()) == (1, 0)
    message = broker.SimpleQueue("celery").get(timeout=5)
    sent = OutboxMessage.objects.get()
    assert (message.headers["task"], message.headers["id"]) == ("somewhere.listen", f"outbox-{sent.pk}")
    assert message.payload[1] == {"demand_ref": "quote 1/1"}


def test_the_sweep_runs_twice_without_harm():
    stocked("bag", 5)
    holding.hold("quote 1/1", lines=[Line("bag", 2)], until=in_an_hour(), actor=OWNER)
    with time_machine.travel(in_an_hour(), tick=False):
        assert (tasks.lapse_overdue_holds(), tasks.lapse_overdue_holds()) == (1, 0)
    assert levels("bag") == (5, 5, 0)
    assert_agrees()


def test_lots_expire_by_themselves_once():
    make_item("moss")
    receiving.receive([Receipt("moss", 3, lot="a", best_before=date(2030, 5, 1))], actor=OWNER)
    with time_machine.travel(datetime(2030, 5, 2, 12, tzinfo=UTC), tick=False):
        assert (tasks.expire_lots(), tasks.expire_lots()) == (1, 0)
    assert levels("moss") == (3, 0, 0)
    assert_agrees()


def test_old_keys_and_sent_news_are_forgotten():
    outbox.tell("hold.lapsed", payload={"demand_ref": "quote 1/1"})
    outbox.tell("hold.lapsed", payload={"demand_ref": "quote 2/1"})
    OutboxMessage.objects.filter(payload__demand_ref="quote 1/1").update(sent_at="2020-01-01T00:00Z")
    assert tasks.forget_old_messages() == 1
    assert OutboxMessage.objects.get().payload == {"demand_ref": "quote 2/1"}
