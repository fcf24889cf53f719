"""A person at a screen: signed in, with a fresh key for each form."""

import itertools

from django.conf import settings
from django.test import Client

from tests.shop.counter import person

PASSWORD = "moss-grows-on-the-north"
HTMX = {"HX-Request": "true"}
_keys = itertools.count(1)


def newcomer(name):
    """A browser of this person as they stand, perhaps with a one-time password."""
    client = Client()
    client.force_login(person(name), backend=settings.AUTHENTICATION_BACKENDS[-1])
    return client


def signed_in(name):
    """A browser of this person, whose password is their own."""
    user = person(name)
    user.must_change_password = False
    user.save()
    return newcomer(name)


def key():
    """The hidden field of a fresh form."""
    return {"idempotency_key": f"form-{next(_keys)}"}


def deed(client, path, fields=None, *, htmx=False, **more):
    """Post a form to an address."""
    return client.post(path, {**key(), **(fields or {}), **more}, headers=HTMX if htmx else {})
