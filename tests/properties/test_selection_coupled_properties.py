"""What is taken without a programme keeps every rule."""

import collections

from hypothesis import given
from hypothesis import strategies as st
from small_shelf import ROLES, Counter, offer, plain_fit, shelf

from kits.planning.coupled import going_together, heads
from kits.planning.fields import Field
from kits.planning.stock import Stock
from kits.planning.ties import Ties
from kits.terms.needs import Need
from tests.unit.kits.test_selection_coupled import HOLDER, LAMP


@given(
    lamps=st.lists(st.tuples(st.integers(1, 9), st.sampled_from([50, 150])), min_size=1, max_size=3),
    holders=st.lists(st.tuples(st.integers(1, 9), st.sampled_from([60, 250])), max_size=3),
    free=st.lists(st.integers(0, 2), min_size=6, max_size=6),
    limited=st.booleans(),
)
def test_without_a_programme_what_is_taken_keeps_every_rule(lamps, holders, free, limited):
    made = [offer("lamp", f"l{n}", cents, cap="E26", watts=watts) for n, (cents, watts) in enumerate(lamps)]
    made += [offer("holder", f"h{n}", cents, cap="E26", watts=w) for n, (cents, w) in enumerate(holders)]
    stock = Stock(Counter(**dict(zip((one.ware.item for one in made), free, strict=False))))
    fields = {at: Field(need, shelf(*made).section(need.role), plain_fit) for at, need in
              enumerate((LAMP, Need("lamp", slot="b", count=1), HOLDER))}  # fmt: skip
    entries = {at: heads(at, one, ROLES) for at, one in fields.items()}
    ties = Ties({("lamp", "socket"): frozenset({"holder"})} if holders else {})
    found = going_together(fields, entries, ties, stock if limited else None, note="why")
    taken = [entry for entry in found.entries.values() if entry]
    unmet = frozenset(fields[at].need.role for at, entry in found.entries.items() if entry is None)
    assert not ties.broken(taken, unmet=unmet)
    assert not found.solution.proved
    drawn = sum((collections.Counter(entry.choice.pieces) for entry in taken), collections.Counter())
    assert not limited or all(stock.free(item) >= number for item, number in drawn.items())
