"""A small shop at work for tests: people, a shelf of known size, and callers of the API."""

import itertools
import uuid

from rest_framework.test import APIClient

from inventory.actors import SYSTEM
from kits.planning import registry
from shop.models import House, StaffMember
from shop.permissions import actor_for
from shop.services import quotes, staff
from tests.inventory.shelf import stocked

ROLES = list(registry.ROLES)

PEOPLE = {"Ada": ["owner"], "Ben": ["counter"], "Cleo": ["packer"], "Dov": ["counter", "packer"], "Eve": []}
_keys = itertools.count(1)


def open_shop():
    """People, and six bags, two lamps and one hide on the shelf."""
    House.current()
    for name, roles in PEOPLE.items():
        staff.add(name, roles=roles, actor=SYSTEM)
    stocked("BAG", 6, price="14.50", unit_name="bag")
    stocked("LAMP", 2, price="30.00", unit_name="lamp")
    stocked("HIDE", 1, price="9.99", unit_name="piece")


def spec(**quantities):
    """A kit of exactly these items, whatever the roles would choose."""
    return {
        "enclosure": {"interior_mm": {"width": 400, "depth": 400, "height": 500}},
        "style": "humid-forest",
        "without": ROLES,
        "extra": [{"item": item, "quantity": quantity} for item, quantity in quantities.items()],
    }


def person(name):
    return StaffMember.objects.get(username=name)


def actor(name):
    return actor_for(person(name), "test-request")


def quoted(by="Ben", **quantities):
    """A fresh quote of these items."""
    return quotes.open(spec(**quantities), actor=actor(by))


class Caller:
    """A program of one person, with a fresh Idempotency-Key for every deed unless one is given."""

    def __init__(self, name):
        self.client = APIClient(raise_request_exception=False)
        self.client.credentials(HTTP_AUTHORIZATION=f"Token {staff.token(name, actor=SYSTEM)}")

    def get(self, path, data=None, **headers):
        return self.client.get(f"/api/{path}", data, headers=headers)

    def post(self, path, body=None, key=None, **headers):
        headers["Idempotency-Key"] = key or f"key-{next(_keys)}-{uuid.uuid4()}"
        return self.client.post(f"/api/{path}", body if body is not None else {}, "json", headers=headers)

    def put(self, path, body, **headers):
        return self.client.put(f"/api/{path}", body, "json", headers=headers)

    def delete(self, path, **headers):
        return self.client.delete(f"/api/{path}", headers=headers)
