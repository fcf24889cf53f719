"""The worktable: a kit is worked out, quoted and held here, one fragment at a time."""

from collections.abc import Collection, Iterator, Sequence
from typing import Any

from django.http import (
    HttpRequest,
    HttpResponse,
    HttpResponseBase,
    HttpResponseRedirect,
    StreamingHttpResponse,
)
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.views.decorators.http import require_GET, require_http_methods

from inventory.calc.codes import parse_number
from inventory.calc.errors import Impossible
from inventory.errors import FieldError, Refusal, Unknown
from inventory.selectors import items
from kits.documents.build_sheet import build_sheet
from kits.selectors import plans, standard_kits
from kits.selectors.facts import facts
from shop.models import Customer, Draft, DraftStep, House
from shop.refusals import status_of
from shop.selectors import documents
from shop.selectors import house as house_selector
from shop.selectors import worktable as tables
from shop.selectors.worktable import Standing
from shop.services import drafts
from shop.views import worktable_deeds as deeds
from shop.views import worktable_sheet as sheets
from shop.views import worktable_words
from shop.views.door import actor_of, screen

MOST_OFFERED = 8
AT_THE_TABLE = {"here": "Worktable", "styled": "worktable at-table"}  # the page's place, and its layout
BETWEEN = b"\x1e"  # the record separator of ASCII stands between the figures and the drawing that follows


@screen
@require_http_methods(["GET", "POST"])
def begin(request: HttpRequest) -> HttpResponse:
    """An empty worktable, and the first thing that is laid on it."""
    if request.method == "POST":
        return _begun(request)
    context = {
        "here": "Worktable",
        "styled": "worktable",
        "start": worktable_words.start_choices(),
        "drafts": [_row(step) for step in tables.drafts_of(request.user)],
        "quotes": tables.recent_quotes(),
        "kits": list(standard_kits.active()),
    }
    return render(request, "shop/worktable_start.html", context)


@screen
@require_http_methods(["GET", "POST"])
def table(request: HttpRequest, pk: int) -> HttpResponseBase:
    """One draft on the worktable; a POST is one deed on it."""
    draft = drafts.find(_person(request), pk)
    if request.method == "POST":
        return _done(request, draft)
    at = tables.standing(draft, drafts.spec_of(draft))
    view = request.GET.get("view", "section")
    if request.htmx:  # type: ignore[attr-defined]
        return render(
            request,
            "shop/worktable_drawing.html",
            sheets.drawing(at, view=view, narrow="narrow" in request.GET),
        )
    return render(request, "shop/worktable.html", AT_THE_TABLE | sheets.whole(at, view=view))


@screen
@require_GET
def news(request: HttpRequest, pk: int) -> HttpResponse:
    """What somebody else did to the quote meanwhile; nothing when nobody did."""
    draft = drafts.find(_person(request), pk)
    if draft.quote is None or draft.quote.version == draft.base_version:
        return HttpResponse(status=204)
    at = tables.standing(draft, drafts.spec_of(draft))
    return render(request, "shop/worktable_news.html", sheets.sheet(at))


@screen
@require_GET
def working(request: HttpRequest, pk: int, figure: str) -> HttpResponse:
    """How a figure of the draft is worked out, as the kit stands now."""
    draft = drafts.find(_person(request), pk)
    at = tables.standing(draft, drafts.spec_of(draft))
    context = {"here": "Worktable", "draft": draft, **worktable_words.working_of(at.plan, figure)}
    is_fragment = request.htmx  # type: ignore[attr-defined]
    return render(request, f"shop/worktable_working{'' if is_fragment else '_page'}.html", context)


