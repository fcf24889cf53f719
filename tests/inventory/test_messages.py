"""Requests that are asked for twice, and news that is passed on."""

import pytest
from django.db import transaction

from inventory.actors import ABILITIES, Actor
from inventory.errors import BadInput, Conflict
from inventory.models import IdempotencyKey, OutboxMessage
from inventory.services import idempotency, outbox
from inventory.services.idempotency import KeyReused, Response
from tests.inventory.shelf import OWNER

pytestmark = pytest.mark.django_db


class Work:
    def __init__(self):
        self.times = 0

    def __call__(self):
        self.times += 1
        return Response(201, {"number": self.times})


def once(work, *, key="k1", fingerprint="f1", actor=OWNER):
    return idempotency.once(key, actor=actor, fingerprint=fingerprint, work=work)


def test_the_same_request_again_replays_the_first_response():
    work = Work()
    assert once(work) == Response(201, {"number": 1})
    assert once(work) == Response(201, {"number": 1}, replayed=True)
    assert work.times == 1


def test_the_same_key_for_another_request_is_refused():
    work = Work()
    once(work)
    with pytest.raises(KeyReused, match="used before for another request"):
        once(work, fingerprint="f2")


def test_keys_are_an_actors_own():
    work = Work()
    once(work)
    assert once(work, actor=Actor("Ole", ABILITIES)).body == {"number": 2}


def test_work_that_is_refused_leaves_no_key_behind():
    def refuse():
        raise Conflict("Not today.")

    with pytest.raises(Conflict), transaction.atomic():
        once(refuse)
    assert once(Work()).replayed is False


@pytest.mark.parametrize("key", ["", "k" * 201])
def test_a_key_that_is_no_key_is_refused(key):
    with pytest.raises(BadInput, match="Idempotency-Key"):
        once(Work(), key=key)


def test_old_keys_are_forgotten_and_new_ones_kept():
    once(Work(), key="old")
    once(Work(), key="new")
    IdempotencyKey.objects.filter(key="old").update(created_at="2020-01-01T00:00Z")
    assert idempotency.forget_old() == 1
    assert IdempotencyKey.objects.get().key == "new"


def test_news_is_sent_once_oldest_first_and_only_for_topics_that_somebody_hears():
    for number in range(3):
        outbox.tell("hold.lapsed", payload={"demand_ref": f"quote {number}/1"})
    outbox.tell("unheard", payload={})
    sent = []
    for _ in range(2):
        outbox.relay(topics=["hold.lapsed"], send=lambda *message: sent.append(message))
    assert [payload["demand_ref"] for _, payload, _ in sent] == ["quote 0/1", "quote 1/1", "quote 2/1"]
    assert OutboxMessage.objects.filter(sent_at=None).count() == 1


def test_news_that_could_not_be_sent_waits():
    outbox.tell("hold.lapsed", payload={"demand_ref": "quote 1/1"})

    def broken(*_):
        raise ConnectionError

    with pytest.raises(ConnectionError):
        outbox.relay(topics=["hold.lapsed"], send=broken)
    assert OutboxMessage.objects.filter(sent_at=None).count() == 1
