"""Screens and paper look as they did: the pictures of README, and that a broken layout is noticed.

`--renew-pictures` makes the pictures anew. The day stands still, the type is the house's own, nothing moves.
"""

import io
import os
from base64 import b64encode
from datetime import UTC, datetime, timedelta
from functools import cache

import pypdfium2
import pytest
import time_machine
from django.db import connection, connections
from PIL import Image
from playwright.sync_api import expect
from pytest_django.live_server_helper import LiveServer

from inventory.documents.typeface import FILES, FONTS
from tests.browser import looking
from tests.browser.conftest import DESK, PHONE
from tests.browser.house import Shop
from tests.conftest import WORKER, clone, point_at

NOON = datetime(2026, 11, 25, 17, 0, tzinfo=UTC)  # noon in the demo shop's time zone
OPENED_BEFORE = timedelta(hours=3)
SIZES = {"desk": DESK, "phone": PHONE}
SCREENS = ("worktable", "quote", "item")
PAPERS = {
    "paper-build-sheet": ("/api/quotes/{number}/build-sheet.pdf", 100),
    "paper-quote": ("/api/quotes/{number}/quote.pdf", 100),
    "paper-kit-label": ("/api/quotes/{number}/kit-label.pdf", 101.5),  # half a printer's dots
    "paper-shelf-label": ("/api/items/DRIPSHADE-17L6/label.pdf", 203),
}
ITEM = "/shelf/DRIPSHADE-17L6/"
FACE = "".join(
    f"@font-face {{ font-family: 'Own'; font-weight: {weight}; "
    f"src: url(data:font/ttf;base64,{b64encode((FONTS / file).read_bytes()).decode()}); }}\n"
    for weight, file in zip((400, 700), FILES.values(), strict=True)
)
BREAKS = {
    "no styles": "* { all: revert !important; }",
    "the parts list is gone": "#list { display: none !important; }",
    "the parts list is below the drawing": ".middle { display: block !important; }",
    "the drawing has collapsed": ".drawings { flex: none !important; height: 24px !important; }",
    "the title block is at the top": "#block { position: fixed !important; top: 0; left: 0; }",
    "the strip is as high as the screen": ".want { height: 70vh !important; }",
    "everything is white on white": "* { color: white !important; fill: white !important; }",
}


@pytest.fixture(scope="module")
def still_shop(database_template, django_db_setup, django_db_blocker):
    """The demo shop on a day that does not pass."""
    name = f"kw_still_{WORKER}_{os.getpid()}"
    before = connection.settings_dict["NAME"]
    with (
        django_db_blocker.unblock(),
        clone(database_template, name),
        time_machine.travel(NOON, tick=False) as clock,
    ):
        clock.shift(-OPENED_BEFORE)
        point_at(name)
        Shop.furnish()
        clock.move_to(NOON)
        connections.close_all()
        server = LiveServer("localhost")
        yield Shop(server.url)
        server.stop()
        point_at(before)


@pytest.fixture(scope="module")
def screens(browser, still_shop):
    """Opens a screen once in the house's own type; the tests look at it and write nothing."""
    contexts = []

    @cache
    def opened(screen, size):
        context = browser.new_context(
            viewport=SIZES[size], base_url=still_shop.url, locale="en-US", bypass_csp=True,
            reduced_motion="reduce", timezone_id="America/New_York",
        )  # fmt: skip
        contexts.append(context)
        still_shop.sign_in(context, "marit")
        page = context.new_page()
        page.clock.set_fixed_time(NOON)
        opening(page, screen, still_shop.quote())
        page.add_style_tag(content=f"{FACE} :root {{ --face: 'Own'; --mono: 'Own'; }}")
        page.evaluate("document.fonts.ready")
        return page

    yield opened
    for context in contexts:
        context.close()


@pytest.fixture
def look(screens):
    """Gives a screen, in styles of the test's own that are taken away after it."""
    added = []

    def at(screen, size, *, more=""):
        page = screens(screen, size)
        page.bring_to_front()
        added.append(page.add_style_tag(content=f"/* the test's own */ {more}"))
        page.evaluate("scrollTo(0, 0)")
        return page

    yield at
    for style in added:
        style.evaluate("one => one.remove()")


