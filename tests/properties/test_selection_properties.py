"""Selection against brute force, and what must hold whatever is on the shelf."""

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st
from small_shelf import ROLES, Counter, items, offer, shelf

from kits.planning.lines import plan_lines
from kits.planning.selection import select
from kits.terms.needs import Need

CENTS = st.integers(1, 4)
LIKED = st.sampled_from([50, 100])
WATTS = st.sampled_from([40, 60, 100])
CAPS = st.sampled_from(["E26", "G5"])
LAMPS = st.lists(st.tuples(CENTS, LIKED, CAPS, WATTS, st.integers(0, 1)), max_size=4)
HOLDERS = st.lists(st.tuples(CENTS, LIKED, CAPS, WATTS), max_size=4)
CONTROLS = st.lists(st.tuples(CENTS, LIKED, st.sampled_from([60, 100, 160])), max_size=3)
SLOTS = ("lamp", "lamp", "holder", "holder", "control")
NEEDS = [Need(role, slot=slot, count=1) for role, slot in zip(SLOTS, "ababa", strict=True)]


def coupled_offers(lamps, holders, controls):
    made = [offer("lamp", f"l{n}", cents * 100, preference=liked, cap=cap, watts=watts, rank=rank)
            for n, (cents, liked, cap, watts, rank) in enumerate(lamps)]  # fmt: skip
    made += [offer("holder", f"h{n}", cents * 100, preference=liked, cap=cap, watts=watts)
             for n, (cents, liked, cap, watts) in enumerate(holders)]  # fmt: skip
    return made + [offer("control", f"c{n}", cents * 100, preference=liked, watts=watts)
                   for n, (cents, liked, watts) in enumerate(controls)]  # fmt: skip


def each_lamp_has_a_socket(lamps, holders):
    """Tried in every order: does some assignment of holders to lamps work?"""
    return any(
        all(h.figures["cap"] == lamp.figures["cap"] and h.figures["watts"] >= lamp.figures["watts"]
            for lamp, h in zip(lamps, order, strict=False))
        for order in itertools.permutations(holders)
        if len(order) >= len(lamps)
    )  # fmt: skip


def works(kit, served):
    lamps = [one for one in kit if one and one.role == "lamp"]
    holders = [one for one in kit if one and one.role == "holder"]
    control = kit[4]
    socket_needed = lamps and "holder" in served and all(kit[2:4])
    if socket_needed and not each_lamp_has_a_socket(lamps, holders):
        return False
    controlled = lamps and "control" in served and control
    return not controlled or sum(lamp.figures["watts"] for lamp in lamps) <= control.figures["watts"]


def levels(one):
    return one.figures.get("rank", 0), one.ware.preference, one.ware.price_cents


def cost(kit, offers, short=0):
    """Unmet, unmet lamps, short, then rank, preference and price above the least that each could have."""
    above = [0, 0, 0]
    for one in filter(None, kit):
        alike = [levels(other) for other in offers if other.role == one.role]
        for level, value in enumerate(levels(one)):
            above[level] += value - min(other[level] for other in alike)
    return kit.count(None), kit[:2].count(None), short, *above


def served_roles(offers):
    """A holder with sockets of another shape serves as well, so that it is never taken for the right one."""
    return {one.role for one in offers} & {"holder", "control"}


def shortness(kit, free):
    """How many places of the kit cannot be served from what is free, each piece given away once."""
    wanted = [one.ware.item for one in kit if one]
    return sum(max(0, wanted.count(item) - free.get(item, 0)) for item in set(wanted))


def least_cost(offers, free=None):
    by_role = {role: [one for one in offers if one.role == role] for role in ("lamp", "holder", "control")}
    places = [[*by_role[need.role], None] for need in NEEDS]
    served = served_roles(offers)
    kits = (list(kit) for kit in itertools.product(*places) if works(kit, served))
    return min(cost(kit, offers, 0 if free is None else shortness(kit, free)) for kit in kits)


def kit_of(offers, free=None):
    fill = "preferred" if free is None else "free"
    picks = select(
        NEEDS, shelf=shelf(*offers), roles=ROLES, read_free=Counter(**(free or {})), fill=fill
    ).picks
    return [pick.offers[0][0] if pick.offers else None for pick in picks]


@settings(max_examples=150, deadline=None)
@given(LAMPS, HOLDERS, CONTROLS)
def test_coupled_roles_cost_exactly_what_brute_force_finds(lamps, holders, controls):
    offers = coupled_offers(lamps, holders, controls)
    kit = kit_of(offers)
    assert works(kit, served_roles(offers))
    assert cost(kit, offers) == least_cost(offers)


ITEMS = st.sampled_from([f"{letter}{n}" for letter in "lhc" for n in range(4)])
FREE_ITEMS = st.dictionaries(ITEMS, st.integers(0, 2))


