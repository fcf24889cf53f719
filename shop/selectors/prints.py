"""Reading prints of many: how far they are and where their file is."""

from typing import Any

from django.db.models import QuerySet

from inventory.errors import Unknown
from inventory.models import Item
from inventory.selectors import items
from shop.models import Order, PrintJob, Quote
from shop.selectors import orders, quotes

MOST_FOUND = 500
Document = PrintJob.Document


def find(pk: int) -> PrintJob:
    """The print with this id; raises Unknown."""
    job = PrintJob.objects.filter(pk=pk).first()
    if job is None:
        raise Unknown("print", str(pk))
    return job


def document(job: PrintJob) -> dict[str, Any]:
    """A print as callers see it."""
    return {
        "id": job.pk,
        "document": job.document,
        "state": job.state,
        "done": job.done,
        "total": job.total,
        "paper": job.paper,
        "dpi": job.dpi,
        "problem": job.problem,
        "result": f"/api/print-jobs/{job.pk}/print.pdf" if job.can_be_taken else None,
        "created_at": job.created_at.isoformat(),
        "created_by": job.created_by,
    }


def listing(*, state: str = "") -> QuerySet[PrintJob]:
    """Prints, newest first, of one state if named."""
    found = PrintJob.objects.order_by("-id")
    return found.filter(state=state) if state else found


def last_paper() -> dict[str, Any]:
    """Paper and printer of the print that was ordered last; nothing before the first."""
    last = PrintJob.objects.order_by("-id").first()
    return {"paper": last.paper, "dpi": last.dpi} if last else {}


def found_in(source: str, *, search: str, state: str) -> tuple[str, list[str]]:
    """What a list shows, as the document that is printed of it and its targets; at most MOST_FOUND."""
    if source == "quotes":
        rows = quotes.listing(search=search, state=state if state in Quote.State.values else "")
        return Document.BUILD_SHEET, list(rows.values_list("number", flat=True)[:MOST_FOUND])
    if source == "orders":
        found = orders.listing(search=search, state=state if state in Order.State.values else "")
        return Document.KIT_LABEL, list(found.values_list("quote__number", flat=True)[:MOST_FOUND])
    if source == "shelf":
        return Document.SHELF_LABEL, _codes(search)
    return Document.BUILD_SHEET, []


def _codes(search: str) -> list[str]:
    if search:
        return [item.code for item in items.find(search, limit=MOST_FOUND)]
    return list(Item.objects.filter(active=True).order_by("code").values_list("code", flat=True)[:MOST_FOUND])
