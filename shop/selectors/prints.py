"""Reading prints of many: how far they are and where their file is."""

from typing import Any

from inventory.errors import Unknown
from shop.models import PrintJob

STOPPED = (PrintJob.State.DONE, PrintJob.State.CANCELLED, PrintJob.State.FAILED)


def find(pk: int) -> PrintJob:
    """The print with this id; raises Unknown."""
    job = PrintJob.objects.filter(pk=pk).first()
    if job is None:
        raise Unknown("print", str(pk))
    return job


def document(job: PrintJob) -> dict[str, Any]:
    """A print as callers see it."""
    can_be_taken = job.state in STOPPED and job.done > 0
    return {
        "id": job.pk,
        "document": job.document,
        "state": job.state,
        "done": job.done,
        "total": job.total,
        "paper": job.paper,
        "dpi": job.dpi,
        "problem": job.problem,
        "result": f"/api/print-jobs/{job.pk}/print.pdf" if can_be_taken else None,
        "created_at": job.created_at.isoformat(),
        "created_by": job.created_by,
    }
