"""The sheet as its templates want it: fields, drawings, parts list, cautions and title block."""

import marshal
import re
from collections.abc import Collection, Mapping, Sequence
from typing import Any, NamedTuple

from django.template.loader import render_to_string
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language, gettext_lazy
from django.utils.translation import gettext as _

from inventory.errors import FieldError
from kits.documents.pictures import ESTIMATE, ON_SCREEN, Sight, pictured
from kits.drawings import scene as scenes
from kits.drawings.floor import floor
from kits.drawings.scene import Scene
from kits.drawings.section import numbers_only, section
from kits.drawings.svg import svg
from kits.drawings.top import top
from kits.planning.faults import field_name
from kits.planning.latest import Latest
from kits.selectors import builds
from kits.selectors.pictures import equipment_of
from kits.terms.build import Build
from shop.calc.editions import digest
from shop.calc.worktable import EXTRA, codes_of, leaves_alone, owned_role
from shop.calc.worktable_differences import WORDS as DIFFERENCE_WORDS
from shop.calc.worktable_fields import DEPTHS, FIELDS, NUMBERS, SIDES, field_of, texts_of
from shop.selectors import worktable
from shop.selectors.worktable import Standing
from shop.views import worktable_words

SECTION_PT, PLAN_PT = (500.0, 318.0), (250.0, 300.0)
NARROW_SECTION_PT, NARROW_PT = (200.0, 330.0), (300.0, 300.0)  # on a phone, where a point is about a pixel
MOST_PIECES = 8192  # kept as they are written
SCALE = re.compile(r">scale (1 : [0-9.]+)<")
VIEWS = {
    "section": gettext_lazy("Section"),
    "above": gettext_lazy("From above"),
    "uv": gettext_lazy("UV"),
    "warmth": gettext_lazy("Warmth"),
    "light": gettext_lazy("Plant light"),
    "day": gettext_lazy("Day"),
    "fortnight": gettext_lazy("14 days"),
}
SIDE_WORDS = {
    "width": gettext_lazy("width mm"),
    "depth": gettext_lazy("depth mm"),
    "height": gettext_lazy("height mm"),
}
TOO_HOT = gettext_lazy(
    "No day can be worked out: the lamps would bring this box to the heat of boiling water."
)
WITHOUT_PICTURE = {
    "uv": gettext_lazy(
        "No UVB lamp is in this kit, or no reading of it is recorded: then nothing can be drawn."
    ),
    "warmth": gettext_lazy("No animal of this kit asks for a basking surface, or no basking lamp is in it."),
    "light": gettext_lazy("No plant light is in this kit."),
    "day": TOO_HOT,
    "fortnight": TOO_HOT,
}
DEPTH_WORDS = {
    "drainage": gettext_lazy("drainage"),
    "substrate_front": gettext_lazy("soil, front"),
    "substrate_back": gettext_lazy("soil, back"),
    "litter": gettext_lazy("litter"),
}


def sheet(
    at: Standing,
    *,
    view: str = "section",
    faults: Sequence[FieldError] = (),
    refusal: str = "",
    drawn: bool = True,
    has: Collection[str] = (),
) -> dict[str, Any]:
    """Everything that a fragment of the sheet asks for; without its drawings where they come later.

    `has` names the pieces that the page has already: only their places are told.
    """
    return {
        **(drawing(at, view=view) if drawn else {"shows": _shows(at)}),
        "at": at,
        "draft": at.draft,
        "view": view if view in VIEWS else "section",
        "views": VIEWS.items(),
        "faults": _by_field(faults),
        "refusal": refusal,
        "depths": _depths(_scene(at)),
        **_parts(at, has),
        **_block(at),
    }


def drawing(at: Standing, *, view: str, narrow: bool = False) -> dict[str, Any]:
    """The drawings of a view, what they show and in which scale."""
    drawings, told = _drawings(at, _scene(at), view, narrow)
    return {
        "shows": _shows(at),
        "spec": at.spec,
        "view": view if view in VIEWS else "section",
        "scale": _scale(drawings),
        "drawings": drawings,
        "told": told,
    }


def _shows(at: Standing) -> str:
    """Names what the drawings show: another name after every change that any of them may show."""
    plan = at.plan or {"lines": []}
    items = [line["item"] for line in plan["lines"]]
    return digest({"spec": at.spec, "scene": plan.get("scene"), "items": items})


def whole(at: Standing, **parts: Any) -> dict[str, Any]:
    """The sheet together with its strip of fields."""
    return {**sheet(at, **parts), **strip(at)}


def strip(at: Standing) -> dict[str, Any]:
    """The strip of fields: what each shows and what it offers."""
    texts = texts_of(at.spec)
    return {
        "texts": texts,
        "sides": [(side, SIDE_WORDS[side], texts[side]) for side in SIDES],
        "depth_fields": [(name, str(DEPTH_WORDS[name]), texts[name]) for name in DEPTHS],
        "choices": worktable_words.choices(),
        "owned": [owned_role(entry) for entry in at.spec.get("own", ())],
        "roles": worktable_words.roles(),
        "more_animals": at.spec.get("animals", [])[1:],
    }


