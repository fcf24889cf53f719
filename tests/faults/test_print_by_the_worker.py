"""A long print by a worker of its own, told by the real broker: watched, cancelled, resumed, killed."""

import os
import signal

import pytest

from tests.documents.papers import page_count, read_codes
from tests.houses import House, until

pytestmark = pytest.mark.xdist_group("whole houses")
SHEETS = 24  # long enough to be caught under way: a sheet takes tenths of a second


class Office:
    """Somebody who orders prints of a running shop."""

    def __init__(self, house):
        self.house = house
        self.token = house.command("staff", "token", "marit").stdout.split()[-1]
        quotes = self.ask("GET", "quotes/?state=open")["results"]
        self.numbers = [quotes[n % len(quotes)]["number"] for n in range(SHEETS)]

    def ask(self, method, path, body=None):
        return self.house.ask(method, path, body, token=self.token)

    def order(self, document="build_sheet"):
        return self.ask("POST", "print-jobs/", {"document": document, "quotes": self.numbers})["id"]

    def look(self, job):
        return self.ask("GET", f"print-jobs/{job}/")

    def is_at(self, job, state, *, done=0):
        shown = self.look(job)
        return shown if shown["state"] == state and shown["done"] >= done else None

    def under_way(self, job):
        """The print once the worker has drawn some of it and not all."""
        shown = until(lambda: self.is_at(job, "running", done=2), "some sheets are drawn")
        assert shown["done"] < shown["total"] == SHEETS
        assert shown["result"] is None
        return shown

    def cancel(self, job):
        """Cancel and wait until the sheet that was being drawn is finished."""
        self.ask("POST", f"print-jobs/{job}/cancel/", {})
        seen = [-1]

        def still():
            seen.append(self.look(job)["done"])
            return len(seen) > 8 and len(set(seen[-8:])) == 1

        until(still, "the worker has stopped")
        return self.look(job)

    def finished(self, job):
        until(lambda: self.is_at(job, "done"), f"print {job} is done", patience_s=180)
        return self.ask("GET", f"print-jobs/{job}/print.pdf")


@pytest.fixture(scope="module")
def office(tmp_path_factory):
    house = House(tmp_path_factory.mktemp("printing") / "data")
    house.start(empty=False)
    yield Office(house)
    house.end()


def test_a_print_is_watched_cancelled_under_way_and_gone_on_with(office):
    job = office.order()
    office.under_way(job)
    stopped = office.cancel(job)
    assert stopped["state"] == "cancelled"
    assert 2 <= stopped["done"] < SHEETS
    part = office.ask("GET", f"print-jobs/{job}/print.pdf")
    assert page_count(part) >= 2 * stopped["done"]
    assert office.ask("POST", f"print-jobs/{job}/resume/", {})["state"] == "queued"
    assert page_count(office.finished(job)) > page_count(part)
    assert office.look(job)["done"] == SHEETS


def test_the_rest_after_a_jam_comes_out_of_the_worker_in_order(office):
    job = office.order("kit_label")
    assert page_count(office.finished(job)) == SHEETS
    rest = office.ask("POST", f"print-jobs/{job}/resume/", {"after": SHEETS - 5})
    assert (rest["state"], rest["total"]) == ("queued", 5)
    pdf = office.finished(rest["id"])
    assert [read_codes(pdf, 203, page)[0][0] for page in range(5)] == office.numbers[-5:]


def test_a_print_whose_worker_was_killed_is_finished_by_the_next_one_with_nothing_twice(office):
    job = office.order()
    office.under_way(job)
    os.kill(office.house.pid_of("worker"), signal.SIGKILL)
    until(office.house.is_up, "another worker is up")
    office.cancel(job)
    office.ask("POST", f"print-jobs/{job}/resume/", {})
    pdf = office.finished(job)
    whole = {number: office.ask("GET", f"quotes/{number}/build-sheet.pdf") for number in set(office.numbers)}
    assert page_count(pdf) == sum(page_count(whole[number]) for number in office.numbers)
