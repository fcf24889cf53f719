"""The screen of prints: ordered, watched, cancelled, gone on with, the rest printed anew."""

import re

import pytest

from shop.models import PrintJob, StaffRole
from shop.services import printing, quotes
from shop.services.printing import Wanted
from tests.shop.counter import actor, person
from tests.shop.screens import deed, signed_in

pytestmark = pytest.mark.usefixtures("print_folder")


@pytest.fixture
def job(numbers):
    return printing.order(Wanted("kit_label", numbers), actor=actor("Ada"))


def on_job(job, name, **fields):
    return deed(signed_in("Ada"), f"/prints/{job.pk}/{name}/", fields, htmx=True)


def row(job):
    return signed_in("Ada").get(f"/prints/{job.pk}/", headers={"HX-Request": "true"}).content.decode()


def test_numbers_typed_or_scanned_are_one_print(numbers):
    typed = f"{numbers[0].lower()}\n{numbers[1]}, {numbers[2]};"
    fields = {"document": "kit_label", "targets": typed, "dpi": "300"}
    answer = deed(signed_in("Ada"), "/prints/order/", fields, htmx=True).content.decode()
    job = PrintJob.objects.get()
    assert (job.targets, job.dpi, job.state) == (numbers, 300, "queued")
    assert f"Print {job.pk} is ordered." in answer
    assert f'action="/prints/{job.pk}/cancel/"' in answer


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"targets": "  "}, "Numbers or codes must name"),
        ({"targets": "99Z"}, "99Z"),
        ({"targets": "1" * 41_000}, "at most 40000 characters"),
        ({"targets": "BAG", "document": "poster"}, "Print must be one of the papers"),
        ({"targets": "BAG", "paper": "napkin"}, "must be Letter or A4, not napkin"),
        ({"targets": "BAG", "document": "shelf_label", "dpi": "96"}, "must have 203 or 300 dpi, not 96"),
    ],
)
def test_what_cannot_be_printed_is_told_and_what_was_typed_stands(shop, fields, sentence):
    given = {"document": "kit_label", **fields}
    answer = deed(signed_in("Ada"), "/prints/order/", given, htmx=True)
    page = answer.content.decode()
    assert answer.status_code in {404, 422}
    assert sentence in page
    assert given["targets"].strip() in page
    assert not PrintJob.objects.exists()


def test_a_row_asks_for_itself_while_its_print_is_under_way_and_then_hands_out_the_file(job):
    assert 'hx-trigger="every 2s"' in row(job)
    printing.run(job.pk)
    done = row(job)
    assert "hx-trigger" not in done
    assert f'href="/api/print-jobs/{job.pk}/print.pdf"' in done
    assert "3 / 3" in done


def test_a_print_is_cancelled_and_goes_on(job):
    assert "0 of 3 are drawn" in on_job(job, "cancel").content.decode()
    assert PrintJob.objects.get().state == "cancelled"
    assert f"Print {job.pk} goes on." in on_job(job, "resume").content.decode()
    assert printing.run(job.pk) == "done"


def test_what_is_done_on_the_second_page_of_prints_stays_on_it(numbers):
    jobs = [printing.order(Wanted("kit_label", numbers), actor=actor("Ada")) for _ in range(41)]
    ada, first = signed_in("Ada"), jobs[0].pk
    page = ada.get("/prints/?page=2").content.decode()
    assert f'hx-post="/prints/{first}/cancel/?page=2"' in page
    answer = deed(ada, f"/prints/{first}/cancel/?page=2", htmx=True).content.decode()
    assert f'hx-post="/prints/{first}/resume/?page=2"' in answer
    assert deed(ada, f"/prints/{first}/resume/?page=2")["Location"] == "/prints/?page=2"
    assert "page=2" not in ada.get("/prints/?page=two").content.decode().split("<nav")[0]


def test_after_a_jam_the_rest_is_a_print_of_its_own(job, numbers):
    printing.run(job.pk)
    answer = on_job(job, "rest", after=1).content.decode()
    rest = PrintJob.objects.get(state="queued")
    assert rest.targets == numbers[1:]
    assert f"Print {rest.pk} is ordered: the last 2 of print {job.pk}." in answer


