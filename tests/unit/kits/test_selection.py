import pytest
from small_shelf import ROLES, Counter, items, offer, shelf

from kits.planning.refusals import nearest_miss
from kits.planning.selection import select
from kits.planning.stock import Stock
from kits.terms.needs import Need


def chosen(needs, made, *, free=None, **more):
    read = free if isinstance(free, Counter) else Counter(**(free or {}))
    return select(needs, shelf=made, roles=ROLES, read_free=read, **more)


THING = Need("thing", count=1)


def test_the_order_is_rank_then_house_preference_then_price_then_item():
    rows = [
        ("z", 100, 100, 0),
        ("y", 100, 100, 0),
        ("cheap", 90, 100, 1),
        ("liked", 500, 50, 0),
        ("poor", 1, 1, 2),
    ]
    left = [
        offer("thing", i, cents, preference=liked, size_mm=9, rank=rank) for i, cents, liked, rank in rows
    ]
    order = []
    while left:
        (picked,) = items(chosen([THING], shelf(*left)))
        order.extend(picked)
        left = [one for one in left if one.ware.item not in picked]
    assert order == ["liked", "y", "z", "cheap", "poor"]


def test_stock_does_not_move_the_choice():
    made = shelf(offer("thing", "a", 100, size_mm=9), offer("thing", "b", 200, size_mm=9))
    assert items(chosen([THING], made, free={"b": 9})) == [{"a": 1}]


def test_counted_needs_take_whole_pieces_and_less_waste_breaks_a_tie():
    made = shelf(
        offer("thing", "tens", 500, size_mm=1, each=10), offer("thing", "sixes", 500, size_mm=1, each=6)
    )
    assert items(chosen([Need("thing", count=12)], made)) == [{"sixes": 2}]


def test_slots_that_prefer_different_products_get_them():
    made = shelf(offer("thing", "a", 100, size_mm=8), offer("thing", "b", 200, size_mm=9))
    slots = [Need("thing", slot=slot, count=1, distinct=True) for slot in ("left", "middle", "right")]
    assert items(chosen(slots, made)) == [{"a": 1}, {"b": 1}, {"a": 1}]


def test_an_unmet_need_names_the_nearest_miss():
    made = shelf(
        offer("thing", "a", 1, size_mm=300),
        offer("thing", "b", 1, size_mm=440),
        offer("thing", "c", 1, size_mm=9),
    )
    (pick,) = chosen([Need("thing", wanted={"size_mm": 443})], made).picks
    assert pick.offers == ()
    assert pick.refusal == "Its 440 mm are less than the 443 mm wanted."


def test_an_empty_role_says_that_nothing_is_listed():
    (pick,) = chosen([THING], shelf()).picks
    assert pick.refusal == "Nothing in the catalogue is listed for this job."


def test_a_named_item_that_stands_in_another_role_is_refused_by_its_reason():
    made = shelf(offer("thing", "good", 9, size_mm=500))
    (pick,) = chosen([THING], made, choose={"thing": ["elsewhere"]}).picks
    assert pick.refusal == "None of the items that were named is listed for this job."


LOAM = [
    offer("soil", "l4", 649, family="loam", litres=4, styles=["any"]),
    offer("soil", "l8", 1099, family="loam", litres=8, styles=["any"]),
    offer("soil", "l20", 2299, family="loam", litres=20, styles=["any"]),
]
PEAT = [offer("soil", "p50", 9900, family="peat", litres=50, styles=["any"])]


def test_a_volume_is_covered_exactly_when_everything_is_free():
    free = {"l4": 50, "l8": 50, "l20": 50}
    assert items(chosen([Need("soil", litres=47)], shelf(*LOAM, *PEAT), free=free)) == [{"l8": 1, "l20": 2}]


def test_pack_sizes_of_the_chosen_product_use_what_is_free_first():
    free = {"l4": 10, "l8": 2, "l20": 1, "p50": 9}
    assert items(chosen([Need("soil", litres=47)], shelf(*LOAM, *PEAT), free=free)) == [
        {"l4": 3, "l8": 2, "l20": 1}
    ]


def test_a_product_that_settles_more_needs_more_of_its_packs():
    settles = offer("soil", "s", 100, family="fluff", litres=10, styles=["any"], yields=0.8)
    assert items(chosen([Need("soil", litres=40)], shelf(settles))) == [{"s": 5}]


