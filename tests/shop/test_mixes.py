"""The mixes on the screen: what they are like where they lie, which bounds they fail, what costs least."""

import pytest

from inventory.actors import SYSTEM
from inventory.models import Item, MixPart
from kits.models import Profile
from kits.physics.mixes import Bed, recipe_figures
from kits.selectors.facts import facts
from kits.services import overrides
from shop.selectors import mixes
from tests.shop.mixing import mixed, stock_loose
from tests.shop.screens import HTMX, signed_in

PATH = "/mixes/understorey/"


@pytest.fixture
def mixing(shop):
    stock_loose()
    mixed("understorey", "Understorey mix", CHIPS="4", COMPOST="3")
    mixed("dune", "Dune mix", SAND="6", TOPSOIL="2")


def page(name="Ada", path=PATH, *, status=200, **asked):
    answer = signed_in(name).get(path, asked)
    assert answer.status_code == status
    return answer.content.decode()


def worked(**numbers):
    return mixes.page(mixes.study("understorey"), mixes.Asked(numbers=numbers))


def test_the_list_shows_every_mix_with_the_figures_of_its_parts(mixing):
    known = facts()
    worked = recipe_figures(known.mixes["dune"], known.media, Bed(front_mm=100, back_mm=130))
    shown = page(path="/mixes/")
    assert f'data-name="water">{100 * worked.water:.0f} %</td>' in shown
    assert f'data-name="dry density">{worked.density_kg_l:.2f} kg/L</td>' in shown


def test_the_list_says_what_could_be_mixed_from_what_is_free(mixing):
    row = next(row for row in mixes.listing() if row.code == "dune")
    poured = min(200 / (6 / 8), 300 / (2 / 8))  # sand runs out first
    assert row.mixable_l == pytest.approx(poured * (1 - row.figures.shrinkage))


def test_the_cost_of_a_litre_counts_what_vanishes_in_mixing(mixing):
    row = next(row for row in mixes.listing() if row.code == "dune")
    per_poured = 0.75 * 20 + 0.25 * 10  # cents a litre of sand and topsoil
    assert row.cents_per_l == pytest.approx(per_poured / (1 - row.figures.shrinkage))


@pytest.mark.parametrize(("name", "sees"), [("Ada", True), ("Ben", False), ("Cleo", False)])
def test_what_the_shop_pays_is_only_for_those_who_may_see_it(mixing, name, sees):
    for path in ("/mixes/", PATH):
        shown = page(name, path=path)
        assert ("cost of a litre" in shown) is sees
        assert ("$" in shown) is sees


def test_pages_cost_a_fixed_number_of_queries(mixing, django_assert_max_num_queries):
    client = signed_in("Ada")
    client.get(PATH)
    with django_assert_max_num_queries(14):
        client.get("/mixes/")
    with django_assert_max_num_queries(18):
        client.get(PATH)


def test_a_bound_that_it_fails_is_a_sentence_with_the_difference(mixing):
    figures = worked().row.figures
    shown = page(water_lo="90")
    water = 100 * figures.water
    assert f"Its container capacity is {water:.3g} %, {90 - water:.2g} points too little for" in shown


def test_depths_may_be_typed_in_inches(mixing):
    shown = page(front="4 in", back="4 in")
    assert "= 102 mm (4.0 in)" in shown
    row = worked(front=101.6, back=101.6).row
    assert f"<strong>{100 * row.figures.water:.0f} %</strong>" in shown


def test_a_deeper_layer_holds_less_water(mixing):
    shallow, deep = (worked(front=mm, back=mm).row.figures for mm in (50.0, 200.0))
    assert deep.water < shallow.water
    assert deep.air > shallow.air


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"front": "four"}, "Depth at the front must be between 5 and 2000 mm"),
        ({"back": "1e9"}, "Depth at the back must be"),
        ({"water_lo": "101"}, "Water, at least must be a share from 0 to 100 %."),
        ({"air_lo": "40", "air_hi": "30"}, "Air, at most must not be below air, at least."),
        ({"litres": "-3"}, "Litres wanted must be between 0.1 and 100000 L."),
        ({"density_hi": "nan"}, "Dry density, at most must be between 0.01 and 3 kg/L."),
        ({"carbon_nitrogen_hi": "0"}, "C:N, at most must be between 1 and 1000."),
        ({"style": "attic"}, "Style must be one of humid-forest, seasonal-forest,"),
        ({"with": "BAG"}, "Ingredients may not name &#x27;BAG&#x27;"),
    ],
)
def test_what_cannot_be_is_told_beside_its_field_and_the_rest_is_shown(mixing, asked, sentence):
    shown = page(status=422, **asked)
    field = list(asked)[-1]
    assert sentence in shown.split(f'id="fault-{field}"')[1].split("</span>")[0]
    assert 'id="mix-curve"' in shown


def test_what_is_typed_is_answered_with_what_changes_and_an_address_to_pass_on(mixing):
    answer = signed_in("Ben").get(PATH, {"front": "80", "back": "", "air_lo": "10"}, headers=HTMX)
    shown = answer.content.decode()
    assert answer["HX-Replace-Url"] == f"{PATH}?front=80&air_lo=10"
    assert "<html" not in shown
    assert '<input id="front"' not in shown
    assert 'id="fault-front" hx-swap-oob="true"' in shown


def test_the_least_cost_mix_keeps_the_bounds_and_saves_on_the_recipe(mixing):
    found = worked(air_lo=0.2)
    made = found.design.made
    assert made.feasible
    assert made.figures.air >= 0.2 - 1e-6
    assert made.figures.water >= 0.45 - 1e-6
    assert made.cents < found.row.cents_per_l * found.row.bed.litres
    assert "less than this mix" in page(air_lo="20")


