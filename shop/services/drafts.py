"""Drafts on the worktable: every change kept, every step undone, and the quote that comes of it."""

import json
from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import connection, transaction
from django.db.models import F

from inventory.actors import Actor
from inventory.errors import Conflict, FieldError, Unknown
from kits.planning.spec import BadSpec
from shop.calc.worktable import is_ready
from shop.models import Customer, Draft, DraftStep, Order, Quote, StaffMember
from shop.selectors import quotes as quote_selector
from shop.services import customers, quotes

KEPT_PER_PERSON = 40
STEPS_KEPT = 200
_AGREED = ("customer", "known", "base_customer", "note", "base_note")
# Each key that is typed is one look at the database: the draft as it was seen, and its step, or nothing.
# A machine that goes down may lose the keys of its last second: none of them waits for the disk.
_WRITE_STEP = """
    WITH drafted AS (
        UPDATE shop_draft
        SET at = %(at)s, serial = %(serial)s, customer = %(customer)s, known_id = %(known)s,
            note = %(note)s, updated_at = clock_timestamp()
        WHERE id = %(draft)s AND updated_at = %(seen)s
        RETURNING id, updated_at
    ), stepped AS (
        INSERT INTO shop_draftstep (draft_id, position, spec, customer, known_id, touched)
        SELECT id, %(at)s, %(spec)s, %(customer)s, %(known)s, %(touched)s FROM drafted WHERE %(differs)s
        ON CONFLICT (draft_id, position) DO UPDATE
        SET spec = excluded.spec, customer = excluded.customer, known_id = excluded.known_id,
            touched = excluded.touched
    ), forgotten AS (
        DELETE FROM shop_draftstep
        WHERE %(differs)s AND draft_id IN (SELECT id FROM drafted)
        AND (position > %(at)s OR position <= %(oldest)s)
    )
    SELECT updated_at, set_config('synchronous_commit', 'off', true) FROM drafted
"""


@dataclass(frozen=True, slots=True)
class Change:
    """One change from the worktable: the spec, what was typed in, and words for the quote to come.

    `known` is the customer who was picked by that name; without one the name is of somebody new. `before` is
    the last change that the window had seen, where it tells.
    """

    spec: Mapping[str, Any]
    touched: str = ""
    serial: int = 0
    before: int | None = None
    customer: str | None = None
    known: int = 0
    note: str | None = None


class ChangedElsewhere(Conflict):
    """Another window of the same person changed the draft since this one last saw it."""

    def __init__(self) -> None:
        super().__init__(
            "This draft was changed in another window meanwhile. It is shown as it stands now: "
            "do your last change again."
        )


@transaction.atomic
def begin(person: StaffMember, *, spec: Mapping[str, Any], actor: Actor) -> Draft:
    """A new draft lies on the person's worktable; their oldest ones beyond forty are gone."""
    actor.must("quote")
    draft = Draft.objects.create(person=person)
    draft.step = DraftStep.objects.create(draft=draft, position=1, spec=dict(spec))
    kept = Draft.objects.filter(person=person).values_list("pk", flat=True)[:KEPT_PER_PERSON]
    Draft.objects.filter(person=person).exclude(pk__in=list(kept)).delete()
    return draft


@transaction.atomic
def take_up(person: StaffMember, number: str, *, actor: Actor) -> Draft:
    """The person's draft of a quote, as they left it or from the version that counts."""
    actor.must("quote")
    quote = quote_selector.find(number)
    found = Draft.objects.filter(person=person, quote=quote).first()
    if found is not None:
        return found
    draft = begin(person, spec=quote_selector.current_version(quote).spec, actor=actor)
    draft.quote, draft.base_version = quote, quote.version
    _agree(draft, quote)
    draft.save(update_fields=["quote", "base_version", *_AGREED])
    return draft


def find(person: StaffMember, pk: int) -> Draft:
    """The person's own draft with its step; raises Unknown. One query."""
    return _found(person.pk, pk)


def _found(person_id: int, pk: int) -> Draft:
    rows = DraftStep.objects.select_related("draft__quote").filter(position=F("draft__at"))
    step = rows.filter(draft__person_id=person_id, draft=pk).first()
    if step is None:
        raise Unknown("draft", str(pk))
    draft: Draft = step.draft
    draft.step = step
    return draft


def spec_of(draft: Draft) -> dict[str, Any]:
    """The build spec that counts."""
    spec: dict[str, Any] = draft.step.spec
    return spec