@settings(max_examples=150, deadline=None)
@given(LAMPS, HOLDERS, CONTROLS, FREE_ITEMS)
def test_coupled_roles_filled_from_free_stock_are_short_as_rarely_as_brute_force(
    lamps, holders, controls, free
):
    offers = coupled_offers(lamps, holders, controls)
    kit = kit_of(offers, free)
    assert works(kit, served_roles(offers))
    assert cost(kit, offers, shortness(kit, free)) == least_cost(offers, free)


ROWS = st.lists(
    st.tuples(st.integers(1, 900), LIKED, st.integers(1, 3), st.integers(0, 2)), min_size=1, max_size=12
)
FREE = st.dictionaries(st.integers(0, 11).map(lambda n: f"t{n}"), st.integers(0, 5))


def things(rows):
    return [offer("thing", f"t{n}", cents, preference=liked, size_mm=9, each=each, rank=rank)
            for n, (cents, liked, each, rank) in enumerate(rows)]  # fmt: skip


def single(rows, count, free=None):
    """What is picked for one counted need."""
    read = Counter(**(free or {}))
    return items(
        select([Need("thing", count=count)], shelf=shelf(*things(rows)), roles=ROLES, read_free=read)
    )


@given(ROWS, st.integers(1, 9))
def test_single_picks_are_the_least_by_rank_preference_price_waste_and_item(rows, count):
    keys = [(rank, liked, cents * -(-count // each), -(-count // each) * each - count, f"t{n}")
            for n, (cents, liked, each, rank) in enumerate(rows)]  # fmt: skip
    (picked,) = single(rows, count)
    assert list(picked) == [min(keys)[-1]]


@given(ROWS, FREE, FREE, st.integers(1, 9))
def test_stock_never_moves_a_preferred_choice(rows, free, other, count):
    assert single(rows, count, free) == single(rows, count, other)


@given(ROWS, FREE, st.lists(st.integers(1, 4), min_size=1, max_size=4))
def test_fill_free_takes_what_is_free_wherever_something_is(rows, free, counts):
    needs = [Need("thing", slot=str(n), count=count) for n, count in enumerate(counts)]
    made, read = shelf(*things(rows)), Counter(**free)
    lines = plan_lines(
        [select(needs, shelf=made, roles=ROLES, read_free=read, fill="free")], shelf=made, read_free=read
    )
    for line in lines:
        assert line.quantity > 0
        assert line.missing == max(0, line.quantity - free.get(line.item, 0))
        assert (line.missing == 0) == (line.status == "free")
    if len(counts) == 1 and any(
        free.get(f"t{n}", 0) * each >= counts[0] for n, (_, _, each, _) in enumerate(rows)
    ):
        assert lines[0].status == "free"


@given(ROWS, FREE, st.integers(1, 6))
def test_every_substitute_is_free_does_the_job_and_is_another_item(rows, free, count):
    made, read = shelf(*things(rows)), Counter(**free)
    selection = select([Need("thing", count=count)], shelf=made, roles=ROLES, read_free=read)
    (line,) = plan_lines([selection], shelf=made, read_free=read)
    for substitute in line.substitutes:
        ((item, quantity),) = substitute.items
        assert item != line.item
        assert quantity <= free[item]
        assert quantity * rows[int(item[1:])][2] >= count
        assert substitute.free == free[item] // quantity
    others = [
        n for n, row in enumerate(rows) if f"t{n}" != line.item and free.get(f"t{n}", 0) * row[2] >= count
    ]
    if line.missing:
        assert len(line.substitutes) == min(3, len(others))


@settings(max_examples=60, deadline=None)
@given(LAMPS, HOLDERS, CONTROLS)
def test_an_item_that_another_beats_in_everything_never_changes_the_choice(lamps, holders, controls):
    offers = coupled_offers(lamps, holders, controls)
    worse = [
        offer(one.role, f"{one.ware.item}z", 900, preference=one.ware.preference, **one.figures)
        for one in offers
    ]
    plain = select(NEEDS, shelf=shelf(*offers), roles=ROLES, read_free=Counter())
    padded = select(NEEDS, shelf=shelf(*worse, *offers), roles=ROLES, read_free=Counter())
    assert items(plain) == items(padded)


@settings(max_examples=60, deadline=None)
@given(LAMPS, HOLDERS, CONTROLS, FREE_ITEMS)
def test_coupled_lines_filled_from_free_stock_add_up(lamps, holders, controls, free):
    offers = coupled_offers(lamps, holders, controls)
    made, read = shelf(*offers), Counter(**free)
    lines = plan_lines(
        [select(NEEDS, shelf=made, roles=ROLES, read_free=read, fill="free")], shelf=made, read_free=read
    )
    for line in lines:
        assert line.quantity > 0
        assert line.missing == max(0, line.quantity - free.get(line.item, 0))
        for substitute in line.substitutes:
            assert all(quantity <= free.get(item, 0) for item, quantity in substitute.items)
