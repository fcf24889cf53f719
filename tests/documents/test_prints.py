"""Many at once: ordered, drawn in the background, cancelled, the rest printed."""

from datetime import timedelta

import pytest
from django.utils import timezone

from inventory.models import Item, OutboxMessage
from shop.models import PrintJob
from shop.services import printing
from tests.documents.papers import page_count, read_codes, text_of
from tests.shop.counter import actor

pytestmark = pytest.mark.usefixtures("print_folder")


def order(caller, **wanted):
    answer = caller.post("print-jobs/", wanted)
    assert answer.status_code == 202, answer.json()
    return answer.json()


def take(caller, job):
    answer = caller.get(f"print-jobs/{job['id']}/print.pdf")
    assert answer.status_code == 200
    return b"".join(answer.streaming_content)


def test_a_print_is_ordered_drawn_and_taken(numbers, ada):
    job = order(ada, document="kit_label", quotes=numbers, dpi=300)
    assert (job["state"], job["done"], job["total"], job["result"]) == ("queued", 0, 3, None)
    assert OutboxMessage.objects.filter(topic="print.ordered", payload={"pk": job["id"]}).count() == 1
    assert printing.run(job["id"]) == "done"
    job = ada.get(f"print-jobs/{job['id']}/").json()
    assert (job["state"], job["done"], job["result"]) == ("done", 3, f"/api/print-jobs/{job['id']}/print.pdf")
    pdf = take(ada, job)
    assert [read_codes(pdf, 300, page)[0][0] for page in range(3)] == numbers


@pytest.mark.parametrize("document", ["build_sheet", "quote"])
def test_sheets_of_many_quotes_are_one_file(document, numbers, ada):
    job = order(ada, document=document, quotes=numbers, paper="a4")
    printing.run(job["id"])
    pdf = take(ada, job)
    assert page_count(pdf) >= 3
    assert all(number in text_of(pdf) for number in numbers)


def test_shelf_labels_are_of_items(shop, ada):
    job = order(ada, document="shelf_label", items=["BAG", "LAMP"])
    printing.run(job["id"])
    assert [read_codes(take(ada, job), 203, page)[0][0] for page in (0, 1)] == ["BAG", "LAMP"]


def test_a_cancel_is_seen_before_the_next_target_and_what_is_drawn_is_kept(numbers, ada):
    job = order(ada, document="kit_label", quotes=numbers)
    PrintJob.objects.update(state="running")
    printing.draw_next(PrintJob.objects.get())
    printing.cancel(job["id"], actor=actor("Cleo"))
    assert printing.run(job["id"]) == "cancelled"
    shown = ada.get(f"print-jobs/{job['id']}/").json()
    assert (shown["state"], shown["done"]) == ("cancelled", 1)
    assert page_count(take(ada, job)) == 1


def test_a_cancelled_print_goes_on_with_what_is_missing(numbers, ada):
    job = order(ada, document="kit_label", quotes=numbers)
    assert ada.post(f"print-jobs/{job['id']}/cancel/").json()["state"] == "cancelled"
    assert ada.post(f"print-jobs/{job['id']}/cancel/").json()["state"] == "cancelled"
    assert printing.run(job["id"]) == "cancelled"
    assert ada.post(f"print-jobs/{job['id']}/resume/").json()["state"] == "queued"
    assert printing.run(job["id"]) == "done"
    assert page_count(take(ada, job)) == 3


def test_the_rest_after_a_jam_is_a_print_of_its_own(numbers, ada):
    job = order(ada, document="kit_label", quotes=numbers)
    printing.run(job["id"])
    rest = ada.post(f"print-jobs/{job['id']}/resume/", {"after": 1}).json()
    assert (rest["state"], rest["total"]) == ("queued", 2)
    printing.run(rest["id"])
    pdf = take(ada, rest)
    assert [read_codes(pdf, 203, page)[0][0] for page in (0, 1)] == numbers[1:]


def test_running_twice_draws_nothing_twice(numbers, ada):
    job = order(ada, document="kit_label", quotes=numbers)
    assert [printing.run(job["id"]), printing.run(job["id"])] == ["done", "done"]
    assert page_count(take(ada, job)) == 3


def test_a_target_that_is_gone_stops_the_print_and_is_named(shop, ada):
    job = order(ada, document="shelf_label", items=["BAG", "LAMP"])
    Item.objects.filter(code="LAMP").update(code="LANTERN")
    assert printing.run(job["id"]) == "failed"
    shown = ada.get(f"print-jobs/{job['id']}/").json()
    assert (shown["done"], shown["problem"]) == (1, "LAMP: There is no item 'LAMP'.")
    assert page_count(take(ada, job)) == 1


@pytest.mark.parametrize(
    ("body", "pointer"),
    [
        ({"document": "kit_label", "quotes": []}, "/quotes"),
        ({"document": "kit_label", "quotes": ["999999Z"]}, "/quotes"),
        ({"document": "kit_label", "items": ["BAG"]}, "/items"),
        ({"document": "shelf_label", "items": ["NOTHING"]}, "/items"),
        ({"document": "shelf_label", "items": ["BAG"], "paper": "legal"}, "/paper"),
        ({"document": "shelf_label", "items": ["BAG"], "dpi": 150}, "/dpi"),
        ({"document": "poster", "items": ["BAG"]}, "/document"),
    ],
)
def test_what_cannot_be_printed_is_refused_by_name(body, pointer, ada):
    answer = ada.post("print-jobs/", body)
    assert answer.status_code == 422
    assert [error["pointer"].rsplit("/0")[0] for error in answer.json()["errors"]] == [pointer]


def test_a_print_that_is_not_finished_cannot_be_taken(numbers, ada):
    job = order(ada, document="kit_label", quotes=numbers)
    assert ada.get(f"print-jobs/{job['id']}/print.pdf").status_code == 409
    assert ada.get("print-jobs/999999/").status_code == 404


def test_a_folder_that_cannot_be_written_fails_the_print_instead_of_leaving_it_running(
    shop, ada, settings, tmp_path
):
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    settings.PRINT_FOLDER = tmp_path / "file"
    job = order(ada, document="shelf_label", items=["BAG"])
    with pytest.raises(OSError, match="Not a directory"):
        printing.run(job["id"])
    assert ada.get(f"print-jobs/{job['id']}/").json()["state"] == "failed"


def test_old_prints_are_cleared_away(numbers, ada, tmp_path):
    job = order(ada, document="kit_label", quotes=numbers)
    printing.run(job["id"])
    assert printing.forget_old() == 0
    PrintJob.objects.update(created_at=timezone.now() - printing.KEPT - timedelta(days=1))
    assert printing.forget_old() == 1
    assert list(tmp_path.iterdir()) == []
    assert ada.get(f"print-jobs/{job['id']}/print.pdf").status_code == 409
