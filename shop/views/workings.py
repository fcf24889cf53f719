"""The workings: every calculation of the house, and a place to try each of them."""

from collections.abc import Collection, Mapping
from typing import Any, Literal, get_args, get_origin, is_typeddict

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from inventory.calc import workings
from inventory.calc.examples import example
from inventory.errors import BadInput
from shop.calc import calculations
from shop.views.door import screen
from shop.views.lists import search_of

HERE = "Workings"
SAID = {"result": "Returns", "valid": "Valid", "refuses": "Raises"}
LONGEST = 4000  # characters of one argument; an address has to carry all of them


@require_safe
@screen
def listing(request: HttpRequest) -> HttpResponse:
    """Every calculation by what it is about, or those that answer to a search as one types."""
    asked = search_of(request)
    subjects = calculations.grouped(asked)
    count = sum(len(subject.calculations) for subject in subjects)
    context = {"here": HERE, "q": asked, "subjects": subjects, "count": count}
    fragment = getattr(request, "htmx", False)
    return render(request, "shop/workings.html#rows" if fragment else "shop/workings.html", context)


@require_safe
@screen
def one(request: HttpRequest, name: str) -> HttpResponse:
    """One calculation with its arguments from the address, else those of its example, and the answer.

    Nothing is written, and what cannot be worked out is told in its place: the answer is always 200.
    """
    calculation = calculations.found(name)
    typed = {p.name: request.GET[p.name][:LONGEST] for p in calculation.parameters if p.name in request.GET}
    texts = typed or as_texts(example(calculation))
    said = {key: calculation.described.text(section) for key, section in SAID.items()}
    context = {"here": HERE, "calculation": calculation, **said, **_tried(calculation, texts)}
    fragment = getattr(request, "htmx", False)
    return render(request, "shop/working.html#tried" if fragment else "shop/working.html", context)


def address(name: str, inputs: Mapping[str, Any]) -> str:
    """The page of a calculation with these arguments filled in."""
    return f"{reverse('working', args=[name])}?{urlencode(as_texts(inputs))}"


def tried_at(working: Mapping[str, Any]) -> str:
    """The page where a plan's working can be tried: of its calculation, or of its mix; else nothing."""
    name, inputs = working.get("calculation"), working["inputs"]
    if name:
        return address(name, inputs)
    if mix := inputs.get("mix"):  # worked out by a recipe, whose own page does it with any depth
        depths = urlencode({"front": inputs["front_mm"], "back": inputs["back_mm"]})
        return f"{reverse('mix', args=[mix])}?{depths}"
    return ""


def as_texts(inputs: Mapping[str, Any]) -> dict[str, str]:
    """Arguments as they are typed; one that is left to itself is left out."""
    return {key: calculations.as_text(value) for key, value in inputs.items() if value is not None}


def _tried(calculation: workings.Calculation, texts: Mapping[str, str]) -> dict[str, Any]:
    """The fields as typed, with the answer or a sentence for each that stands in its way."""
    arguments, faults = calculations.read_texts(calculation, texts)
    worked = None
    if not faults:
        try:
            worked = workings.work(calculation, arguments)
        except BadInput as bad:
            faults = _by_argument(calculation, bad)
    return {
        "fields": [_field(parameter, texts, faults) for parameter in calculation.parameters],
        "worked": worked,
        "general": faults.get("", ""),
        "told": told(worked.value) if worked else None,
    }


def _field(
    parameter: workings.Parameter, texts: Mapping[str, str], faults: Mapping[str, str]
) -> dict[str, Any]:
    text = texts.get(parameter.name, "")
    has_usual = not parameter.required and parameter.default is not None
    return {
        "name": parameter.name,
        "unit": "" if parameter.unit == "-" else parameter.unit,
        "about": parameter.about,
        "text": text,
        "error": faults.get(parameter.name, ""),
        "choices": _choices(parameter, text),
        "is_long": _wants_room(parameter.kind),
        "usual": calculations.as_text(parameter.default) if has_usual else "",
    }


def _choices(parameter: workings.Parameter, text: str) -> list[str]:
    """The words that may stand here, with what an address brought although it may not."""
    words = get_args(parameter.kind) if get_origin(parameter.kind) is Literal else ()
    words = ("true", "false") if parameter.kind is bool else words
    return ["", *words, *([text] if text and text not in words else [])] if words else []


def _wants_room(kind: Any) -> bool:
    """Numbers and words fit a line; lists and objects do not."""
    origin = get_origin(kind)
    is_list = isinstance(origin, type) and issubclass(origin, Collection)
    return is_list or is_typeddict(kind) or any(map(_wants_room, get_args(kind)))


def _by_argument(calculation: workings.Calculation, bad: BadInput) -> dict[str, str]:
    names = {parameter.name for parameter in calculation.parameters}
    faults: dict[str, str] = {}
    for fault in bad.errors:
        argument = fault.pointer.strip("/").partition("/")[0]
        key = argument if argument in names else ""
        faults[key] = f"{faults.get(key, '')} {fault.detail}".strip()
    return faults


def told(value: Any) -> dict[str, Any]:
    """A result for a reader: six significant digits of a number, the parts of a list or object by name."""
    if isinstance(value, Mapping):
        return {"named": [(str(key), told(part)) for key, part in value.items()]}
    if isinstance(value, list) and any(isinstance(part, Mapping | list) for part in value):
        return {"parts": [told(part) for part in value]}
    if isinstance(value, list):
        return {"text": ", ".join(told(part)["text"] for part in value) or _("none")}
    if isinstance(value, bool) or value is None:
        return {"text": {True: _("yes"), False: _("no"), None: _("none")}[value]}
    return {"text": f"{value:.6g}" if isinstance(value, float) else str(value)}