@screen
@require_GET
def draft_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """The build sheet: the quote's when the draft is the quote, else of the draft as it is."""
    draft = drafts.find(_person(request), pk)
    spec = drafts.spec_of(draft)
    at = tables.standing(draft, spec)
    if at.quote and at.quoted:
        return redirect(f"/api/quotes/{at.quote['number']}/build-sheet.pdf")
    plan = plans.plan_for(spec, terms=house_selector.terms(House.current()))
    content = build_sheet(*documents.build_sheet_of_plan(plan))
    disposition = f'inline; filename="build-sheet-draft-{draft.pk}.pdf"'
    return HttpResponse(content, "application/pdf", headers={"Content-Disposition": disposition})


@screen
@require_GET
def offers(request: HttpRequest) -> HttpResponse:
    """Items that answer to what is typed, or quotes, or customers, as options of a list."""
    text = request.GET.get("q", "")[:100]
    kind = request.GET.get("kind")
    if kind == "customer":
        found = [_customer_offer(customer) for customer in tables.customers(text)] if text.strip() else []
    elif kind == "quote":
        found = [_quote_offer(quote) for quote in tables.recent_quotes(text)] if text else []
    else:
        found = [(item.code, item.name, item.code) for item in items.find(text, MOST_OFFERED) if item.active]
    return render(request, "shop/worktable_offers.html", {"offers": found})


def _done(request: HttpRequest, draft: Draft) -> HttpResponseBase:
    deed, ask = deeds.asked(request, draft, actor_of(request))
    if deed == "forget":
        drafts.forget(draft)
        return _away(request, "/worktable/")
    if deed in deeds.TURNS:
        return _turned(request, deed, ask)
    try:
        at, faults = deeds.take_fields(ask)
    except drafts.ChangedElsewhere as refusal:
        return _refused(request, draft, refusal, strip=True)
    if faults or deed not in deeds.EDITS:
        return _answer(request, at, faults=faults)
    try:
        changed = deeds.EDITS[deed](ask, at)
    except Refusal as refusal:
        return _refused(request, draft, refusal)
    at = tables.standing(changed, drafts.spec_of(changed))
    noted = changed.note != request.POST.get("note", changed.note)  # with what somebody else wrote meanwhile
    return _answer(request, at, strip=deed in deeds.SHOWN_IN_STRIP, who=noted)


def _refused(
    request: HttpRequest, draft: Draft, refusal: Refusal, *, strip: bool = False
) -> HttpResponseBase:
    fresh = drafts.find(draft.person, draft.pk)
    at = tables.standing(fresh, drafts.spec_of(fresh))
    return _answer(request, at, strip=strip, refusal=refusal.sentence, status=status_of(refusal))


def _turned(request: HttpRequest, deed: str, ask: deeds.Asked) -> HttpResponseBase:
    try:
        draft = deeds.TURNS[deed](ask)
    except Refusal as refusal:
        return _refused(request, ask.draft, refusal, strip=True)
    return _answer(request, tables.standing(draft, drafts.spec_of(draft)), strip=True)


def _followed(answer: HttpResponse, at: Standing, *, view: str, narrow: bool) -> StreamingHttpResponse:
    """The same answer, and its drawing as soon as that is drawn: the figures are sent before it."""

    def parts() -> Iterator[bytes]:
        yield answer.content + BETWEEN
        drawing = sheets.drawing(at, view=view, narrow=narrow)
        yield render_to_string("shop/worktable_drawing.html", drawing).encode()

    headers = {"X-Accel-Buffering": "no"}  # said to a proxy before the shop, so that it does not wait either
    return StreamingHttpResponse(parts(), status=answer.status_code, headers=dict(answer.items()) | headers)