def _by_field(faults: Sequence[FieldError]) -> list[tuple[str, str]]:
    """One sentence for each field that has its place for one."""
    found: dict[str, str] = dict.fromkeys([*FIELDS, "spec"], "")
    for fault in faults:
        name = field_of(fault.pointer)
        found[name] = f"{found[name]} {_plainly(fault, name)}".strip()
    return list(found.items())


def _plainly(fault: FieldError, name: str) -> str:
    """A fault in the words that the field has on the sheet."""
    spoken = NUMBERS[name][1] if name in NUMBERS else DIFFERENCE_WORDS.get(name, "")
    return (
        spoken + fault.detail.removeprefix(field_name(fault.pointer))
        if _names(fault, spoken)
        else fault.detail
    )


def _names(fault: FieldError, spoken: str) -> bool:
    return bool(spoken) and fault.detail.startswith(f"{field_name(fault.pointer)} ")


def _scene(at: Standing) -> Scene | None:
    if at.plan is None:
        return None
    if stored := at.plan.get("scene"):
        return scenes.from_json(stored)
    return builds.scene_of(at.plan, builds.build_of(at.spec))


def _depths(scene: Scene | None) -> dict[str, str]:
    """The depths that the plan has, in mm, as the fields show them where nothing was typed."""
    beds = {bed.name: bed for bed in scene.beds} if scene else {}
    found = dict.fromkeys(DEPTHS, "")
    for name, bed in beds.items():
        if name == "substrate":
            found["substrate_front"], found["substrate_back"] = f"{bed.front_mm:g}", f"{bed.back_mm:g}"
        elif name in found:
            found[name] = f"{bed.front_mm:g}"
    return found


def _scale(drawings: Sequence[str]) -> str:
    """The scale that the first drawing says it has."""
    found = SCALE.search(drawings[0]) if drawings else None
    return found[1] if found else ""


def _drawings(
    at: Standing, scene: Scene | None, view: str, narrow: bool
) -> tuple[list[SafeString], tuple[str, ...]]:
    """The drawings of a view, and the sentences below them."""
    if scene is None or at.plan is None:
        return [], ()
    if view in ON_SCREEN:
        return _picture(at.plan, builds.planned_build(at.spec, at.plan), scene, view, narrow)
    if view != "above":
        draw, (width, height) = (numbers_only, NARROW_SECTION_PT) if narrow else (section, SECTION_PT)
        drawn = draw(scene, width=width, height=height)
        title = _("Side section to scale, front on the left")
        return [_safe(svg(drawn, name="drawing-section", title=title))], ()
    width, height = PLAN_PT
    titles = {"floor": _("Floor from above, back at the top"), "top": _("Top from above, back at the top")}
    return [
        _safe(svg(draw(scene, width=width, height=height), name=f"drawing-{name}", title=titles[name]))
        for name, draw in (("floor", floor), ("top", top))
    ], ()


def _picture(
    plan: Mapping[str, Any], build: Build, scene: Scene, view: str, narrow: bool
) -> tuple[list[SafeString], tuple[str, ...]]:
    """A picture of light, warmth or the day, worked out now that somebody looks at it."""
    sight = Sight(build, scene, equipment_of(plan, build), *(NARROW_PT if narrow else SECTION_PT))
    found = pictured(view, sight)
    if found is None:
        return [], (str(WITHOUT_PICTURE[view]),)
    drawn = svg(found.drawing, name=f"drawing-{view}", title=found.title)
    return [_safe(drawn)], (*found.sentences, ESTIMATE)


def _safe(text: str) -> SafeString:
    """Our own drawing, which escapes every text that it writes."""
    return mark_safe(text)  # noqa: S308


def _parts(at: Standing, has: Collection[str]) -> dict[str, Any]:
    if at.plan is None:
        return {
            "lines": [],
            "cautions": [],
            "counted": [],
            "figures": [],
            "popovers": [],
            "workings": [],
            "unmet": [],
            "left_out": [],
        }
    names = worktable_words.item_names(_offered(at.plan), at.catalogue)
    lines = [_line(number, line, at, names) for number, line in enumerate(at.plan["lines"], start=1)]
    figures, others = worktable_words.figures_of(at.plan), worktable_words.other_workings(at.plan)
    language = get_language() or ""
    return {
        "lines": [_told("line", {"line": line}, language, has) for line in lines],
        "unmet": [{**unmet, "words": worktable_words.spoken(unmet["role"])} for unmet in at.plan["unmet"]],
        "cautions": [
            _told("caution", {"caution": caution}, language, has) for caution in at.plan["cautions"]
        ],
        "counted": worktable_words.counted(at.plan["cautions"]),
        "headlines": [_figure("headline", one, language, has) for one in figures if one["is_headline"]],
        "figures": [_figure("figure", one, language, has) for one in figures],
        "workings": [_figure("other", one, language, has) for one in others],
        "popovers": [_popover(one, language, has) for one in (*figures, *others) if one["working"]],
        "left_out": _left_out(at),
    }


