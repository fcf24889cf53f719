"""Two clerks with one quote before them: two browsers, one server, real commits."""

import http.cookiejar
import re
import urllib.error
import urllib.parse
import urllib.request

import pytest
from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from pytest_django.live_server_helper import LiveServer
from zeal import zeal_ignore

from kits.services.facts import load_facts
from shop.models import Draft, Quote
from shop.services import drafts
from tests.concurrency.crowd import together
from tests.shop.counter import open_shop, person, quoted

pytestmark = pytest.mark.xdist_group("crowds")


class Clerk:
    """A browser without scripts: it keeps its cookies and sends its tokens back."""

    def __init__(self, server, name):
        self.server, self.jar = server, http.cookiejar.CookieJar()
        self.opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.jar))
        self.session = f"{settings.SESSION_COOKIE_NAME}={session_of(name)}"

    def take_up(self, number):
        """The worktable with this quote on it."""
        self._ask("/worktable/")
        _, page, self.table = self._ask("/worktable/", {"start": f"quote:{number}"})
        self.key = re.search(r'name="idempotency_key" value="(\w+)"', page)[1]

    def save(self, bags, deed="save"):
        """Status and page of a deed, saving unless named, on the kit with so many bags."""
        fields = {"deed": deed, "extra-BAG": str(bags), "idempotency_key": f"{self.key}-{deed}"}
        return self._ask(self.table, fields)[:2]

    def _ask(self, address, fields=None):
        tokens = {cookie.name: cookie.value for cookie in self.jar}
        cookies = "; ".join([self.session, *(f"{name}={value}" for name, value in tokens.items())])
        token = {"csrfmiddlewaretoken": tokens.get(settings.CSRF_COOKIE_NAME, "")}
        body = None if fields is None else urllib.parse.urlencode({**fields, **token}).encode()
        url = urllib.parse.urljoin(self.server.url, address)
        request = urllib.request.Request(url, body, {"Cookie": cookies})
        try:
            with self.opener.open(request, timeout=60) as answer:
                return answer.status, answer.read().decode(), answer.url
        except urllib.error.HTTPError as refused:
            return refused.code, refused.read().decode(), refused.url


def session_of(name):
    """The key of a session in which this person is signed in."""
    user, session = person(name), SessionStore()
    user.must_change_password = False
    user.save()
    session[SESSION_KEY] = str(user.pk)
    session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[-1]
    session[HASH_SESSION_KEY] = user.get_session_auth_hash()
    session.create()
    return session.session_key


@pytest.fixture
def server(committed_db):
    with zeal_ignore():
        load_facts()
        open_shop()
        server = LiveServer("localhost")
        yield server
        server.stop()


@pytest.fixture
def clerks(server):
    """Two clerks who have taken up the same quote of one bag."""
    number = quoted(BAG=1).number
    both = [Clerk(server, "Ben"), Clerk(server, "Dov")]
    for clerk in both:
        clerk.take_up(number)
    return both


def spec_of(name):
    return drafts.spec_of(Draft.objects.get(person=person(name)))


def test_the_second_to_save_sees_the_difference_and_loses_nothing(clerks):
    ben, dov = clerks
    assert ben.save(2)[0] == 200
    status, page = dov.save(3)
    assert status == 412
    assert "Ben wrote version 2" in page
    assert "extras: 3 x Item BAG, theirs 2 x Item BAG" in page
    assert Quote.objects.get().version == 2
    assert spec_of("Dov")["extra"] == [{"item": "BAG", "quantity": 3}]


def test_of_two_who_save_at_one_moment_one_is_refused_and_may_keep_what_is_theirs(clerks):
    answers = together(2, lambda number: clerks[number].save(2 + number))
    assert sorted(status for status, _ in answers) == [200, 412]
    late = next(number for number, (status, _) in enumerate(answers) if status == 412)
    assert f"theirs {3 - late} x Item BAG" in answers[late][1]
    assert Quote.objects.get().versions.get(version=2).spec["extra"][0]["quantity"] == 3 - late
    clerks[late].save(2 + late, deed="mine:2")
    assert clerks[late].save(2 + late)[0] == 200
    assert Quote.objects.get().versions.get(version=3).spec["extra"][0]["quantity"] == 2 + late
