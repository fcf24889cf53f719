"""What lies on the worktable: a draft with its plan, its quote and what has changed around it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from django.db.models import Case, F, Q, When
from django.utils import timezone

from kits.selectors import plans
from kits.selectors.catalogue import CatalogueKey, catalogue_key
from kits.selectors.facts import facts
from kits.selectors.shelf import shelf
from shop.calc.words import words_of
from shop.calc.worktable import is_ready
from shop.calc.worktable_differences import plan_differences, spec_differences
from shop.models import Customer, Draft, DraftStep, House, Quote, QuoteVersion
from shop.selectors import house as house_selector
from shop.selectors import pricing
from shop.selectors import quotes as quote_selector

RECENT = 8


@dataclass(frozen=True, slots=True)
class Standing:
    """A draft as it stands now; `plan` is None while something needed is not said yet."""

    draft: Draft
    spec: dict[str, Any]
    plan: dict[str, Any] | None
    totals: dict[str, str] = field(default_factory=dict)
    catalogue: CatalogueKey | None = None  # the state of it that the plan was made from
    quote: dict[str, Any] | None = None  # the quote's document
    quoted: bool = False  # the plan is the quote's own, at its own prices
    theirs: tuple[str, ...] = ()  # what a later version by somebody else says otherwise
    today: tuple[str, ...] = ()  # what is otherwise today than quoted

    @property
    def stops(self) -> list[str]:
        """Why the kit may not be held or accepted."""
        cautions = self.plan["cautions"] if self.plan else []
        return [caution["text"] for caution in cautions if caution["level"] == "stop"]

    @property
    def note(self) -> str:
        """The draft's note where it says another than its quote did, else the quote's."""
        if self.quote is None or self.draft.says_another:
            return self.draft.note
        return str(self.quote["note"])

    @property
    def words_kept(self) -> bool:
        """Whether the quote says the draft's customer and note already."""
        return self.quote is not None and not self.draft.names_another and self.note == self.quote["note"]

    @property
    def is_stale(self) -> bool:
        """Whether somebody else revised the quote since this draft was taken up."""
        return self.quote is not None and self.quote["version"] != self.draft.base_version


def plan_of(spec: Mapping[str, Any], *, draft: Draft, at: CatalogueKey) -> dict[str, Any]:
    """Today's plan of a spec; what the draft's own quote holds counts as free. Raises BadSpec."""
    own = None if draft.quote is None else draft.quote.demand_ref
    house = house_selector.house_at(at)
    plan = plans.plan_for(spec, terms=house_selector.terms(house), leaving_out=own, at=at)
    return pricing.at_kit_price(plan.as_json(), house=house, at=at)


def standing(
    draft: Draft,
    spec: dict[str, Any],
    *,
    today: dict[str, Any] | None = None,
    at: CatalogueKey | None = None,
) -> Standing:
    """The draft with its plan; `today` is today's plan of the same spec when it is known already.

    `at` names the state of the catalogue, which one query reads where it is not given.
    """
    at = at or catalogue_key()
    plan = today if today is not None else (plan_of(spec, draft=draft, at=at) if is_ready(spec) else None)
    found = Standing(draft, spec, plan, totals=plan["totals"] if plan else {}, catalogue=at)
    return found if draft.quote is None else _beside_quote(found, draft.quote.number)


def _beside_quote(found: Standing, number: str) -> Standing:
    quote = quote_selector.find(number)
    version = quote_selector.current_version(quote)
    document, plan = quote_selector.document(quote, version), found.plan
    changed = replace(found, totals=_totals(quote, plan), quote=document)
    if quote.version != found.draft.base_version:
        told = spec_differences(found.spec, version.spec, name=_known_as) or ["only its prices or its note"]
        return replace(changed, theirs=tuple(told))
    if version.spec != found.spec:
        return changed
    told = plan_differences(version.plan, plan) if plan and quote.state == Quote.State.OPEN else []
    as_quoted = replace(changed, plan=document["plan"], totals=document["totals"], quoted=True)
    return replace(as_quoted, today=tuple(told))


def _known_as(code: str) -> str:
    """The name of an item, an animal or an enclosure; any other code as words."""
    known, wares = facts(), shelf()
    if wares.knows(code):
        return wares.ware(code).name
    if animal := known.animals.get(code):
        return animal.english_name or animal.name
    return known.enclosures[code].name if code in known.enclosures else words_of(code)


def _totals(quote: Quote, plan: Mapping[str, Any] | None) -> dict[str, str]:
    """What the changed kit will come to on its quote, whose discount stays."""
    return pricing.totals_of_plan(quote, plan, house=House.current()) if plan else {}


def does(role: str, item: str) -> bool:
    """Whether an item can do a role."""
    return shelf().offer(role, item) is not None


def drafts_of(person: Any) -> list[DraftStep]:
    """The step that counts of the person's latest drafts; one query.

    Those whose quote is closed are left out, and those on which nothing was said.
    """
    rows = DraftStep.objects.filter(draft__person=person, position=F("draft__at"))
    rows = rows.filter(Q(draft__quote=None) | Q(draft__quote__state=Quote.State.OPEN))
    rows = rows.exclude(draft__quote=None, spec={}, customer="", draft__note="")
    return list(rows.select_related("draft__quote__customer").order_by("-draft__updated_at")[:RECENT])


def recent_quotes(search: str = "") -> list[Quote]:
    """Open quotes, newest first, by number, customer or note; one query."""
    return list(quote_selector.listing(search=search, state=Quote.State.OPEN)[:RECENT])


def customers(search: str) -> list[Customer]:
    """Customers by a part of name, phone or e-mail address, those whose name begins so first; one query."""
    asked = search.strip()
    by = Q(name__icontains=asked) | Q(phone__icontains=asked) | Q(email__icontains=asked)
    begins = Case(When(name__istartswith=asked, then=0), default=1)
    return list(Customer.objects.filter(by).order_by(begins, "name", "-id")[:RECENT])


def writer_of(quote: Mapping[str, Any]) -> str:
    """Who wrote the version that counts."""
    rows = QuoteVersion.objects.filter(quote__number=quote["number"], version=quote["version"])
    return rows.values_list("created_by", flat=True).get()


def is_held(quote: Mapping[str, Any] | None) -> bool:
    """Whether the quote holds stock at this moment."""
    hold = quote["hold"] if quote else None
    return hold is not None and timezone.now() < datetime.fromisoformat(hold["until"])
