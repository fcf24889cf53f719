import pytest
from small_shelf import ROLES, Counter, offer, shelf

from kits.planning.lines import plan_lines, unmet_roles
from kits.planning.selection import select
from kits.terms.needs import Need

THING = Need("thing", count=1)
A, B = offer("thing", "a", 500, size_mm=9), offer("thing", "b", 620, size_mm=9)
LAMP, HOLDER = Need("lamp", count=1), Need("holder", count=1)
SMALL = offer("lamp", "lamp50", 900, cap="E26", watts=50)
LARGE = offer("lamp", "lamp150", 700, cap="E26", watts=150)
TUBE = offer("lamp", "tube", 3000, cap="G5", watts=24)
WEAK = offer("holder", "weak", 500, cap="E26", watts=60)
STRONG = offer("holder", "strong", 1500, cap="E26", watts=250)
FIXTURE = offer("holder", "fixture", 6000, cap="G5", watts=24)


def lines(needs, *offers, free=None, extra=(), **more):
    read = free if isinstance(free, Counter) else Counter(**(free or {}))
    made = shelf(*offers)
    selection = select(needs, shelf=made, roles=ROLES, read_free=read, **more)
    return plan_lines([selection], shelf=made, read_free=read, extra=extra)


@pytest.mark.parametrize(
    ("free", "status", "told", "missing"),
    [(0, "none", 0, 3), (2, "short", 2, 1), (3, "free", 3, 0), (9, "free", 9, 0)],
)
def test_a_line_says_how_much_of_it_is_free(free, status, told, missing):
    (line,) = lines([Need("thing", count=3)], A, free={"a": free})
    assert (line.status, line.free, line.missing) == (status, told, missing)
    assert (line.quantity, line.each_cents, line.total_cents) == (3, 500, 1500)


def test_needs_of_one_role_that_pick_the_same_item_become_one_line():
    (line,) = lines([Need("thing", slot=slot, count=2) for slot in "xy"], A, free={"a": 4})
    assert (line.quantity, line.total_cents, line.status) == (4, 2000, "free")


def test_an_item_on_several_lines_is_counted_once_in_line_order():
    first, second = lines([Need("thing", count=3)], A, free={"a": 4}, extra=[("a", 2)])
    assert (first.status, first.free, first.missing) == ("free", 4, 0)
    assert (second.role, second.status, second.free, second.missing) == ("extra", "short", 1, 1)


def test_lines_stand_in_the_order_of_the_roles():
    both = lines([LAMP, THING], A, SMALL)
    assert [line.role for line in both] == ["thing", "lamp"]


def test_a_line_that_is_not_free_shows_what_is_with_the_price_difference():
    (line,) = lines([THING], A, B, free={"b": 14})
    (found,) = line.substitutes
    assert (found.items, found.total_cents, found.free) == ((("b", 1),), 620, 14)
    assert found.because[:2] == ("same job at 1.20 more", "14 free")


def test_at_most_three_stand_in_for_a_missing_line_and_two_for_a_free_one():
    others = [offer("thing", f"i{n}", 700 + n, size_mm=9) for n in range(5)]
    free = {f"i{n}": 2 for n in range(5)}
    (missing,) = lines([THING], A, *others, free=free)
    (there,) = lines([THING], A, *others, free={**free, "a": 1})
    assert [found.items[0][0] for found in missing.substitutes] == ["i0", "i1", "i2"]
    assert [found.items[0][0] for found in there.substitutes] == ["i0", "i1"]


def test_a_species_that_another_line_has_already_stands_in_in_no_other_pot():
    pots = [
        offer("thing", f"{species}{mm}", 5 * mm + dearer, species=species, pot_mm=mm)
        for dearer, species in enumerate(("fern", "moss", "ivy"))
        for mm in (55, 90)
    ]
    kinds = [Need("thing", slot=slot, count=1, distinct=True) for slot in "xy"]
    fern, moss = lines(kinds, *pots, free={one.ware.item: 9 for one in pots})
    assert (fern.item, moss.item) == ("fern55", "moss55")
    assert [dict(found.items) for found in fern.substitutes] == [{"ivy55": 1}, {"fern90": 1}]
    assert [dict(found.items) for found in moss.substitutes] == [{"ivy55": 1}, {"moss90": 1}]


def test_a_substitute_far_down_the_list_is_found():
    many = [offer("thing", f"i{n:04}", 700 + n, size_mm=9) for n in range(2000)]
    free = Counter(i1950=1)
    (line,) = lines([THING], *many, free=free)
    assert [found.items for found in line.substitutes] == [(("i1950", 1),)]
    assert len(free.reads) <= 5


def test_a_substitute_must_be_free_in_the_whole_quantity():
    (line,) = lines([Need("thing", count=3)], A, B, free={"b": 2})
    assert line.substitutes == ()


def test_another_product_stands_in_for_bags_that_run_short():
    loam = [offer("soil", "l10", 1000, family="loam", litres=10, styles=["any"])]
    peat = [offer("soil", code, cents, family="peat", litres=litres, styles=["any"])
            for code, cents, litres in (("p4", 800, 4), ("p20", 3500, 20))]  # fmt: skip
    (line,) = lines([Need("soil", litres=24)], *loam, *peat, free={"l10": 1, "p4": 3, "p20": 1})
    assert (line.item, line.quantity, line.missing) == ("l10", 3, 2)
    assert [sorted(found.items) for found in line.substitutes] == [[("p20", 1), ("p4", 1)]]


def test_a_lamp_substitute_keeps_to_the_holder_that_stays():
    found = lines([LAMP, HOLDER], SMALL, LARGE, WEAK, free={"lamp150": 5, "weak": 1})
    assert found[0].item == "lamp50"
    assert found[0].substitutes == ()


def test_lamp_and_holder_stand_in_together_when_neither_can_alone():
    found = lines([LAMP, HOLDER], SMALL, WEAK, TUBE, FIXTURE, free={"weak": 1, "tube": 1, "fixture": 2})
    (both,) = found[0].substitutes
    assert sorted(both.items) == [("fixture", 1), ("tube", 1)]
    assert both.total_cents == 9000
    assert both.because[:2] == ("same job at 76.00 more", "1 free, 2 free")


def test_a_plan_of_single_items_reads_stock_once():
    free = Counter(a=1, lamp50=1, weak=1)
    lines([THING, LAMP, HOLDER], A, B, SMALL, WEAK, free=free)
    assert len(free.reads) == 1


def test_unmet_needs_are_no_lines_but_are_named():
    made = shelf(A)
    need = Need("thing", wanted={"size_mm": 443})
    selection = select([need], shelf=made, roles=ROLES, read_free=Counter())
    assert plan_lines([selection], shelf=made, read_free=Counter()) == ()
    (unmet,) = unmet_roles([selection])
    assert (unmet.role, unmet.because) == ("thing", "Its 9 mm are less than the 443 mm wanted.")