def change(seen: Draft, change: Change, *, actor: Actor) -> Draft:
    """The draft counts by a new step; what was undone before is forgotten.

    A change that was overtaken by a later one (by `serial`) changes nothing; one that was made before another
    window's raises ChangedElsewhere. Typing on in one field is one step. One query, and two more each time
    that something else was written to the draft since it was seen.
    """
    actor.must("quote")
    while True:
        draft = copy(seen)
        if not _counts(draft, change.serial, change.before):
            return _found(draft.person_id, draft.pk)
        if change.customer is not None:
            draft.customer = change.customer
            draft.known = _known(change)
        draft.note = draft.note if change.note is None else change.note
        if _is_written(draft, change):
            return draft
        seen = _found(draft.person_id, draft.pk)


@transaction.atomic
def claim(draft: Draft, *, serial: int, before: int | None) -> Draft:
    """What comes next is this window's; raises ChangedElsewhere when another one was here."""
    _wait_for_no_disk()
    draft = _locked(draft)
    if _counts(draft, serial, before):
        draft.save(update_fields=["serial", "updated_at"])
    return draft


@transaction.atomic
def step(draft: Draft, by: int, *, actor: Actor) -> Draft:
    """One step back (-1) or forward again (+1); at either end nothing happens."""
    actor.must("quote")
    _wait_for_no_disk()
    draft = _locked(draft)
    other = draft.steps.filter(position=draft.at + by).first()
    if other is not None:
        draft.at, draft.customer, draft.known_id = other.position, other.customer, other.known_id
        draft.step = other
        draft.save(update_fields=["at", "customer", "known", "updated_at"])
    return draft


def forget(draft: Draft) -> None:
    """The draft is gone; its quote, if any, stands."""
    draft.delete()


@transaction.atomic
def save(draft: Draft, *, actor: Actor, renew: bool = False) -> Quote:
    """The draft is a quote: opened, or revised when its spec differs from the version that counts.

    With `renew` it is revised in any case, at today's prices. Refuses with StaleVersion when somebody else
    revised the quote since the draft was taken up.
    """
    draft = _locked(draft)
    spec = spec_of(draft)
    if not is_ready(spec):
        raise BadSpec([FieldError("", "The kit needs an enclosure, and an animal or a style.")])
    if draft.quote is None:
        quote = quotes.open(spec, customer=_customer(draft, actor=actor), note=draft.note, actor=actor)
    else:
        quote = _revised(draft, draft.quote, spec, renew=renew, actor=actor)
    draft.quote, draft.base_version = quote, quote.version
    _agree(draft, quote)
    draft.save(update_fields=["quote", "base_version", "updated_at", *_AGREED])
    return quote


@transaction.atomic
def hold(draft: Draft, *, actor: Actor, until: datetime | None = None, partial: bool = False) -> Quote:
    """The draft is a quote and all its lines are held (`partial`: or waited for), or nothing has changed."""
    quote = save(draft, actor=actor)
    return quotes.hold(quote.number, until=until, actor=actor, partial=partial)


@transaction.atomic
def accept(draft: Draft, *, actor: Actor) -> Order:
    """The draft is a quote and the quote an order, or nothing has changed."""
    quote = save(draft, actor=actor)
    return quotes.accept(quote.number, actor=actor)


@transaction.atomic
def take_theirs(draft: Draft, version: int, *, actor: Actor) -> Draft:
    """The draft counts by the version that somebody else wrote; one step, so that it can be undone."""
    draft, quote = _of_version(draft, version)
    theirs = quote_selector.current_version(quote)
    draft.base_version = version
    _agree(draft, quote)
    _is_written(draft, Change(theirs.spec))  # since it is locked
    draft.save(update_fields=["base_version", "updated_at", *_AGREED])
    return draft


@transaction.atomic
def keep_mine(draft: Draft, version: int, *, actor: Actor) -> Draft:
    """The draft stands as it is, on top of the version that somebody else wrote."""
    draft, _ = _of_version(draft, version)
    draft.base_version = version
    draft.save(update_fields=["base_version", "updated_at"])
    return draft


def _wait_for_no_disk() -> None:
    """A machine that goes down may lose the keys of its last second: none of them waits for the disk."""
    with connection.cursor() as cursor:
        cursor.execute("SET LOCAL synchronous_commit TO off")


