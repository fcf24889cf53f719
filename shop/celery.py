"""Background work: the Celery app. Tasks live in each app's tasks.py."""

import os

from celery import Celery
from celery.signals import beat_init, worker_ready

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

app = Celery("kitwright")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()


@worker_ready.connect
def _worker_is_up(**_: object) -> None:
    from shop.services import pulse

    pulse.keep_beating("worker")


@beat_init.connect
def _beat_is_up(**_: object) -> None:
    from shop.services import pulse

    pulse.keep_beating("beat")
