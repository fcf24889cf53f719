"""Products in packs against trying every one: floors, order, and what free stock can cover."""

from hypothesis import given
from hypothesis import strategies as st
from small_shelf import ROLES, Counter, offer, shelf

from kits.planning.choices import Choice
from kits.planning.covers import best_covers, by_floor, minimal_covers, products
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
    groups = shelf(*bags(rows)).groups("soil")
    return products(Need("soil", litres=litres), [(group, Fit()) for group in groups])


def free_of(rows, numbers):
    return {one.ware.item: number for one, number in zip(bags(rows), numbers, strict=False)}


@given(PRODUCTS, LITRES)
def test_no_floor_is_above_the_cover_that_it_stands_for(rows, litres):
    for one in measured(rows, litres):
        choice, _ = one.covered()
        assert one.quick_floor() <= one.floor() <= choice.key
        listed = minimal_covers(one.need_ml, one.group.millilitres) is not None
        assert one.floor()[2] == choice.total_cents or not listed


@given(SIZES, LITRES)
def test_listed_covers_hold_the_need_and_no_pack_of_them_could_be_left_out(sizes, litres):
    ways = minimal_covers(litres, tuple(sizes))
    for way in ways or ():
        spare = sum(n * size for n, size in zip(way, sizes, strict=True)) - litres
        assert spare >= 0
        assert all(spare < size for n, size in zip(way, sizes, strict=True) if n)


@given(PRODUCTS, LITRES)
def test_covers_come_in_the_order_that_covering_every_product_gives(rows, litres):
    made = measured(rows, litres)
    assert [c.key for c in best_covers(by_floor(made))] == sorted(one.covered()[0].key for one in made)


@given(PRODUCTS, LITRES, FREE)
def test_covers_from_free_stock_leave_out_exactly_what_it_cannot_cover(rows, litres, numbers):
    made, stock = measured(rows, litres), Stock(Counter(**free_of(rows, numbers)))
    every = [one.covered(stock.free) for one in made]
    wanted = sorted(choice.key for choice, cover in every if not cover.missing_millilitres)
    assert [c.key for c in best_covers(by_floor(made), stock)] == wanted


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
