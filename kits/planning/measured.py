"""Needs that were measured against a shelf before: a changed build leaves most of its needs as they were."""

from collections.abc import Hashable, Sequence
from weakref import WeakKeyDictionary

from kits.planning.fields import Field, Measure
from kits.planning.groups import frozen
from kits.planning.latest import Latest
from kits.planning.shelf import Shelf
from kits.terms.needs import Need

MOST_KEPT = 512  # fields of one shelf: some forty for each of the builds that are being changed
_MEASURED: WeakKeyDictionary[Shelf, Latest[Hashable, Field]] = WeakKeyDictionary()


def measured(need: Need, shelf: Shelf, fit: Measure, *, items: Sequence[str] = ()) -> Field:
    """The shelf's items, or those that the spec names, against a need.

    Nothing in it depends on stock, so that an equal need shares it.
    """
    name = (fit, tuple(items), *_named(need))
    try:
        hash(name)
    except TypeError:  # it is measured with the whole build, which no other build equals
        return _field(need, shelf, fit, items)
    kept = _MEASURED.setdefault(shelf, Latest(MOST_KEPT))
    field = kept.get(name)
    if field is None:
        field = _field(need, shelf, fit, items)
        kept.keep(name, field)
    return field


def _field(need: Need, shelf: Shelf, fit: Measure, items: Sequence[str]) -> Field:
    section = shelf.section(need.role, items) if items else shelf.section(need.role)
    return Field(need, section, fit, named=bool(items))


def _named(need: Need) -> tuple[Hashable, ...]:
    """Equal for needs that are alike in everything."""
    counted = (need.role, need.slot, need.count, need.litres, need.distinct, need.serves)
    return (*counted, frozen(need.wanted), need.because)