def _counts(draft: Draft, serial: int, before: int | None) -> bool:
    """Whether a change counts, which the draft then knows; one that was sent before or overtaken does not."""
    if before is not None and before < draft.serial != serial:
        raise ChangedElsewhere
    if serial and serial <= draft.serial:
        return False
    draft.serial = serial or draft.serial + (before is not None)
    return True


def _of_version(draft: Draft, version: int) -> tuple[Draft, Quote]:
    draft = _locked(draft)
    if draft.quote is None:
        raise Conflict("This draft belongs to no quote.")
    if draft.quote.version != version:
        raise quotes.StaleVersion(draft.quote.number, draft.quote.version)
    return draft, draft.quote


def _revised(draft: Draft, quote: Quote, spec: dict[str, Any], *, renew: bool, actor: Actor) -> Quote:
    current = quote_selector.current_version(quote)
    if draft.base_version != quote.version:
        raise quotes.StaleVersion(quote.number, quote.version)
    if draft.names_another:
        customer = _customer(draft, actor=actor)
        quote = quotes.name_customer(
            quote.number, customer=customer, expected_version=draft.base_version, actor=actor
        )
    spec_changed, note = current.spec != spec or renew, _note(draft, quote)
    if not spec_changed and note == quote.note:
        return quote
    return quotes.revise(
        quote.number,
        spec=spec if spec_changed else None,
        note=note,
        expected_version=draft.base_version,
        actor=actor,
    )


def _customer(draft: Draft, *, actor: Actor) -> Customer | None:
    """Whom the draft names: somebody known, somebody new who is written down now, or nobody."""
    if draft.known is not None or not draft.customer.strip():
        return draft.known
    return customers.add(customers.Contact(draft.customer), actor=actor)


def _note(draft: Draft, quote: Quote) -> str:
    """The draft's note where it was changed; what somebody else wrote meanwhile stands below it."""
    if not draft.says_another or draft.note == quote.note:
        return quote.note
    if quote.note == draft.base_note:
        return draft.note
    return f"{draft.note}\n{quote.note}".strip()


def _agree(draft: Draft, quote: Quote) -> None:
    """Draft and quote say the same; steps that named somebody new name who they became."""
    customer = quote.customer
    if customer is not None:
        draft.steps.filter(known=None, customer=draft.customer).exclude(customer="").update(known=customer)
    draft.known = draft.base_customer = customer
    draft.customer = "" if customer is None else customer.name
    draft.note = draft.base_note = quote.note
    draft.steps.filter(position=draft.at).update(customer=draft.customer, known=customer)
    draft.forget_step()


def _is_written(draft: Draft, change: Change) -> bool:
    """Write the draft and its step; False, and nothing is written, when it is not as it was seen any more."""
    latest = draft.step
    now = {"spec": dict(change.spec), "customer": draft.customer, "known_id": draft.known_id}
    differs = any(getattr(latest, name) != value for name, value in now.items())
    types_on = bool(change.touched) and change.touched == latest.touched
    if differs:
        draft.at += not types_on
        draft.step = DraftStep(draft=draft, position=draft.at, touched=change.touched, **now)
    with connection.cursor() as cursor:
        cursor.execute(_WRITE_STEP, _as_written(draft, differs=differs))
        row = cursor.fetchone()
    if row is not None:
        draft.updated_at = row[0]
    return row is not None


def _as_written(draft: Draft, *, differs: bool) -> dict[str, Any]:
    return {
        "draft": draft.pk,
        "seen": draft.updated_at,
        "at": draft.at,
        "oldest": draft.at - STEPS_KEPT,
        "serial": draft.serial,
        "note": draft.note,
        "customer": draft.customer,
        "known": draft.known_id,
        "spec": json.dumps(draft.step.spec),
        "touched": draft.step.touched,
        "differs": differs,
    }


def _known(change: Change) -> Customer | None:
    if not change.known:
        return None
    return Customer.objects.filter(pk=change.known, name=change.customer).first()


def _locked(seen: Draft) -> Draft:
    rows = Draft.objects.select_for_update(of=("self",)).select_related("quote")
    draft = rows.filter(person_id=seen.person_id, pk=seen.pk).first()
    if draft is None:
        raise Unknown("draft", str(seen.pk))
    if draft.updated_at == seen.updated_at and "step" in seen.__dict__:
        draft.step = seen.step  # every deed that changes a step writes the time into its draft
    return draft
