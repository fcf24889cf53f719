"""The same request at the same moment, and clients that die in the middle of one."""

import os
import signal
import subprocess
import sys
import threading

import pytest
from django.db import OperationalError, connection, transaction

from inventory.calc.lines import Line
from inventory.models import Hold, IdempotencyKey, OutboxMessage
from inventory.services import holding, idempotency, outbox
from inventory.services.idempotency import Response
from tests.concurrency.crowd import ROOT, together
from tests.inventory.shelf import OWNER, assert_agrees, levels, stocked

# One crowd at a time: two of them side by side would ask for more connections than the server allows.
pytestmark = pytest.mark.xdist_group("crowds")

ONE_BAG = [Line("bag", 1)]
DYING_CLIENT = """
import sys, django
from django.conf import settings
settings.DATABASES["default"]["NAME"] = sys.argv[1]
django.setup()
from django.db import transaction
from inventory.actors import SYSTEM
from inventory.calc.lines import Line
from inventory.services import holding
with transaction.atomic():
    holding.hold("order 1", lines=[Line("bag", 5)], until=None, actor=SYSTEM)
    print("held", flush=True)
    sys.stdin.read()
"""


def test_twins_do_the_work_once_and_get_one_answer(committed_db):
    stocked("bag", 9)
    done = []

    def work():
        done.append(threading.get_ident())
        holding.hold(f"quote {len(done)}/1", lines=ONE_BAG, until=None, actor=OWNER)
        return Response(200, {"held": len(done)})

    answers = together(16, lambda _: idempotency.once("k", actor=OWNER, fingerprint="f", work=work))
    assert (len(done), {answer.body["held"] for answer in answers}) == (1, {1})
    assert [answer.replayed for answer in answers].count(False) == 1
    assert levels("bag") == (9, 9, 1)


def test_a_twin_does_the_work_when_the_first_one_fails(committed_db):
    stocked("bag", 9)
    failing = threading.Lock()

    def work():
        if failing.acquire(blocking=False):
            holding.hold("quote 1/1", lines=ONE_BAG, until=None, actor=OWNER)
            raise ConnectionError
        return Response(200, {})

    def client(_):
        try:
            return idempotency.once("k", actor=OWNER, fingerprint="f", work=work).replayed
        except ConnectionError:
            return "failed"

    answers = together(6, client)
    assert (answers.count("failed"), answers.count(False), answers.count(True)) == (1, 1, 4)
    assert (levels("bag"), IdempotencyKey.objects.count()) == ((9, 9, 0), 1)


def test_a_client_whose_connection_is_cut_has_changed_nothing_and_blocks_nobody(committed_db):
    stocked("bag", 5)

    def cut_off():
        with transaction.atomic():
            holding.hold("order 1", lines=[Line("bag", 5)], until=None, actor=OWNER)
            pid = connection.connection.info.backend_pid
            together(1, lambda _: terminate(pid))
            holding.hold("order 2", lines=ONE_BAG, until=None, actor=OWNER)

    with pytest.raises(OperationalError):
        cut_off()
    connection.close()
    holding.hold("order 3", lines=[Line("bag", 5)], until=None, actor=OWNER)
    assert set(Hold.objects.values_list("demand_ref", flat=True)) == {"order 3"}
    assert_agrees()


def terminate(pid):
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_terminate_backend(%s, 10000)", [pid])


def test_a_client_killed_in_its_transaction_has_held_nothing(committed_db):
    stocked("bag", 5)
    client = subprocess.Popen(
        [sys.executable, "-c", DYING_CLIENT, committed_db], cwd=ROOT, text=True,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE,
        env=os.environ | {"DJANGO_SETTINGS_MODULE": "shop.settings"},
    )  # fmt: skip
    assert client.stdout.readline() == "held\n"
    client.send_signal(signal.SIGKILL)
    client.communicate()
    holding.hold("order 2", lines=[Line("bag", 5)], until=None, actor=OWNER)
    assert levels("bag") == (5, 5, 5)
    assert_agrees()


def test_relays_side_by_side_send_every_message_once(committed_db):
    for number in range(250):
        outbox.tell("hold.lapsed", payload={"demand_ref": f"quote {number}/1"})
    sent = []
    together(6, lambda _: outbox.relay(topics=["hold.lapsed"], send=lambda *message: sent.append(message[2])))
    assert (len(sent), len(set(sent))) == (250, 250)
    assert not OutboxMessage.objects.filter(sent_at=None).exists()
