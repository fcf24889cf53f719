"""A real browser before a real shop: the demo shop in a database of its own, served by a thread.

The ledger refuses to be flushed, so each module gets a clone of the demo shop that is dropped after it.
No browser means that these tests fail: they are never skipped.
"""

import os

import pytest
from django.db import connection, connections
from playwright.sync_api import expect, sync_playwright
from pytest_django.live_server_helper import LiveServer

from shop.runtime.browser import on_path
from tests.browser.house import FLAGS, Shop
from tests.browser.windows import Windows
from tests.conftest import WORKER, clone, point_at

# Playwright's synchronous calls run inside an event loop, where Django fears for its connections.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
DESK = {"width": 1366, "height": 768}
PHONE = {"width": 390, "height": 844}
NARROWEST = {"width": 320, "height": 640}
expect.set_options(timeout=8000)


@pytest.fixture(scope="session")
def demo_template(database_template, django_db_setup, django_db_blocker):
    """The demo shop, loaded once for all browser tests of a worker."""
    name = f"kw_demo_{WORKER}_{os.getpid()}"
    before = connection.settings_dict["NAME"]
    with django_db_blocker.unblock(), clone(database_template, name):
        point_at(name)
        Shop.furnish()
        connections.close_all()
        point_at(before)
        yield name


@pytest.fixture(scope="module")
def live_shop(demo_template, django_db_blocker):
    """The demo shop open for business at an address; what a module does there stays in its own database."""
    name = f"kw_live_{WORKER}_{os.getpid()}"
    before = connection.settings_dict["NAME"]
    with django_db_blocker.unblock(), clone(demo_template, name):
        point_at(name)
        server = LiveServer("localhost")
        yield Shop(server.url)
        server.stop()
        point_at(before)


@pytest.fixture(scope="session")
def browser():
    """Chromium of the machine, else the one that Playwright brings."""
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=on_path(), args=FLAGS)
        yield found
        found.close()


@pytest.fixture(scope="module")
def windows(browser, live_shop):
    """The windows of a module."""
    kept = Windows(browser, live_shop)
    yield kept
    kept.end()


@pytest.fixture
def window(windows, live_shop):
    """Opens windows of any size; a script error or a refused style in one of them fails the test.

    A window may have been another test's: it comes blank, and with nothing that it was told there.
    """
    windows.complaints.clear()

    def open_window(name="marit", *, size=DESK, touch=False, new=False):
        page = windows.take(size, touch=touch, new=new)
        if name:
            live_shop.sign_in(page.context, name)
        return page

    yield open_window
    windows.give_back()
    assert not windows.complaints


@pytest.fixture
def desk(window):
    """The owner at the counter's screen."""
    return window()


@pytest.fixture
def phone(window):
    """The owner with a phone."""
    return window(size=PHONE, touch=True)
