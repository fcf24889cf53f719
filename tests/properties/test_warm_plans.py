"""A plan from a shelf that has served other builds and other stocks is the plan from a fresh one."""

from hypothesis import given, settings
from hypothesis import strategies as st

from kits.planning import pipeline
from kits.planning.shelf import Shelf
from kits.terms.plan import Terms
from tests.build_specs import ITEMS, specs
from tests.full_shelf import OFFERS, SHELF, spec_of
from tests.known_facts import known_facts

STOCKS = st.dictionaries(st.sampled_from(ITEMS), st.integers(0, 9), min_size=4)


def planned(data, stock, shelf):
    plan = pipeline.plan(
        spec_of(data),
        facts=known_facts(),
        shelf=shelf,
        read_free=lambda items: {item: stock.get(item, 2) for item in items},
        terms=Terms(),
    )
    return plan.as_json()


def fresh():
    return Shelf.build([offer.ware for offer in OFFERS], OFFERS)


@settings(max_examples=40, deadline=None)
@given(specs(), STOCKS, STOCKS)
def test_stock_that_changed_is_seen_by_a_shelf_that_remembers(data, before, after):
    planned(data, before, SHELF)
    assert planned(data, after, SHELF) == planned(data, after, fresh())


@settings(max_examples=40, deadline=None)
@given(specs(), STOCKS, st.sampled_from([0, 12, 31]))
def test_a_build_that_changed_a_little_is_planned_as_if_nothing_was_remembered(data, stock, litter):
    planned(data, stock, SHELF)
    changed = {**data, "depths_mm": {**data.get("depths_mm", {}), "litter": litter}}
    assert planned(changed, stock, SHELF) == planned(changed, stock, fresh())
