"""What stands on every page: the house, its rooms, who is signed in and how long the session lasts."""

import time
import uuid
from dataclasses import dataclass
from functools import partial
from typing import Any

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils.functional import SimpleLazyObject
from django.utils.translation import gettext_noop as noop

from inventory.actors import Actor
from shop.middleware import SessionClock
from shop.models import House
from shop.services import backups


@dataclass(frozen=True, slots=True)
class Room:
    """One room of the shop's work, as the navigation names it."""

    name: str
    address: str
    key: str


ROOMS = (
    (noop("Worktable"), "worktable", "w"),
    (noop("Quotes"), "quotes", "q"),
    (noop("Orders"), "orders", "o"),
    (noop("Shelf"), "shelf", "s"),
    (noop("Mixes"), "mixes", "m"),
    (noop("Prints"), "prints", "g"),
    (noop("Workings"), "workings", "i"),
)


def rooms() -> list[Room]:
    """The rooms that exist."""
    found = []
    for name, view, key in ROOMS:
        try:
            found.append(Room(name, reverse(view), key))
        except NoReverseMatch:
            continue
    return found


def frame(request: HttpRequest) -> dict[str, Any]:
    """The context of every page; the house is read once, when a template first asks for it."""
    actor: Actor | None = getattr(request, "actor", None)
    return {
        "house": SimpleLazyObject(House.current),
        "actor": actor,
        "may": {} if actor is None else dict.fromkeys(actor.abilities, True),
        "rooms": rooms if actor else (),
        "backup": _backup if actor and actor.may("backup") else None,
        "session_seconds": partial(_seconds_left, request),
        "new_key": _new_key,
    }


def _backup() -> dict[str, Any]:
    """How old the nightly backup is in whole hours, for whoever may look after it."""
    state = backups.state()
    age = state["age_hours"]
    return {"overdue": state["overdue"], "hours": None if age is None else round(age)}


def _seconds_left(request: HttpRequest) -> int:
    return max(int(request.session.get(SessionClock.ENDS, 0)) - int(time.time()), 0)


def _new_key() -> str:
    """A fresh Idempotency-Key for a form."""
    return uuid.uuid4().hex
