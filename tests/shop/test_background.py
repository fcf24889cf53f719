from datetime import timedelta

import pytest
from axes.models import AccessAttempt, AccessLog
from django.conf import settings
from django.contrib.sessions.models import Session
from django.utils import timezone

from inventory.models import OutboxMessage
from inventory.services import adjusting, outbox
from shop import tasks
from shop.celery import app
from shop.models import Quote
from shop.services import quotes
from tests.shop.counter import actor, quoted

pytestmark = pytest.mark.usefixtures("shop")


def test_every_task_named_in_the_settings_exists():
    app.loader.import_default_modules()
    named = {entry["task"] for entry in settings.CELERY_BEAT_SCHEDULE.values()}
    assert named | set(settings.OUTBOX_HANDLERS.values()) <= set(app.tasks)


def test_news_of_a_shortened_hold_reaches_its_quote_and_hearing_it_twice_changes_nothing():
    quote = quoted(BAG=6)
    quotes.hold(quote.number, actor=actor("Ben"))
    adjusting.adjust("BAG", quantity=-2, reason="breakage", actor=actor("Ben"))
    heard = []
    outbox.relay(topics=list(settings.OUTBOX_HANDLERS), send=lambda topic, payload, _: heard.append(payload))
    for payload in heard * 2:
        tasks.look_after_demand(**payload)
    assert "2 of Item BAG missing" in Quote.objects.get(pk=quote.pk).needs_attention
    assert not OutboxMessage.objects.filter(sent_at=None).exists()


def test_quotes_lapse_by_task():
    Quote.objects.filter(pk=quoted(BAG=1).pk).update(valid_until="2020-01-01")
    assert tasks.lapse_quotes() == 1


def test_sessions_that_have_ended_are_cleared_away():
    for key, days in (("old", -1), ("new", 1)):
        Session.objects.create(
            session_key=key, session_data="", expire_date=timezone.now() + timedelta(days=days)
        )
    tasks.forget_old_sessions()
    assert [session.session_key for session in Session.objects.all()] == ["new"]
    assert settings.CELERY_BEAT_SCHEDULE["forget-old-sessions"]["task"] == "shop.tasks.forget_old_sessions"


def test_old_tries_and_sign_ins_are_cleared_away_and_fresh_ones_stay(shop):
    for name, days in (("old", 100), ("new", 0)):
        at = timezone.now() - timedelta(days=days)
        tried = AccessAttempt.objects.create(username=name, failures_since_start=1, ip_address="192.0.2.1")
        AccessAttempt.objects.filter(pk=tried.pk).update(attempt_time=at)
        signed = AccessLog.objects.create(username=name, ip_address="192.0.2.1")
        AccessLog.objects.filter(pk=signed.pk).update(attempt_time=at)
    assert tasks.forget_old_sign_ins() == 2
    assert [row.username for row in (*AccessAttempt.objects.all(), *AccessLog.objects.all())] == [
        "new",
        "new",
    ]
    assert settings.CELERY_BEAT_SCHEDULE["forget-old-sign-ins"]["task"] == "shop.tasks.forget_old_sign_ins"
