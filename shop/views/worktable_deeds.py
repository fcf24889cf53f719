"""What the worktable does with a draft: each deed by its word, its arguments after colons."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest

from inventory.actors import Actor
from inventory.errors import BadInput, Conflict, FieldError, Unknown
from inventory.selectors import items
from inventory.services import idempotency
from kits.selectors.catalogue import catalogue_key
from shop.calc import worktable as edits
from shop.calc.worktable_fields import DEPTHS, EXTRA_PREFIX, FIELDS, spec_with
from shop.models import Draft
from shop.selectors import worktable
from shop.selectors.worktable import Standing
from shop.services import drafts
from shop.services.drafts import Change

Spec = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Asked:
    """One request of the worktable: who, on which draft, with which fields."""

    draft: Draft
    actor: Actor
    form: Any  # the QueryDict
    words: tuple[str, ...]  # what stands after the deed's name

    @property
    def before(self) -> int | None:
        """The last change that its window had seen; None where it does not tell."""
        return _whole(self.form["before"]) if "before" in self.form else None

    def claimed(self) -> Draft:
        """The draft, after other windows were asked; raises ChangedElsewhere."""
        return drafts.claim(self.draft, serial=_whole(self.form.get("serial", "")), before=self.before)

    def word(self, at: int) -> str:
        """A word after the deed's name; empty where there is none."""
        return self.words[at] if at < len(self.words) else ""

    def number(self, at: int) -> int:
        """A word that is a whole number; 0 otherwise, which no version is."""
        word = self.word(at)
        return int(word) if word.isascii() and word.isdigit() and len(word) < 7 else 0


class LineChanged(Conflict):
    """The line that a deed is about, or what would stand for it, changed since it was shown."""

    def __init__(self) -> None:
        super().__init__("This line has changed meanwhile. The kit is shown as it stands now.")


def asked(request: HttpRequest, draft: Draft, actor: Actor) -> tuple[str, Asked]:
    """The name of the deed, and what it is asked for."""
    deed, *words = request.POST.get("deed", "change").split(":")
    return deed, Asked(draft, actor, request.POST, tuple(words))


def take_fields(ask: Asked) -> tuple[Standing, list[FieldError]]:
    """The fields are in the draft, or their faults are told and the last good plan stands."""
    before = drafts.spec_of(ask.draft)
    texts = {
        name: ask.form[name][:200] for name in ask.form if name in FIELDS or name.startswith(EXTRA_PREFIX)
    }
    own = ask.form.getlist("own") if "own-shown" in ask.form else None
    spec, faults = spec_with(before, texts, own)
    plan, at = None, catalogue_key()
    if not faults and edits.is_ready(spec):
        try:
            plan = worktable.plan_of(spec, draft=ask.draft, at=at)
        except BadInput as refusal:
            faults = [_at_touched(fault, ask) for fault in refusal.errors]
    change = _change(ask, before if faults else spec)
    draft = drafts.change(ask.draft, change, actor=ask.actor)
    counts = ask.draft.serial < change.serial == draft.serial  # else it was sent before, or overtaken
    now = dict(change.spec) if counts else drafts.spec_of(draft)
    return worktable.standing(draft, now, today=plan if now == spec else None, at=at), faults


def _at_touched(fault: FieldError, ask: Asked) -> FieldError:
    """A fault of all depths together is told at the one that is being typed."""
    name = ask.form.get("touched", "").partition(" ")[0]
    is_shared = fault.pointer == "/depths_mm" and name in DEPTHS
    return FieldError(f"/depths_mm/{name}", fault.detail) if is_shared else fault


def _change(ask: Asked, spec: Spec) -> Change:
    return Change(
        spec,
        touched=ask.form.get("touched", "")[:80],
        serial=_whole(ask.form.get("serial", "")),
        before=ask.before,
        customer=ask.form["customer"][:200] if "customer" in ask.form else None,
        known=_whole(ask.form.get("customer-known", "")),
        note=ask.form["note"][:2000] if "note" in ask.form else None,
    )