def opening(page, screen, number):
    if screen == "item":
        page.goto(ITEM)
    elif screen == "quote":
        page.goto(f"/quotes/{number}/")
    else:
        page.goto("/worktable/")
        page.locator("#start").fill(number)
        page.keyboard.press("Enter")
        expect(page.locator("#number")).to_have_text(number)
        expect(page.locator("#drawing-section")).to_be_visible()
        page.evaluate("document.activeElement.blur(); scrollTo(0, 0)")


def taken(page):
    """The picture of the screen as it stands."""
    page.wait_for_function(
        "() => document.fonts.status === 'loaded' && !document.querySelector('.htmx-request, [data-asking]')"
    )
    return Image.open(io.BytesIO(page.screenshot(animations="disabled", caret="hide"))).convert("RGB")


def printed(pdf, dpi):
    return pypdfium2.PdfDocument(pdf)[0].render(scale=dpi / 72).to_pil().convert("RGB")


@pytest.fixture
def paper(still_shop, browser):
    """The first page of a document as a picture."""
    context = browser.new_context(base_url=still_shop.url)
    still_shop.sign_in(context, "marit")

    def page_of(name):
        address, dpi = PAPERS[name]
        answer = context.request.get(address.format(number=still_shop.quote()))
        assert answer.ok
        return printed(answer.body(), dpi)

    yield page_of
    context.close()


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("screen", SCREENS)
def test_a_screen_looks_as_in_its_picture(look, screen, size, request):
    page = look(screen, size)
    picture, places = taken(page), looking.boxes(page)
    if request.config.getoption("--renew-pictures"):
        looking.keep(f"{screen}-{size}", picture, places)
    assert looking.faults_of_screen(f"{screen}-{size}", picture, places) == []
    assert len(places) >= 4


@pytest.mark.parametrize("name", PAPERS)
def test_a_page_looks_as_in_its_picture(paper, name, request):
    picture = paper(name)
    if request.config.getoption("--renew-pictures"):
        looking.keep(name, picture)
    assert looking.faults_of_paper(name, picture) == []


@pytest.mark.parametrize("fault", BREAKS)
def test_a_broken_layout_is_noticed(look, fault):
    page = look("worktable", "desk", more=BREAKS[fault])
    assert looking.faults_of_screen("worktable-desk", taken(page), looking.boxes(page)) != []


def test_a_table_that_has_lost_its_columns_is_noticed_on_the_quote(look):
    page = look("quote", "desk", more=".columns { display: block !important; }")
    assert looking.faults_of_screen("quote-desk", taken(page), looking.boxes(page)) != []


@pytest.mark.parametrize("screen", SCREENS)
def test_other_letters_are_not_taken_for_a_broken_layout(look, screen):
    page = look(
        screen, "desk", more=":root { --face: serif; --mono: monospace; } body { word-spacing: 0.04em; }"
    )
    assert looking.faults_of_screen(f"{screen}-desk", taken(page), looking.boxes(page)) == []


@pytest.mark.parametrize("name", PAPERS)
def test_a_page_with_a_part_missing_or_moved_is_noticed(paper, name):
    """One line of words is blank, or everything is two dots lower."""
    picture = paper(name)
    grey, band = picture.convert("L"), picture.height // 80
    darkness = {y: sum(grey.crop((0, y, grey.width, y + band)).histogram()[:128]) for y in range(grey.height)}
    wordy = sorted(darkness, key=darkness.__getitem__)[round(len(darkness) * 0.85)]
    blank, lower = picture.copy(), Image.new("RGB", picture.size, "white")
    blank.paste("white", (0, wordy, picture.width, wordy + band))
    lower.paste(picture, (0, 2))
    assert looking.faults_of_paper(name, blank) != []
    assert looking.faults_of_paper(name, lower) != []


def test_the_pictures_are_small_enough_to_be_kept():
    sizes = {path.name: path.stat().st_size for path in looking.FOLDER.glob("*.png")}
    assert set(sizes) == {f"{name}.png" for name in (*PAPERS, *(f"{a}-{b}" for a in SCREENS for b in SIZES))}
    assert [name for name, size in sizes.items() if size >= 200_000] == []
    assert sum(sizes.values()) < 1_200_000
