"""What templates need to say: notices, states as a shape and a word, money, times of the shop."""

import json
import uuid
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from babel.dates import format_date, format_datetime
from babel.numbers import format_currency
from django import template
from django.contrib import messages
from django.forms import BoundField
from django.template import Context
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import get_language, to_locale
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from kits.selectors.fact_sheets import KnownFigure
from kits.terms import figure_words
from kits.terms.counting import counted
from kits.terms.rounding import percents, rounded
from kits.terms.typesetting import typeset
from shop.calc.words import words_of
from shop.models import House
from shop.views import workings

register = template.Library()
register.filter("tried_at", workings.tried_at)
USUAL_LOCALE = "en_US"  # how amounts and days are written in English here
WORDS = [  # the states as people read them, for translators to find
    *(noop("free"), noop("short"), noop("none"), noop("unmet"), noop("open"), noop("accepted")),
    *(noop("lapsed"), noop("withdrawn"), noop("held"), noop("picking"), noop("packed"), noop("sent")),
    *(
        noop("collected"),
        noop("cancelled"),
        noop("good"),
        noop("quarantined"),
        noop("expired"),
        noop("spent"),
    ),
]
SHAPES = {
    "free": "●",
    "short": "◐",
    "none": "○",
    "unmet": "✕",
    "open": "○",
    "accepted": "●",
    "lapsed": "◌",
    "withdrawn": "✕",
    "held": "◐",
    "picking": "◐",
    "packed": "◕",
    "sent": "●",
    "collected": "●",
    "cancelled": "✕",
    "queued": "◌",
    "running": "◐",
    "done": "●",
    "failed": "▲",
    "good": "●",
    "quarantined": "▲",
    "expired": "✕",
    "spent": "◌",
}
CAUTIONS = {"stop": "■", "warning": "▲", "note": "·"}


@register.inclusion_tag("shop/notice_list.html", takes_context=True)
def notices(context: Context) -> dict[str, Any]:
    """The notices that wait, each with its undo; `refusal` in the context is one too."""
    said = [
        {"sentence": message.message, "undo": json.loads(message.extra_tags) if message.extra_tags else None}
        for message in messages.get_messages(context["request"])
    ]
    return {"said": said, "refusal": context.get("refusal_notice"), "csrf_token": context.get("csrf_token")}


@register.simple_tag
def key_field() -> SafeString:
    """The hidden Idempotency-Key of a form: the same deed posted twice is done once."""
    return format_html('<input type="hidden" name="idempotency_key" value="{}">', uuid.uuid4().hex)


@register.simple_tag
def state(word: str, text: str = "") -> SafeString:
    """A state as a shape and a word."""
    shape = SHAPES.get(word, "·")
    return format_html('<span class="state state-{}" data-shape="{}">{}</span>', word, shape, text or _(word))


@register.filter
def caution_shape(level: str) -> str:
    """The shape of a caution's level."""
    return CAUTIONS.get(level, "·")


@register.simple_tag(takes_context=True)
def money(context: Context, amount: Any, currency: str = "") -> str:
    """An amount in the house's currency, as its people write it; empty for none."""
    if amount in (None, ""):
        return ""
    return format_currency(str(amount), currency or _house(context).currency, locale=_locale())


@register.simple_tag(takes_context=True)
def moment(context: Context, at: datetime | str | None) -> str:
    """A day and time on the shop's clock."""
    if not at:
        return ""
    when = datetime.fromisoformat(at) if isinstance(at, str) else at
    local = when.astimezone(ZoneInfo(_house(context).timezone))
    return format_datetime(local, "EEE MMM d, HH:mm", locale=_locale())


@register.filter
def day(on: date | str | None) -> str:
    """A day, with its year only in another one than this."""
    if not on:
        return ""
    when = date.fromisoformat(on[:10]) if isinstance(on, str) else on
    return format_date(when, "MMM d, y", locale=_locale())


@register.filter
def words(text: str) -> str:
    """A code of ours as words of the reader's language."""
    return _(words_of(str(text))) if text else ""


@register.filter
def figure_name(field: str) -> str:
    """What a figure of the facts is, in words of the reader's language."""
    return _(figure_words.NAMES.get(field) or words_of(field))


@register.filter
def figure_value(figure: KnownFigure) -> SafeString:
    """A figure of the facts with its unit; codes of ours as words."""
    value, unit = figure.value, figure_words.unit(figure.unit)
    if isinstance(value, bool):
        return format_html("<span>{}</span>", _("yes") if value else _("no"))
    if figure.field in figure_words.CODED:
        return format_html("<span>{}</span>", ", ".join(map(words, str(value).split(";"))))
    if isinstance(value, str):
        return format_html("<span>{}</span>", value)
    return format_html('<span class="number">{}</span>{}', value, f" {_(unit)}" if unit else "")


@register.filter
def head(caution: dict[str, str]) -> str:
    """What a caution is about, to stand before it; empty where its sentence begins with that."""
    about = words(caution["about"])
    about = about[:1].upper() + about[1:]
    return "" if caution["text"].startswith(f"{about}:") else about


@register.filter
def told(sentence: str) -> str:
    """A computed sentence with the signs of its units."""
    return typeset(str(sentence))


register.filter("counted", counted)
register.filter("as_unit", figure_words.unit)


@register.filter
def signed(quantity: int) -> str:
    """A quantity with its sign, a true minus."""
    return f"+{quantity}" if quantity > 0 else f"\N{MINUS SIGN}{-quantity}" if quantity < 0 else "0"


@register.filter
def percent(share: float) -> str:
    """A share as whole per cent."""
    return f"{rounded(100 * share)} %"


@register.filter
def shared(parts: Sequence[Any]) -> list[tuple[Any, str]]:
    """The parts of one whole, each with its share in per cent; together they are 100."""
    told = percents([part.share for part in parts])
    return [(part, f"{share} %") for part, share in zip(parts, told, strict=True)]


@register.inclusion_tag("shop/field.html")
def field(bound: BoundField, style: str = "", key: str = "", does: str = "") -> dict[str, Any]:
    """A field with its name, hint and error, tied together; `does` says what its key is for."""
    described = []
    if bound.help_text:
        described.append(f"{bound.auto_id}-hint")
    if bound.errors:
        described.append(f"{bound.auto_id}-error")
    attributes: dict[str, Any] = {}
    if described:
        attributes["aria-describedby"] = " ".join(described)
    if bound.errors:
        attributes["aria-invalid"] = "true"
    if key:
        attributes |= {"data-key": key, "data-key-label": does or bound.label}
    return {"bound": bound, "widget": bound.as_widget(attrs=attributes), "style": style}


def _locale() -> str:
    """How amounts and days are written in the language of this page."""
    language = get_language() or "en"
    return USUAL_LOCALE if language == "en" else to_locale(language)


def _house(context: Context) -> House:
    """The house, which the frame reads once for each page."""
    house: House = context["house"]
    return house
