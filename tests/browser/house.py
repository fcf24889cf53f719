"""The demo shop as browser tests meet it: its people can sign in, and its pages can be looked at."""

import time
from importlib import resources

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore

from inventory.actors import SYSTEM
from kits.selectors import standard_kits
from kits.services.facts import load_facts
from shop.demo.load import load
from shop.models import Order, Quote, StaffMember
from shop.services import drafts

FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"]
PASSWORD = "lichen-ledger-lantern"
SCANNER_S = 0.004  # from key to key
RULES = {
    "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    # Every rule is checked on every element; only of what is in order axe tells no more than one example.
    "resultTypes": ["violations"],
}
# What is fading in is fainter than it will be.
STILL = """() => Promise.all(document.getAnimations()
    .filter(one => one.effect.getComputedTiming().endTime < Infinity)
    .map(one => one.finished.then(() => null, () => null)))"""


class Shop:
    """The shop at its address."""

    def __init__(self, url):
        self.url = url

    @staticmethod
    def furnish():
        """The facts, the demo shop, and people who have chosen a password."""
        load_facts()
        load()
        for person in StaffMember.objects.all():
            person.set_password(PASSWORD)
            person.must_change_password = False
            person.save()

    def sign_in(self, context, name):
        """Give a browser the session of a person."""
        person = StaffMember.objects.get(username=name)
        session = SessionStore()
        session[SESSION_KEY] = str(person.pk)
        session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[-1]
        session[HASH_SESSION_KEY] = person.get_session_auth_hash()
        session.create()
        cookie = {"name": settings.SESSION_COOKIE_NAME, "value": session.session_key, "url": self.url}
        context.add_cookies([cookie])

    @staticmethod
    def draft(name, spec):
        """The number of a new draft of a person."""
        return drafts.begin(StaffMember.objects.get(username=name), spec=spec, actor=SYSTEM).pk

    @classmethod
    def kit(cls, name, code):
        """The number of a new draft of a person with a standard kit on it."""
        return cls.draft(name, standard_kits.get(code).spec)

    @staticmethod
    def quote(state="open", *, held=False):
        """The number of a quote of the demo shop."""
        found = Quote.objects.filter(state=state, hold_until__isnull=not held)
        return found.order_by("id").values_list("number", flat=True)[0]

    @staticmethod
    def order(state="held"):
        """The number of an order of the demo shop."""
        return Order.objects.filter(state=state).order_by("id").values_list("number", flat=True)[0]


def violations(page):
    """What axe-core finds wrong with a page: rule, then the elements that break it."""
    script = resources.files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")
    page.evaluate(f"() => {{ {script}; window.axe = axe || module.exports; }}")
    page.evaluate(STILL)
    found = page.evaluate("rules => axe.run(document, rules)", RULES)
    return {rule["id"]: [node["html"][:200] for node in rule["nodes"]] for rule in found["violations"]}


def focused(page):
    """The id of the element that has the focus, empty when nothing has."""
    return page.evaluate(
        "document.activeElement === document.body ? '' : document.activeElement.id || 'other'"
    )


def scan(page, code):
    """What a scanner does: keys, then Enter, at times of its own, however busy the machine is."""
    session = page.context.new_cdp_session(page)
    begun = time.time()
    for number, key in enumerate([*code, "Enter"]):
        at = {"key": key, "timestamp": begun + number * SCANNER_S}
        typed = {"text": "\r", "windowsVirtualKeyCode": 13} if key == "Enter" else {"text": key}
        session.send("Input.dispatchKeyEvent", {"type": "keyDown", **at, **typed})
        session.send("Input.dispatchKeyEvent", {"type": "keyUp", **at})
    session.detach()