@pytest.mark.parametrize(
    ("name", "fields", "sentence"),
    [
        ("rest", {"after": ""}, "Came out well must say how many."),
        ("rest", {"after": "two"}, "Came out well must be a whole number."),
        ("rest", {"after": -1}, "Came out well must not be below 0."),
        ("rest", {"after": 3}, "Came out well must be from 0 to 2."),
        ("cancel", {}, "is done already"),
        ("resume", {}, "there is nothing to resume"),
    ],
)
def test_what_cannot_be_done_with_a_finished_print_is_told_and_what_was_typed_stands(
    job, name, fields, sentence
):
    printing.run(job.pk)
    answer = on_job(job, name, **fields)
    assert answer.status_code in {409, 422}
    page = answer.content.decode()
    assert sentence in page
    assert not fields or f'value="{fields["after"]}" aria-invalid="true"' in page
    assert PrintJob.objects.count() == 1


def test_what_is_done_with_a_row_leaves_an_order_half_typed_alone(job):
    assert "<textarea" not in on_job(job, "cancel").content.decode()


def test_a_row_says_once_that_its_print_has_stopped(job):
    assert 'id="said"' not in row(job)
    printing.run(job.pk)
    assert f"Print {job.pk}: done, 3 of 3 drawn." in row(job)
    assert 'id="said" hx-swap-oob' not in signed_in("Ada").get("/prints/").content.decode()


def test_after_a_failure_the_rest_can_leave_out_what_cannot_be_drawn(job, numbers):
    PrintJob.objects.update(state="failed", done=1, problem="It is gone.")
    assert f'id="resume-{job.pk}"' in row(job)
    on_job(job, "rest", after=2)
    assert PrintJob.objects.get(state="queued").targets == numbers[2:]


@pytest.mark.parametrize(
    ("address", "document", "targets"),
    [
        ("?from=quotes&state=open", "build_sheet", [2, 1, 0]),
        ("?from=quotes&q={0}", "build_sheet", [0]),
        ("?from=orders&state=held", "kit_label", [0]),
        ("?from=shelf&q=bag", "shelf_label", ["BAG"]),
        ("?from=cellar", "build_sheet", []),
    ],
)
def test_a_list_is_ready_to_be_printed(numbers, address, document, targets):
    if "orders" in address:
        quotes.accept(numbers[0], actor=actor("Ada"))
    page = signed_in("Ada").get("/prints/" + address.format(numbers[0])).content.decode()
    ready = re.search(r"<textarea[^>]*>\s*(.*?)</textarea>", page, re.DOTALL)[1].split()
    assert [numbers[t] if isinstance(t, int) else t for t in targets] == ready
    assert f'value="{document}" selected' in page or document == "build_sheet"


def test_the_same_form_twice_is_one_print(numbers):
    client, fields = signed_in("Ada"), {"document": "quote", "targets": numbers[0], "idempotency_key": "k"}
    for _ in range(2):
        client.post("/prints/order/", fields)
    assert PrintJob.objects.count() == 1


def test_who_has_no_role_sees_no_print_and_stops_none(job):
    StaffRole.objects.filter(user=person("Dov")).delete()
    client = signed_in("Dov")
    assert client.get("/prints/").status_code == 403
    assert deed(client, f"/prints/{job.pk}/cancel/", {}, htmx=True).status_code == 403


def test_prints_are_listed_over_http(job, ada):
    listed = ada.get("print-jobs/", {"state": "queued"}).json()
    assert [one["id"] for one in listed["results"]] == [job.pk]
    assert ada.get("print-jobs/", {"state": "done"}).json()["count"] == 0
    assert ada.get("print-jobs/", {"state": "lost"}).status_code == 422


def test_a_print_that_is_not_there_is_told(shop):
    assert signed_in("Ada").get("/prints/999999999999999999999/").status_code == 404
    assert deed(signed_in("Ada"), "/prints/7/cancel/", {}).status_code == 404
    assert deed(signed_in("Ada"), "/prints/7/shred/", {}).status_code == 404
