"""Keys at the worktable in a real browser at shop size: from the press to the answer being painted."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from time import sleep
from typing import Any, NamedTuple

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore

from inventory.actors import SYSTEM
from shop.measure.filling import grow
from shop.measure.rows import Row, median, p95
from shop.measure.scratch import scratch_database
from shop.measure.serving import web_server
from shop.models import StaffMember
from shop.runtime import browser
from shop.services import staff

ITEMS, ROUNDS, LIMIT_MS = 5_000, 8, 100.0
HAND_MS = 160  # between two keys of a quick hand; two within 35 ms are taken for a scanner
ASLEEP_S = 0.2  # what measures takes the machine's cores too: it sleeps while an answer is under way
TOLD = "() => window.pressed.next.then((told) => ({ ...told, now: performance.now() }))"
PARTS = ("before", "server", "swap", "paint")
LOOKS = Path(__file__).with_name("pressing.js")
KIT = "crested gecko, tall"


class Presses(NamedTuple):
    """Keys pressed one after another at a place, and what answers them: fragment, focus, offers, drawn.

    `#` stands for the number of the round, so that no figure is worked out twice.
    """

    group: str
    place: str
    answer: str
    keys: str


ROUND = (
    Presses("number", "#litter", "fragment", "2#"),
    Presses("number", "#drainage", "fragment", "4#"),
    Presses("deed", "#line-1", "fragment", "fuf"),
    Presses("line", "#line-3", "focus", "jjkk"),
    Presses("drawing", "#line-1", "drawn", "x"),
    Presses("drawing_after_number", "#litter", "drawn", "6#"),
    Presses("choice", "#animal", "offers", "cre"),
    Presses("search", "#add", "offers", "cor"),
)


def measure() -> Iterator[Row]:
    """All keys together, then each kind of key with where its time goes."""
    times = _times()
    every = [one["ms"] for ones in times.values() for one in ones]
    note = f"median {median(every):.0f} ms of {len(every)} presses, {ITEMS} items"
    yield Row("key.p95", p95(every), LIMIT_MS, "ms", note=note)
    for group, ones in times.items():
        values = [one["ms"] for one in ones]
        yield Row(f"key.p95_{group}", p95(values), LIMIT_MS, "ms", note=_where(ones, median(values)))


def _where(ones: Sequence[dict[str, float]], middle: float) -> str:
    """Median time until the request is sent, until its answer, until that is swapped in and painted."""
    parts = {name: [one[name] for one in ones if name in one] for name in PARTS}
    words = [f"{name} {median(values):.0f}" for name, values in parts.items() if values]
    return ", ".join([f"median {middle:.0f}", *words])


def _times() -> dict[str, list[dict[str, float]]]:
    from playwright.sync_api import sync_playwright  # Part of the test extra only.

    with scratch_database() as name:
        grow(ITEMS)
        cookie = _session()
        with web_server(name) as port, sync_playwright() as playwright:
            chromium = playwright.chromium.launch(executable_path=browser.on_path(), args=["--no-sandbox"])
            address = f"http://127.0.0.1:{port}"
            context = chromium.new_context(base_url=address, viewport={"width": 1366, "height": 768})
            context.add_cookies([{"name": settings.SESSION_COOKIE_NAME, "value": cookie, "url": address}])
            context.add_init_script(path=LOOKS)
            found = _at_the_worktable(context.new_page())
            chromium.close()
    return found


def _session() -> str:
    staff.add("measure", roles=["owner"], actor=SYSTEM)
    StaffMember.objects.update(must_change_password=False)
    person = StaffMember.objects.get(username="measure")
    session = SessionStore()
    session[SESSION_KEY] = str(person.pk)
    session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[-1]
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    session.create()
    return str(session.session_key)


def _at_the_worktable(page: Any) -> dict[str, list[dict[str, float]]]:
    page.goto("/worktable/")
    page.locator("#start").fill(KIT)
    page.keyboard.press("Enter")
    page.locator("#line-1").wait_for()
    times: dict[str, list[dict[str, float]]] = {presses.group: [] for presses in ROUND}
    for number in range(ROUNDS + 1):
        for presses in ROUND:
            found = _pressed(page, presses, number)
            if number:  # the first round warms both workers
                times[presses.group] += found
    return times


def _pressed(page: Any, presses: Presses, number: int) -> list[dict[str, float]]:
    page.locator(presses.place).focus()
    if presses.answer != "focus" and presses.place.startswith(("#litter", "#drainage", "#animal", "#add")):
        page.keyboard.press("Control+a")
    found = []
    tabs = page.locator("[role=tab]").count() if presses.group == "drawing" else 1  # once round all drawings
    for key in presses.keys.replace("#", str(number)) * tabs:
        page.evaluate("kind => window.pressed.await(kind)", presses.answer)
        page.keyboard.press(key)
        sleep(ASLEEP_S)
        told = page.evaluate(TOLD)
        found.append(_parts(told))
        page.wait_for_timeout(max(0, HAND_MS - (told["now"] - told["painted"])))
    page.evaluate("window.pressed.waits = ''")
    page.keyboard.press("Escape")
    return found


def _parts(told: dict[str, float]) -> dict[str, float]:
    found = {"ms": told["painted"] - told["at"]}
    if "answered" in told:
        found["before"] = told["sent"] - told["at"]
        found["server"] = told["answered"] - told["sent"]
        found["swap"] = told["told"] - told["answered"]
        found["paint"] = told["painted"] - told["told"]
    return found