def _answer(
    request: HttpRequest,
    at: Standing,
    *,
    strip: bool = False,
    who: bool = False,
    faults: Sequence[FieldError] = (),
    refusal: str = "",
    status: int = 200,
) -> HttpResponseBase:
    """The fragments that changed; for a browser without scripts the whole page again.

    The drawing is asked for afterwards where it shows something else by now, so that prices need not wait.
    """
    view = request.POST.get("view", "section")
    if request.htmx:  # type: ignore[attr-defined]
        has = frozenset(request.POST.get("has", "").split())
        context = sheets.sheet(at, view=view, faults=faults, refusal=refusal, drawn=False, has=has)
        context |= {"oob": True, "with_strip": strip, "with_who": strip or who}
        context |= sheets.strip(at) if strip else {}
        answer = render(request, "shop/worktable_answer.html", context, status=status)
        answer.content = answer.content.replace(BETWEEN, b"")  # what somebody typed or scanned parts nothing
        answer["X-Drawing"] = context["shows"]  # names what is waited for from now on
        answer["X-Serial"] = str(at.draft.serial)
        is_followed = request.POST.get("drawn", context["shows"]) != context["shows"]
        return _followed(answer, at, view=view, narrow="narrow" in request.POST) if is_followed else answer
    if not faults and not refusal:
        return redirect("table", pk=at.draft.pk)
    context = sheets.whole(at, view=view, faults=faults, refusal=refusal)
    return render(request, "shop/worktable.html", AT_THE_TABLE | context, status=status)


def _begun(request: HttpRequest) -> HttpResponse:
    kind, _, value = (request.POST.get("start") or request.POST.get("start-text", "")).strip().partition(":")
    draft = _laid(request, kind.strip(), value.strip())
    if not request.htmx:  # type: ignore[attr-defined]
        return redirect("table", pk=draft.pk)
    at = tables.standing(draft, drafts.spec_of(draft))
    answer = render(request, "shop/worktable_table.html", sheets.whole(at))
    answer["HX-Push-Url"] = f"/worktable/{draft.pk}/"
    return answer


def _laid(request: HttpRequest, kind: str, value: str) -> Draft:
    person, actor = _person(request), actor_of(request)
    spec: dict[str, Any] = {}
    if kind == "kit":
        spec = dict(standard_kits.get(value).spec)
    elif kind == "animal":
        spec = {"animals": [{"species": _known(value, facts().animals, kind), "count": 1}]}
    elif kind == "enclosure":
        spec = {"enclosure": {"size": _known(value, facts().enclosures, kind)}}
    elif kind and kind != "empty":
        return drafts.take_up(person, _number(value or kind), actor=actor)
    return drafts.begin(person, spec=spec, actor=actor)


def _known(code: str, known: Collection[str], what: str) -> str:
    if code not in known:
        raise Unknown(what, code[:80])
    return code


def _number(text: str) -> str:
    try:
        parse_number(text.upper())
    except (Impossible, ValueError):
        raise Unknown("animal, enclosure, standard kit or quote", text[:80]) from None
    return text.upper()


def _row(step: DraftStep) -> dict[str, Any]:
    draft, spec = step.draft, step.spec
    animals: list[dict[str, Any]] = spec.get("animals", [])
    animal = facts().animals.get(animals[0].get("species", "")) if animals else None
    size = spec.get("enclosure", {}).get("size", "measured" if "enclosure" in spec else "")
    who = animal.english_name or animal.name if animal else worktable_words.spoken(spec.get("style", ""))
    return {"draft": draft, "words": ", ".join(filter(None, (who, worktable_words.spoken(size))))}


def _quote_offer(quote: Any) -> tuple[str, str, str]:
    name = quote.customer.name if quote.customer else ""
    return f"quote:{quote.number}", f"{quote.number} {name}".strip(), quote.number


def _customer_offer(customer: Customer) -> tuple[str, str, str]:
    return str(customer.pk), customer.name, " ".join(filter(None, (customer.phone, customer.email)))


def _away(request: HttpRequest, address: str) -> HttpResponse:
    if request.htmx:  # type: ignore[attr-defined]
        return HttpResponse(status=204, headers={"HX-Redirect": address})
    return HttpResponseRedirect(address)


def _person(request: HttpRequest) -> Any:
    return request.user