def _whole(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 18 else 0


def _edit(edit: Callable[[Asked, Standing], Spec]) -> Callable[[Asked, Standing], Draft]:
    def done(ask: Asked, at: Standing) -> Draft:
        return drafts.change(at.draft, Change(edit(ask, at)), actor=ask.actor)

    return done


def _taken(ask: Asked, at: Standing) -> Spec:
    plan, number = _line(ask, at)
    offered = [edits.codes_of(one) for one in plan["lines"][number - 1]["substitutes"]]
    if ask.word(2) not in offered:
        raise LineChanged
    return edits.with_substitute(
        at.spec, plan, line=number, nth=offered.index(ask.word(2)), does=worktable.does
    )


def _without(ask: Asked, at: Standing) -> Spec:
    plan, number = _line(ask, at)
    return edits.without_line(at.spec, plan, number)


def _line(ask: Asked, at: Standing) -> tuple[Mapping[str, Any], int]:
    """The plan and the number of the line that was pressed, wherever it stands by now."""
    number = 0 if at.plan is None else edits.line_number(at.plan, ask.word(0), ask.word(1))
    if at.plan is None or not number:
        raise LineChanged
    return at.plan, number


def _added(ask: Asked, at: Standing) -> Spec:
    text = ask.form.get("add", "").strip()
    if not text:
        return at.spec
    found = items.find(text, limit=1)
    if not found or not found[0].active:
        raise Unknown("item", text[:80])
    return edits.with_extra(at.spec, found[0].code)


def _once(do: Callable[[Draft, Actor], Any]) -> Callable[[Asked, Standing], Draft]:
    """Do it once under the form's Idempotency-Key, however often the key is pressed."""

    def done(ask: Asked, at: Standing) -> Draft:
        def work() -> idempotency.Response:
            do(at.draft, ask.actor)
            return idempotency.Response(200, {})

        deed = f"worktable {at.draft.pk} {ask.form.get('deed', '')}"
        key = ask.form.get("idempotency_key", "")
        idempotency.once(key, actor=ask.actor, fingerprint=deed, work=work)
        return drafts.find(at.draft.person, at.draft.pk)

    return done


EDITS: Mapping[str, Callable[[Asked, Standing], Draft]] = {
    "take": _edit(_taken),
    "free": _edit(lambda ask, at: edits.chosen_freely(at.spec, ask.word(0))),
    "without": _edit(_without),
    "with": _edit(lambda ask, at: edits.wanted_again(at.spec, *ask.words[:2])),
    "add": _edit(_added),
    "fill": _edit(lambda ask, at: edits.with_fill_toggled(at.spec)),
    "save": _once(lambda draft, actor: drafts.save(draft, actor=actor)),
    "renew": _once(lambda draft, actor: drafts.save(draft, actor=actor, renew=True)),
    "hold": _once(lambda draft, actor: drafts.hold(draft, actor=actor)),
    "wait": _once(lambda draft, actor: drafts.hold(draft, actor=actor, partial=True)),
    "accept": _once(lambda draft, actor: drafts.accept(draft, actor=actor)),
}
# These put other texts into the fields, so that the fields of the request do not count.
TURNS: Mapping[str, Callable[[Asked], Draft]] = {
    "undo": lambda ask: drafts.step(ask.claimed(), -1, actor=ask.actor),
    "redo": lambda ask: drafts.step(ask.claimed(), +1, actor=ask.actor),
    "theirs": lambda ask: drafts.take_theirs(ask.claimed(), ask.number(0), actor=ask.actor),
    "mine": lambda ask: drafts.keep_mine(ask.claimed(), ask.number(0), actor=ask.actor),
}
# These change something that a field of the strip shows.
SHOWN_IN_STRIP = {"fill", "without", "with"}