def _figure(place: str, figure: Mapping[str, Any], language: str, has: Collection[str]) -> SafeString:
    """A figure in one of its places; its working comes into a popover of its own."""
    working = figure["working"]
    about = {key: figure[key] for key in ("key", "name", "text", "unit")}
    about |= {"is_worked": bool(working), "is_valid": not working or working["valid"]}
    return _told("figure", {"figure": about, "place": place}, language, has)


def _popover(figure: Mapping[str, Any], language: str, has: Collection[str]) -> SafeString:
    """Where the working of a figure comes to, when somebody opens it."""
    about = {key: figure[key] for key in ("key", "name")}
    return _told("popover", {"figure": about}, language, has)


class _Piece(NamedTuple):
    """A piece of the sheet as it is written, and the place that stands for it where the page has it."""

    name: str
    html: SafeString
    place: SafeString


_PIECES = Latest[tuple[str, str, bytes], _Piece](MOST_PIECES)


def _told(piece: str, about: dict[str, Any], language: str, has: Collection[str]) -> SafeString:
    """A piece of the sheet, or only its place where the page has it.

    A key changes few of a hundred pieces, and each takes its time to be written.
    """
    key = (piece, language, marshal.dumps(about, 2))  # the quickest way to tell plain data from other data
    kept = _PIECES.get(key)
    if kept is None:
        kept = _written(piece, about, language)
        _PIECES.keep(key, kept)
    return kept.place if kept.name in has else kept.html


def _written(piece: str, about: Mapping[str, Any], language: str) -> _Piece:
    name = digest({"piece": piece, "about": about, "language": language})
    html = render_to_string(f"shop/worktable_{piece}.html", {**about, "name_of_piece": name}).strip()
    tag = html[1 : html.index(" ")]
    place = mark_safe(f'<{tag} data-piece="{name}"></{tag}>')  # noqa: S308 - own text
    return _Piece(name, mark_safe(html), place)  # noqa: S308 - the template escapes


def _left_out(at: Standing) -> list[tuple[str, str]]:
    """What is not wanted: how a deed names it, and in words."""
    entries = at.spec.get("without", ())
    items = {entry["item"] for entry in entries if isinstance(entry, Mapping)}
    names = worktable_words.item_names(items, at.catalogue)
    return [
        (entry, worktable_words.spoken(entry))
        if isinstance(entry, str)
        else (f"{entry['role']}:{entry['item']}", names.get(entry["item"], entry["item"]))
        for entry in entries
    ]


def _offered(plan: Mapping[str, Any]) -> set[str]:
    return {entry["item"] for line in plan["lines"] for s in line["substitutes"] for entry in s["items"]}


def _line(number: int, line: Mapping[str, Any], at: Standing, names: Mapping[str, str]) -> dict[str, Any]:
    return {
        **line,
        "number": number,
        "words": worktable_words.spoken(line["role"]),
        "leaves": _leaves(line, at),
        "is_extra": line["role"] == EXTRA,
        "is_chosen": line["role"] in at.spec.get("choose", {}),
        "state_words": _state_words(line),
        "substitutes": [_substitute(other, names) for other in line["substitutes"]],
    }


def _leaves(line: Mapping[str, Any], at: Standing) -> str:
    """What leaves the kit with this line: the item itself, or its whole role."""
    assert at.plan is not None  # there are no lines without one
    return line["name"] if leaves_alone(at.plan, line["role"]) else worktable_words.spoken(line["role"])


def _state_words(line: Mapping[str, Any]) -> str:
    if line["status"] == "free":
        return _("%(count)s free") % {"count": line["free"]}
    if line["status"] == "short":
        return _("%(count)s short") % {"count": line["missing"]}
    return _("none")


def _substitute(substitute: Mapping[str, Any], names: Mapping[str, str]) -> dict[str, Any]:
    items = [{**entry, "name": names[entry["item"]]} for entry in substitute["items"]]
    return {
        **substitute,
        "codes": codes_of(substitute),
        "items": items,
        "price": substitute["because"][0] if substitute["because"] else "",
        "why": substitute["because"][-1] if len(substitute["because"]) > 2 else "",
    }


def _who(at: Standing) -> dict[str, Any]:
    """The customer whom the draft names, or the quote where this draft named no other."""
    if at.quote is None or at.draft.names_another:
        return {"name": at.draft.customer, "known": at.draft.known_id}
    named = at.quote["customer"] or {"name": "", "id": None}
    return {"name": named["name"], "known": named["id"]}


def _block(at: Standing) -> dict[str, Any]:
    quote = at.quote
    return {
        "quote": quote,
        "held": worktable.is_held(quote),
        "writer": worktable.writer_of(quote) if quote and at.is_stale else "",
        "changed": quote is not None and not (at.quoted and at.words_kept),
        "who": _who(at),
        "is_open": quote is None or quote["state"] == "open",
        "pieces": sum(line["quantity"] for line in at.plan["lines"]) if at.plan else 0,
        "wanting": [line for line in at.plan["lines"] if line["status"] != "free"] if at.plan else [],
    }
