from small_shelf import offer, shelf

from kits.planning.shelf import Shelf
from kits.terms.needs import Offer, Ware


def codes(group):
    return [one.ware.item for one in group.offers]


def test_offers_alike_in_every_figure_stand_in_one_group_best_first():
    made = shelf(
        offer("thing", "b", 200, size_mm=5, zones=[1, 2]),
        offer("thing", "a", 200, size_mm=5, zones=[1, 2]),
        offer("thing", "dear", 900, preference=1, size_mm=5, zones=[1, 2]),
        offer("thing", "other", 100, size_mm=6, zones=[1, 2]),
    )
    assert sorted(map(codes, made.groups("thing"))) == [["dear", "a", "b"], ["other"]]


def test_pack_sizes_of_one_product_stand_together_apart_from_products_like_it():
    made = Shelf.build([], [
        Offer(Ware(code, code, "bag", 100), "soil", {"family": family, "litres": litres, "styles": ["any"]})
        for code, family, litres in (("a4", "a", 4), ("a10", "a", 10), ("b4", "b", 4))
    ])  # fmt: skip
    groups = made.groups("soil")
    assert sorted(map(codes, groups)) == [["a10", "a4"], ["b4"]]
    assert groups[0].likeness == groups[1].likeness


def test_an_item_without_a_family_is_a_product_of_its_own():
    made = Shelf.build([], [
        Offer(Ware(code, code, "bag", 100), "soil", {"family": "", "litres": 4}) for code in ("a", "b")
    ])  # fmt: skip
    assert sorted(map(codes, made.groups("soil"))) == [["a"], ["b"]]


def test_litres_tell_dishes_apart_because_a_dish_is_no_pack():
    made = shelf(offer("dish", "small", 300, litres=0.2), offer("dish", "large", 500, litres=0.8))
    assert len(made.groups("dish")) == 2


def test_the_shelf_knows_wares_that_stand_in_no_role():
    made = Shelf.build([Ware("loose", "Loose", "piece", 10)], [])
    assert made.knows("loose")
    assert not made.knows("absent")
    assert made.ware("loose").price_cents == 10
    assert made.offer("thing", "loose") is None


def test_groups_can_be_cut_down_to_named_items():
    made = shelf(
        offer("thing", "a", 1, size_mm=5),
        offer("thing", "b", 2, size_mm=5),
        offer("thing", "c", 3, size_mm=9),
    )
    assert [codes(group) for group in made.groups_with("thing", ["b", "absent"])] == [["b"]]


def test_five_thousand_items_are_all_on_the_shelf():
    offers = [
        offer("thing", f"i{n}", n % 977, size_mm=n % 60, zones=[1, n % 3], cap="E26") for n in range(5_000)
    ]
    made = Shelf.build((one.ware for one in offers), offers)
    assert sum(len(group.offers) for group in made.groups("thing")) == 5_000