def test_fill_free_takes_another_product_where_the_preferred_one_runs_short():
    free = {"l4": 1, "p50": 1}
    selection = chosen([Need("soil", litres=47)], shelf(*LOAM, *PEAT), free=free, fill="free")
    assert items(selection) == [{"p50": 1}]


def test_fill_free_keeps_the_preferred_choice_where_nothing_is_free():
    made = shelf(offer("thing", "a", 100, size_mm=9), offer("thing", "b", 200, size_mm=9))
    assert items(chosen([THING], made, fill="free")) == [{"a": 1}]


def test_fill_free_finds_a_free_item_far_down_the_list_in_few_reads():
    made = shelf(*(offer("thing", f"i{n:04}", n, size_mm=9) for n in range(3000)))
    free = Counter(i2900=1)
    assert items(chosen([THING], made, free=free, fill="free")) == [{"i2900": 1}]
    assert len(free.reads) <= 5


def test_pieces_that_an_earlier_selection_took_are_not_free():
    made = shelf(offer("thing", "a", 100, size_mm=9), offer("thing", "b", 200, size_mm=9))
    assert items(chosen([THING], made, free={"a": 1, "b": 1}, fill="free", taken={"a": 1})) == [{"b": 1}]


def test_two_needs_do_not_share_the_last_free_piece():
    made = shelf(offer("thing", "a", 100, size_mm=9), offer("thing", "b", 200, size_mm=9))
    needs = [Need("thing", slot="one", count=1), Need("thing", slot="two", count=1)]
    assert items(chosen(needs, made, free={"a": 1, "b": 1}, fill="free")) == [{"a": 1}, {"b": 1}]


def test_named_items_are_taken_even_when_they_do_not_do_the_job():
    made = shelf(offer("thing", "good", 1, size_mm=500), offer("thing", "small", 2, size_mm=100))
    (pick,) = chosen([Need("thing", wanted={"size_mm": 443})], made, choose={"thing": ["small"]}).picks
    assert [one.ware.item for one, _ in pick.offers] == ["small"]
    assert pick.refusal == "Its 100 mm are less than the 443 mm wanted."


def test_of_several_named_items_one_that_does_the_job_is_taken():
    made = shelf(offer("thing", "good", 9, size_mm=500), offer("thing", "small", 2, size_mm=100))
    needs = [Need("thing", wanted={"size_mm": 443})]
    assert items(chosen(needs, made, choose={"thing": ["small", "good"]})) == [{"good": 1}]


def test_a_plan_with_volumes_reads_stock_once():
    free = Counter(l8=9, l20=9)
    chosen([THING, Need("soil", litres=47), Need("soil", slot="2", litres=3)], shelf(*LOAM), free=free)
    assert len(free.reads) == 1


@pytest.mark.parametrize(
    ("refusals", "told"),
    [
        (["It is no springtail."] * 9 + ["A prefers 9 to 20 C."] * 2, "A prefers 9 to 20 C."),
        (["It is no hide."] * 3 + ["A is not for deserts."], "A is not for deserts."),
        (["It is no hide."] * 3, "It is no hide."),
        (["B wants 8 C.", "A wants 9 %."], "A wants 9 %. B wants 8 C."),
        (["C is 4 long.", "B is 5 long.", "A is 6 long.", "D is 7 long.", "No."],
         "A is 6 long. B is 5 long. C is 4 long. 1 more fails in as few respects."),
        (["A wants 9 C. A is 5 long.", "B wants 8 C.", "C is 7 long. C wants 9 %."], "B wants 8 C."),
        (["It is 9 long, 5 fit.", "It is 7 long, 5 fit.", "It takes 3 W, too few."], "It is 7 long, 5 fit."),
    ],
)  # fmt: skip
def test_the_miss_that_is_told_is_the_nearest_by_figures(refusals, told):
    assert nearest_miss(refusals) == told


def test_what_is_expected_is_read_with_the_next_batch_and_not_before():
    free = Counter(a=1, b=2)
    plan_wide = Stock(free)
    Stock(plan_wide).expect(["b"])
    assert free.reads == []
    assert (plan_wide.free("a"), plan_wide.free("b")) == (1, 2)
    assert [sorted(read) for read in free.reads] == [["a", "b"]]
