"""The shop's own figures: an override wins over the published figure and survives every upgrade."""

import math
from typing import Any

from django.db import transaction
from django.utils import timezone

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError, Unknown
from kits.models import Figure, FigureOverride, Subject

TEXT, YES_NO, EXCHANGE = "text", "yes/no", "1/h"
# Figures that no table publishes: a measured exchange of air, the slot below the doors, and how wet or airy
# a drained soil may be.
OWN_ONLY = {
    ("enclosure", "air_changes_h"): EXCHANGE,
    ("enclosure", "front_vent_height_mm"): "mm",
    ("enclosure", "front_vent_width_mm"): "mm",
    ("enclosure", "front_vent_open_fraction"): "share",
    ("style", "water_hi_pct"): "%",
    ("style", "air_hi_pct"): "%",
}
MOST = {"%": 100, "m3/m3": 1, "share": 1, "share of height": 1}  # units of parts of a whole


def set(kind: str, *, code: str, field: str, value: object, why: str, actor: Actor) -> FigureOverride:
    """Put the shop's own figure in the place of the published one, or beside where none was published.

    Locks nothing: the last writer wins and is named in `by`. Refuses a missing ability, an unknown
    subject or field, a value of another kind than the published figures of that field, and an empty reason.
    """
    actor.must("override_fact")
    with transaction.atomic():
        subject = _subject(kind, code)
        errors = faults(kind, field=field, value=value, why=why)
        if errors:
            raise BadInput(errors)
        return FigureOverride.objects.update_or_create(
            subject=subject,
            field=field,
            defaults={"value": value, "why": why.strip(), "by": actor.name, "at": timezone.now()},
        )[0]


def clear(kind: str, *, code: str, field: str, actor: Actor) -> None:
    """Let the published figure stand again. Refuses a missing ability and a field without an own figure."""
    actor.must("override_fact")
    removed, _ = FigureOverride.objects.filter(subject=_subject(kind, code), field=field).delete()
    if not removed:
        raise Unknown("own figure", f"{code} {field}")


def faults(kind: str, *, field: str, value: Any, why: str) -> list[FieldError]:
    """What is wrong with an own figure, a sentence for each fault; nothing is written."""
    published = Figure.objects.filter(subject__kind=kind, field=field).values_list("unit", flat=True)
    unit = next(iter(published[:1]), OWN_ONLY.get((kind, field)))
    if unit is None:
        return [FieldError("/field", f"No {kind} has a figure {field!r}.")]
    errors = []
    if not _is_of(unit, value):
        errors.append(FieldError("/value", f"The figure {field!r} must be {_words(unit)}, not {value!r}."))
    elif unit == EXCHANGE and value <= 0:
        errors.append(FieldError("/value", f"The figure {field!r} must be above zero, not {value!r}."))
    if not why.strip():
        errors.append(FieldError("/why", "An own figure needs a reason in 'why'."))
    return errors


def _subject(kind: str, code: str) -> Subject:
    try:
        return Subject.objects.get(kind=kind, code=code)
    except Subject.DoesNotExist:
        raise Unknown(kind, code) from None


def _is_of(unit: str, value: object) -> bool:
    """Whether a value is of the kind that the unit tells; text may be empty, which takes a remark away."""
    if unit == TEXT:
        return isinstance(value, str)
    if unit == YES_NO:
        return isinstance(value, bool)
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        return False
    return unit not in MOST or 0 <= value <= MOST[unit]


def _words(unit: str) -> str:
    within = f" from 0 to {MOST[unit]}" if unit in MOST else ""
    return {TEXT: "text", YES_NO: "true or false"}.get(unit, f"a finite number{within} ({unit})")