def test_a_mix_whose_parts_hold_too_much_water_is_told_with_the_range_that_it_may_lie_in(mixing):
    mixed("mud", "Mud", CHIPS="2", SAND="1")  # sand fills the gaps between the chips
    thin = {"front": 5.0, "back": 5.0, "water_lo": 0.99}
    row = mixes.page(mixes.study("mud"), mixes.Asked("humid-forest", thin)).row
    assert row.is_overfull
    assert row.failures[0].value == pytest.approx(row.figures.pores)
    assert 0 < row.figures.air < row.figures.air_hi
    shown = page(path="/mixes/mud/", front="5", back="5")
    assert "their sum cannot be right" in shown
    assert "what its parts would hold beyond the pores of the mix" in shown


def test_bounds_that_clash_are_named(mixing):
    shown = page(water_lo="70", density_lo="1.4")
    assert "bulk density of at least 1.4 kg/L cannot both be met" in shown


def test_more_than_is_free_is_refused_by_what_is_free(mixing):
    assert 'id="clash"' not in page(litres="100", **{"with": "CHIPS"})  # exactly what is free
    shown = page(litres="120", **{"with": "CHIPS"})
    assert "The 100 L of Item CHIPS that are free are not enough for 120 L at 60 to 110 mm." in shown


def test_the_nearest_cheaper_mix_tells_what_it_fails_and_saves(mixing):
    found = worked(air_lo=0.2)
    nearest = found.design.cheaper[0]
    shown = page(air_lo="20")
    assert f"${nearest.saving_cents / 100:.2f} less" in shown
    assert nearest.failures[0].sentence in shown


def test_ingredients_of_unknown_carbon_are_left_out_of_a_mix_with_a_bound_on_it(mixing):
    shown = page(carbon_nitrogen_hi="60")
    assert "Left out, as their carbon or nitrogen is not known: Item FERN." in shown


def test_ingredients_of_unknown_carbon_that_are_asked_for_are_refused(mixing):
    shown = page(carbon_nitrogen_hi="60", **{"with": "FERN"})
    assert "ingredients need known carbon and nitrogen: Item FERN." in shown


def test_a_part_that_is_no_ingredient_leaves_the_mix_unknown_and_says_why(mixing):
    Profile.objects.filter(item__code="COMPOST", role="ingredient").delete()
    shown = page()
    assert "Item COMPOST (COMPOST) does not say which medium it is" in shown
    assert 'id="mix-curve"' not in shown


def test_an_edited_recipe_is_judged_by_its_own_parts_at_once(mixing):
    before = worked().row.figures.density_kg_l
    sand = Item.objects.get(code="SAND")
    MixPart.objects.filter(mix__code="understorey", item__code="COMPOST").update(item=sand)
    assert worked().row.figures.density_kg_l > before + 0.3


def test_every_figure_of_a_part_stands_with_mark_and_source(mixing):
    shown = page()
    assert "middle of 1.45 to 1.65, from memory" not in shown  # sand is no part of this mix
    assert "Frontiers in Plant Science 2014 5:625" in shown
    assert 'data-name="mark">M</td>' in shown


def test_everything_is_told_as_an_estimate_with_the_way_to_measure_it(mixing):
    shown = page()
    assert "Figures, all estimates" in shown
    assert "Measure it: a bucket, a scale, a day" in shown


def test_a_mix_that_is_not_there_is_told(mixing):
    assert "There is no mix &#x27;moonlight&#x27;." in page(path="/mixes/moonlight/", status=404)


def test_a_style_without_bounds_is_told_on_page_and_list_and_typed_bounds_take_its_place(mixing):
    shown = page(path="/mixes/dune/")
    assert "No bounds on water and air are known for desert: there this mix is chosen by the styles" in shown
    assert "Without bounds this is only the cheapest that can be poured, and no advice." in shown
    assert "none known: by its style alone" in page(path="/mixes/")
    assert 'id="unbounded"' not in page(path="/mixes/dune/", air_lo="1")
    assert 'id="unbounded"' not in page()


def test_air_that_is_only_trapped_is_told_and_not_counted_on(mixing):
    shown = page(path="/mixes/understorey/", front="55", back="55", air_lo="4")
    figures = worked(front=55.0, back=55.0).row.figures
    assert 0 < figures.spare < figures.air - 0.001
    assert f"{100 * figures.spare:.1f} % can be counted on" in shown
    assert f"Its air space is {100 * figures.spare:.3g} %" in shown


def test_where_no_bound_left_out_would_save_anything_the_page_says_so(mixing):
    assert 'id="none-cheaper"' in page(water_lo="10", air_lo="1", **{"with": "SAND"})
    assert 'id="none-cheaper"' not in page(air_lo="20")


def test_a_shop_may_bound_the_soil_of_a_dry_style_by_its_own_figures(mixing):
    for field, value in (("water_hi_pct", 20), ("air_lo_pct", 2)):
        given = {"code": "desert", "field": field, "value": value, "why": "our dunes", "actor": SYSTEM}
        overrides.set("style", **given)
    shown = page(path="/mixes/dune/")
    assert "Container capacity of at most 20 %" in shown
    assert "our dunes (system) [own]" in shown
    water = 100 * mixes.page(mixes.study("dune"), mixes.Asked()).row.figures.water
    assert f"Its container capacity is {water:.3g} %, {water - 20:.2g} points too much" in shown
