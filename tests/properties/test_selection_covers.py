"""Products in packs against trying every one: floors, order, and what free stock can cover."""

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st
from small_shelf import ROLES, Counter, offer, shelf

from kits.planning.choices import Choice
from kits.planning.covers import Product, best_covers, by_floor, minimal_covers, products
from kits.planning.remembered import Remembered
from kits.planning.selection import select
from kits.planning.stock import Stock
from kits.terms.needs import Fit, Need

SIZES = st.lists(st.sampled_from([2, 4, 5, 10, 20, 50]), min_size=1, max_size=4, unique=True)
PRODUCTS = st.lists(
    st.tuples(SIZES, st.lists(st.integers(1, 3000), min_size=4, max_size=4), st.sampled_from([50, 100])),
    min_size=1, max_size=5,
)  # fmt: skip
LITRES = st.integers(1, 120)
FREE = st.lists(st.integers(0, 6), min_size=20, max_size=20)


def bags(rows):
    return [
        offer("soil", f"p{n}-{size}", cents, preference=liked, family=f"p{n}", litres=size, styles=["any"])
        for n, (sizes, prices, liked) in enumerate(rows)
        for size, cents in zip(sizes, prices, strict=False)
    ]


def measured(rows, litres):
    assortments = shelf(*bags(rows)).section("soil").assortments
    return products(Need("soil", litres=litres), [(some, Fit()) for some in assortments])


def every_product(made):
    return [Product(one.need_ml, group, one.fit) for one in made for group in one.assortment.groups]


def free_of(rows, numbers):
    return {one.ware.item: number for one, number in zip(bags(rows), numbers, strict=False)}


@settings(deadline=None)
@given(PRODUCTS, LITRES)
def test_no_floor_is_above_the_cover_that_it_stands_for(rows, litres):
    made = measured(rows, litres)
    floors = list(by_floor(made))
    assert len(floors) == len(rows) == len(every_product(made))
    assert [floor for floor, _ in floors] == sorted(floor for floor, _ in floors)
    for floor, one in floors:
        choice, _ = one.covered()
        listed = minimal_covers(one.need_ml, one.group.sizes) is not None
        assert floor <= choice.key
        assert floor[:4] == choice.key[:4] or not listed


@settings(deadline=None)
@given(PRODUCTS, LITRES, FREE)
def test_no_floor_from_free_stock_is_above_the_cover_from_it(rows, litres, numbers):
    stock = Stock(Counter(**free_of(rows, numbers)))
    for one in every_product(measured(rows, litres)):
        if one.enough(stock.free):
            choice, _ = one.covered(stock.free)
            assert one.floor(stock.free) <= choice.key


@given(st.integers(1, 60), st.lists(st.integers(2, 30), min_size=1, max_size=3))
def test_listed_covers_are_all_that_hold_the_need_without_a_needless_pack(need, sizes):
    every = itertools.product(*(range(need // size + 2) for size in sizes))
    spares = [(way, sum(n * size for n, size in zip(way, sizes, strict=True)) - need) for way in every]
    wanted = [
        (way, spare)
        for way, spare in spares
        if spare >= 0 and all(spare < size for n, size in zip(way, sizes, strict=True) if n)
    ]
    ways = minimal_covers(need, tuple(sizes))
    assert ways is not None
    found = zip(map(tuple, ways.counts.tolist()), ways.spare.tolist(), strict=True)
    assert list(found) == wanted


@given(SIZES, LITRES)
def test_listed_covers_hold_the_need_and_no_pack_of_them_could_be_left_out(sizes, litres):
    ways = minimal_covers(litres, tuple(sizes))
    for way in ways.counts.tolist() if ways else ():
        spare = sum(n * size for n, size in zip(way, sizes, strict=True)) - litres
        assert spare >= 0
        assert all(spare < size for n, size in zip(way, sizes, strict=True) if n)


@settings(deadline=None)
@given(PRODUCTS, LITRES)
def test_covers_come_in_the_order_that_covering_every_product_gives(rows, litres):
    made = measured(rows, litres)
    covers = best_covers(Remembered(by_floor(made)))
    assert [c.key for c in covers] == sorted(one.covered()[0].key for one in every_product(made))


@settings(deadline=None)
@given(PRODUCTS, LITRES, FREE)
def test_covers_from_free_stock_leave_out_exactly_what_it_cannot_cover(rows, litres, numbers):
    made, stock = measured(rows, litres), Stock(Counter(**free_of(rows, numbers)))
    every = [one.covered(stock.free) for one in every_product(made)]
    wanted = sorted(choice.key for choice, cover in every if not cover.missing_millilitres)
    assert [c.key for c in best_covers(Remembered(by_floor(made)), stock)] == wanted


@settings(deadline=None)
@given(st.integers(1, 90), st.lists(st.tuples(*[st.integers(1, 3000)] * 3), min_size=65, max_size=70), FREE)
def test_a_long_row_of_products_is_walked_in_the_order_of_their_covers(litres, prices, numbers):
    rows = [((2, 5, 10), price, 50 + sum(price) % 2) for price in prices]
    made = measured(rows, litres)
    stock = Stock(Counter(**free_of(rows, numbers * 30)))
    every = [one.covered(stock.free) for one in every_product(made)]
    wanted = sorted(choice.key for choice, cover in every if not cover.missing_millilitres)
    assert [c.key for c in best_covers(Remembered(by_floor(made)), stock)] == wanted


@given(PRODUCTS, LITRES, FREE, FREE)
def test_stock_moves_the_packs_but_never_the_product(rows, litres, numbers, others):
    def product(free):
        read = Counter(**free_of(rows, free))
        chosen = select(
            [Need("soil", litres=litres)], shelf=shelf(*bags(rows)), roles=ROLES, read_free=read
        ).chosen
        assert isinstance(chosen[0], Choice)
        return chosen[0].group.figures["family"]

    assert product(numbers) == product(others)
