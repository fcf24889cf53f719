"""Many sheets or labels in one print: ordered, drawn in the background one by one, cancelled, resumed.

Every drawn target is a file of its own under the print folder; a cancelled or broken print keeps what it has,
and going on begins with the first target that is not there.
"""

import os
import shutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from inventory.actors import Actor
from inventory.documents.joining import join
from inventory.documents.labels import shelf_label
from inventory.documents.paper import printer_dpi, sheet_size
from inventory.documents.pen import About
from inventory.errors import BadInput, Conflict, FieldError, Refusal, Unknown
from inventory.services import outbox
from kits.documents.build_sheet import build_sheet
from shop.documents.kit_label import kit_label
from shop.documents.quote import quote
from shop.models import House, PrintJob
from shop.selectors import documents
from shop.services import changes

TOPIC = "print.ordered"
MOST_TARGETS = 500
KEPT = timedelta(days=7)
State = PrintJob.State


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be printed."""

    document: str
    targets: Sequence[str]
    paper: str = "letter"
    dpi: int = 203


@transaction.atomic
def order(wanted: Wanted, *, actor: Actor) -> PrintJob:
    """A print is queued and the worker hears of it. Refuses with BadInput what cannot be printed."""
    actor.must("print")
    _check(wanted)
    job = PrintJob.objects.create(
        document=wanted.document,
        targets=list(wanted.targets),
        total=len(wanted.targets),
        paper=wanted.paper,
        dpi=wanted.dpi,
        created_by=actor.name,
        request_id=actor.request_id,
    )
    _tell(job)
    changes.record(f"print {job.pk}", what="ordered", actor=actor, why=str(job))
    return job


@transaction.atomic
def cancel(pk: int, *, actor: Actor) -> PrintJob:
    """The print stops after the target that is being drawn; cancelling twice is the same as once.

    Refuses with Conflict when everything is printed already.
    """
    actor.must("print")
    job = _locked(pk)
    if job.state == State.DONE:
        raise Conflict(f"Print {pk} is done already.")
    job.state = State.CANCELLED
    job.save(update_fields=["state"])
    changes.record(f"print {pk}", what="cancelled", actor=actor, why=f"{job.done} of {job.total} drawn")
    return job


@transaction.atomic
def resume(pk: int, *, actor: Actor, after: int | None = None) -> PrintJob:
    """A cancelled or failed print goes on; with `after`, the rest from there is a new print of its own.

    `after` is for paper that jammed: of 20 sheets 7 came out well, so print the 13 after 7.
    """
    actor.must("print")
    job = _locked(pk)
    if after is not None:
        return _rest(job, after, actor)
    if not job.can_go_on:
        raise Conflict(f"Print {pk} is {job.state}: there is nothing to resume.")
    job.state, job.problem = State.QUEUED, ""
    job.save(update_fields=["state", "problem"])
    _tell(job)
    changes.record(f"print {pk}", what="resumed", actor=actor)
    return job


def run(pk: int) -> str:
    """Draw what is missing of a print, looking for a cancel before each target; returns the last state."""
    PrintJob.objects.filter(pk=pk, state=State.QUEUED).update(state=State.RUNNING)
    while (job := PrintJob.objects.filter(pk=pk, state=State.RUNNING).first()) and job.done < job.total:
        draw_next(job)
    PrintJob.objects.filter(pk=pk, state=State.RUNNING).update(state=State.DONE)
    return PrintJob.objects.values_list("state", flat=True).get(pk=pk)


def draw_next(job: PrintJob) -> None:
    """The next target of a running print is drawn and kept, or the print has failed and says on which."""
    target = job.targets[job.done]
    try:
        _keep(_part(job, job.done), _DRAWN[job.document](target, job))
    except Refusal as refusal:
        _fail(job, f"{target}: {refusal.sentence}")
        return
    except Exception:
        _fail(job, f"{target} could not be drawn; the worker's log says why.")
        raise
    still = PrintJob.objects.filter(
        pk=job.pk, done=job.done
    )  # A second worker on the same print moves it once.
    still.update(done=job.done + 1)


def file_of(job: PrintJob) -> Path:
    """One PDF of everything that a print has drawn; refuses with Conflict while there is none to take."""
    if job.is_under_way:
        raise Conflict(f"Print {job.pk} is not finished: {job.done} of {job.total} are drawn.")
    parts = [_part(job, index) for index in range(job.done)]
    if not parts or not all(part.exists() for part in parts):
        raise Conflict(f"Print {job.pk} has nothing to take: nothing was drawn, or it was cleared away.")
    whole = _folder(job) / f"print-{job.done}.pdf"
    if not whole.exists():
        draft = _draft(whole)
        with draft.open("wb") as out:
            join(parts, out, About(title=f"Print {job.pk}: {job}", author=House.current().name))
        draft.replace(whole)
    return whole


def forget_old() -> int:
    """The files of prints older than KEPT are gone; returns how many prints that were."""
    old = PrintJob.objects.filter(created_at__lt=timezone.now() - KEPT)
    folders = [folder for job in old if (folder := _folder(job)).exists()]
    for folder in folders:
        shutil.rmtree(folder)
    return len(folders)


def _fail(job: PrintJob, problem: str) -> None:
    running = PrintJob.objects.filter(pk=job.pk, state=State.RUNNING)
    running.update(state=State.FAILED, problem=problem[:300])


def _keep(path: Path, content: bytes) -> None:
    """The file is there whole or not at all."""
    path.parent.mkdir(parents=True, exist_ok=True)
    draft = _draft(path)
    draft.write_bytes(content)
    draft.replace(path)


def _draft(path: Path) -> Path:
    """A file beside it that no other process writes to."""
    return path.with_name(f".{path.stem}-{os.getpid()}.draft")


def _rest(job: PrintJob, after: int, actor: Actor) -> PrintJob:
    if not 0 <= after < job.total:
        raise BadInput([FieldError("/after", f"after must be from 0 to {job.total - 1}.")])
    return order(Wanted(job.document, job.targets[after:], job.paper, job.dpi), actor=actor)


def _check(wanted: Wanted) -> None:
    kind = "items" if wanted.document == PrintJob.Document.SHELF_LABEL else "quotes"
    if not 1 <= len(wanted.targets) <= MOST_TARGETS:
        raise BadInput([FieldError(f"/{kind}", f"{kind} must name 1 to {MOST_TARGETS}.")])
    sheet_size(wanted.paper)
    printer_dpi(wanted.dpi)
    read = documents.known_items if kind == "items" else documents.known_quotes
    known = read(wanted.targets)
    missing = [target for target in wanted.targets if target not in known]
    if missing:
        raise BadInput([FieldError(f"/{kind}", Unknown(kind.removesuffix("s"), missing[0]).sentence)])


def _tell(job: PrintJob) -> None:
    outbox.tell(TOPIC, payload={"pk": job.pk})


def _locked(pk: int) -> PrintJob:
    job = PrintJob.objects.select_for_update().filter(pk=pk).first()
    if job is None:
        raise Unknown("print", str(pk))
    return job


def _folder(job: PrintJob) -> Path:
    return Path(settings.PRINT_FOLDER) / str(job.pk)


def _part(job: PrintJob, index: int) -> Path:
    return _folder(job) / f"{index + 1:04}.pdf"


def _sheet(number: str, job: PrintJob) -> bytes:
    sheet, scene = documents.build_sheet(number)
    return build_sheet(sheet, scene, paper=job.paper)


def _quote(number: str, job: PrintJob) -> bytes:
    return quote(documents.quote_sheet(number), paper=job.paper)


def _kit_label(number: str, job: PrintJob) -> bytes:
    return kit_label(documents.kit_label(number), dpi=job.dpi)


def _shelf_label(code: str, job: PrintJob) -> bytes:
    return shelf_label(documents.shelf_label(code), dpi=job.dpi)


_DRAWN: dict[str, Callable[[str, PrintJob], bytes]] = {
    PrintJob.Document.BUILD_SHEET: _sheet,
    PrintJob.Document.QUOTE: _quote,
    PrintJob.Document.KIT_LABEL: _kit_label,
    PrintJob.Document.SHELF_LABEL: _shelf_label,
}
