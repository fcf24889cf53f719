"""The mix design against every mix of a fine grid, and against what is worked by hand."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad

from inventory.calc.blending import embedding, filling
from inventory.calc.errors import Impossible
from kits.physics.mix_bounds import Bounds
from kits.physics.mix_design import LEAST_PART, MOST_INGREDIENTS, design_mix, judge_mix, nearest_cheaper
from kits.physics.mixes import Bed, Ingredient, ingredient, mix_figures, recipe, recipe_figures, with_stock
from kits.physics.retention import water_content
from tests.known_facts import known_facts

BED = Bed.level(100)
PRICES = {"peat": 9, "perlite": 14, "bark-fines": 6, "washed-sand": 3, "coir-fibre": 8, "pumice": 18}
PRICES |= {"topsoil": 2, "leaf-mould": 7}


def pool(*codes, free_l=math.inf, **more):
    media = known_facts().media
    known = [with_stock(ingredient(media[code]), cents_per_l=PRICES[code], free_l=free_l) for code in codes]
    return [replace(part, **more) for part in known]


def parts_of(design):
    return [(part.ingredient, part.litres) for part in design.parts]


def shares(count, steps):
    """Every mix of whole steps of the poured volume."""
    cuts = np.array(list(itertools.combinations(range(steps + count - 1), count - 1)))
    edges = np.hstack([np.full((len(cuts), 1), -1), cuts, np.full((len(cuts), 1), steps + count - 1)])
    return (np.diff(edges, axis=1) - 1) / steps


def capacity(part, depth_cm=10.0):
    """Container capacity by quadrature, apart from the closed form."""
    return quad(lambda h: water_content(h, *part.curve), 0, depth_cm, epsabs=1e-10)[0] / depth_cm


def volumes(parts, poured, calibration=0.6):
    """Blended volume of every row of poured litres, written out again as loops."""
    greatest = np.zeros(len(poured))
    for at, own in enumerate(parts):
        total = np.zeros(len(poured))
        for column, other in enumerate(parts):
            if other.grain_mm > own.grain_mm:
                counts = 1 - other.void_fraction * embedding(own.grain_mm / other.grain_mm)
            else:
                counts = 1 - filling(other.grain_mm / own.grain_mm)
            total += counts * poured[:, column]
        greatest = np.where(poured[:, at] > 0, np.maximum(greatest, total), greatest)
    return (1 - calibration) * poured.sum(axis=1) + calibration * greatest


def cheapest_on_grid(parts, bounds, steps):
    """Cents per finished litre of the best grid mix that keeps its bounds; inf where none does."""
    poured = shares(len(parts), steps)
    x = poured / volumes(parts, poured)[:, None]
    water = x @ np.array([capacity(part) for part in parts])
    air = 1 - x @ np.array([1 - part.pores for part in parts]) - water
    density = x @ np.array([part.density_kg_l for part in parts])
    kept = (water >= bounds.water_lo) & (air >= bounds.air_lo) & (density <= bounds.density_hi)
    kept &= ((x == 0) | (x >= LEAST_PART)).all(axis=1)
    cents = x @ np.array([part.cents_per_l for part in parts])
    return cents[kept].min() if kept.any() else math.inf


GRIDS = [
    (("peat", "perlite", "washed-sand"), Bounds(water_lo=0.6, air_lo=0.15, density_hi=0.6), 250),
    (("coir-fibre", "bark-fines", "pumice"), Bounds(water_lo=0.55, air_lo=0.12, density_hi=0.4), 250),
    (("peat", "perlite", "washed-sand", "bark-fines"), Bounds(water_lo=0.5, air_lo=0.2, density_hi=0.8), 60),
    (("coir-fibre", "perlite", "pumice", "bark-fines"), Bounds(water_lo=0.6, air_lo=0.2, density_hi=0.5), 60),
]


@pytest.mark.parametrize(("codes", "bounds", "steps"), GRIDS, ids=lambda value: str(value)[:40])
def test_no_mix_of_a_fine_grid_is_cheaper_and_the_best_of_them_is_near(codes, bounds, steps):
    parts = pool(*codes)
    design = design_mix(parts, bounds, BED)
    best = cheapest_on_grid(parts, bounds, steps)
    assert design.cents <= best + 1e-9
    assert best <= design.cents * 1.03
    assert judge_mix(parts_of(design), bounds, BED).passes


EIGHT = [
    Bounds(water_lo=0.55, air_lo=0.12, density_hi=0.5),
    Bounds(water_lo=0.45, air_lo=0.25, density_hi=1.0),
    Bounds(water_lo=0.65, air_lo=0.1, density_hi=0.3),
]


@pytest.mark.parametrize("bounds", EIGHT, ids=lambda value: str(value)[:40])
def test_no_grid_mix_of_eight_ingredients_is_cheaper_and_one_of_those_chosen_is_near(bounds):
    parts = pool(*PRICES)
    design = design_mix(parts, bounds, BED)
    assert len(parts) == MOST_INGREDIENTS
    assert design.cents <= cheapest_on_grid(parts, bounds, 12) + 1e-9  # 50,388 mixes
    chosen = [part for part, _ in parts_of(design)]
    assert cheapest_on_grid(chosen, bounds, 60) <= design.cents * 1.03


def test_no_grid_mix_of_eight_keeps_bounds_that_clash_and_without_either_some_do():
    parts, bounds = pool(*PRICES), Bounds(water_lo=0.85, air_lo=0.2, density_hi=0.5)
    design = design_mix(parts, bounds, BED)
    assert [bound.words for bound in design.clashing] == [
        "container capacity of at least 85 %",
        "air space of at least 20 %",
    ]
    assert cheapest_on_grid(parts, bounds, 12) == math.inf
    for key in ("water_lo", "air_lo"):
        assert cheapest_on_grid(parts, replace(bounds, **{key: 0.0}), 12) < math.inf


def test_the_design_tells_litres_shares_cost_and_what_binds():
    bounds = Bounds(water_lo=0.6, air_lo=0.15, density_hi=0.6)
    design = design_mix(pool("peat", "perlite", "washed-sand"), bounds, Bed.level(100, litres=40))
    assert sum(part.share for part in design.parts) == pytest.approx(1)
    assert design.figures.volume_l == pytest.approx(40)
    assert design.cents == pytest.approx(sum(p.litres * PRICES[p.ingredient.code] for p in design.parts))
    assert "air space of at least 15 %" in [bound.words for bound in design.binding]


def test_one_ingredient_is_itself_and_costs_its_price():
    design = design_mix(pool("peat"), Bounds(), Bed.level(100, litres=5))
    assert design.cents == pytest.approx(45)
    assert design.figures.water == pytest.approx(0.8746, abs=0.0002)


def test_bounds_that_clash_are_named_without_the_innocent_ones():
    bounds = Bounds(water_lo=0.75, air_lo=0.25, density_hi=2)
    design = design_mix(pool("peat", "perlite", "washed-sand"), bounds, BED)
    assert not design.feasible
    assert design.clash == (
        "Container capacity of at least 75 % and air space of at least 25 % cannot both be met at 100 mm."
    )


def test_each_clashing_bound_is_needed_for_the_clash():
    bounds = Bounds(water_lo=0.75, air_lo=0.25, density_hi=2)
    parts = pool("peat", "perlite", "washed-sand")
    assert len(design_mix(parts, bounds, BED).clashing) == 2
    for key in ("water_lo", "air_lo"):
        assert design_mix(parts, replace(bounds, **{key: None}), BED).feasible


def test_a_single_impossible_bound_is_named_alone():
    design = design_mix(pool("washed-sand"), Bounds(density_hi=0.5), BED)
    assert design.clash == "Bulk density of at most 0.5 kg/L cannot be met at 100 mm with these ingredients."


def test_stock_and_shares_limit_the_design():
    peat, sand = pool("peat", "washed-sand", free_l=6)
    design = design_mix([peat, replace(sand, most_share=0.5)], Bounds(), Bed.level(100, litres=10))
    litres = {part.ingredient.code: part.litres for part in design.parts}
    assert litres["washed-sand"] <= 6 + 1e-6
    assert litres["peat"] <= 6 + 1e-6
    short = design_mix([peat, sand], Bounds(), Bed.level(100, litres=20))
    assert short.clash == (
        "No more sphagnum peat than the 6 L that are free and no more washed sand than the 6 L that are free "
        "cannot both be met for 20 L at 100 mm."
    )


def test_carbon_to_nitrogen_is_kept_by_mass():
    parts = [*pool("bark-fines"), ingredient(known_facts().media["worm-castings"])]
    design = design_mix([parts[0], replace(parts[1], cents_per_l=90)], Bounds(carbon_nitrogen_hi=30), BED)
    assert design.figures.carbon_nitrogen == pytest.approx(30)


def test_an_unknown_carbon_is_refused_only_where_a_bound_needs_it():
    fern = ingredient(known_facts().media["tree-fern-fibre"])
    assert design_mix([fern], Bounds(), BED).feasible
    with pytest.raises(Impossible, match="tree fern fibre"):
        design_mix([fern], Bounds(carbon_nitrogen_hi=30), BED)


def test_a_failing_mix_is_told_by_figure_and_difference():
    parts = [(part, 1.0) for part in pool("peat")]
    verdict = judge_mix(parts, Bounds(air_lo=0.25, density_lo=0.2), BED)
    assert [failure.sentence for failure in verdict.failures] == [
        "Its air space is 5.54 %, 19 points too little for at least 25 %.",
        "Its bulk density is 0.113 kg/L, 0.087 kg/L too little for at least 0.2 kg/L.",
    ]


def test_a_mix_whose_parts_hold_more_water_than_its_pores_lies_within_what_is_possible():
    clay = ingredient(known_facts().media["clay-powder"])
    muddy = [(*pool("washed-sand"), 4.0), (clay, 3.0)]
    figures = mix_figures(muddy, Bed.level(20))
    assert figures.excess > 0
    assert figures.water_lo < figures.water < figures.water_hi == figures.pores
    assert 0 == figures.air_lo < figures.air < figures.air_hi
    assert "its air is not known" in judge_mix(muddy, Bounds(), Bed.level(20)).failures[0].sentence


DRY_MIXES = {"woodland": (70, 100), "scrub": (75, 100), "dune": (100, 130), "burrow": (120, 160)}


@pytest.mark.parametrize(("code", "depths"), DRY_MIXES.items())
def test_a_mix_of_poured_soil_keeps_air_as_its_solids_are_those_of_its_mass(code, depths):
    """Solids by EN 13041: dry density over 2.65 kg/L for mineral soil; its field curve lies denser."""
    media, mix = known_facts().media, known_facts().mixes[code]
    figures = recipe_figures(mix, media, Bed(front_mm=depths[0], back_mm=depths[1]))
    solid = sum(parts * (1 - part.pores) for part, parts in recipe(mix, media)) / figures.volume_l
    assert figures.pores == pytest.approx(1 - solid)
    assert figures.excess == 0
    assert 0.02 < figures.air < figures.air_hi


def test_soil_as_poured_has_the_pores_that_its_dry_density_leaves():
    for code in ("topsoil", "clay-powder", "clay-loam"):
        poured = ingredient(known_facts().media[code])
        assert poured.pores == pytest.approx(1 - poured.density_kg_l / 2.65, abs=0.001)
        assert poured.pores > poured.theta_s


def test_water_of_equal_grains_has_no_range_as_nothing_vanishes():
    one, two = (replace(part, grain_mm=3.0) for part in pool("perlite", "pumice"))
    figures = mix_figures([(one, 1), (two, 1)], BED)
    assert figures.water_lo == pytest.approx(figures.water_hi)


def test_no_cheaper_mix_is_told_that_holds_more_water_than_it_has_pores():
    shallow, parts = Bed.level(20), pool("peat", "perlite", "washed-sand")
    design = design_mix(parts, Bounds(density_hi=0.9), shallow)
    assert [bound.words for bound in design.binding] == ["pores for all the water of the parts"]
    assert nearest_cheaper(parts, Bounds(density_hi=0.9), shallow) == ()


def test_the_nearest_cheaper_mix_says_what_it_saves_and_fails():
    bounds = Bounds(water_lo=0.6, air_lo=0.15, density_hi=0.6)
    parts = pool("peat", "perlite", "washed-sand")
    cheaper = nearest_cheaper(parts, bounds, BED)
    design = design_mix(parts, bounds, BED)
    assert cheaper
    for mix in cheaper:
        assert mix.saving_cents == pytest.approx(design.cents - mix.design.cents)
        assert mix.saving_cents > 0
        assert [failure.bound for failure in mix.failures] == [mix.without]


def test_every_house_mix_resolves_to_water_and_air_at_a_depth():
    facts = known_facts()
    assert len(facts.mixes) == 8
    for mix in facts.mixes.values():
        figures = recipe_figures(mix, facts.media, Bed(front_mm=60, back_mm=110))
        assert figures.water + figures.air == pytest.approx(figures.pores)
        assert 0 <= figures.air < figures.pores < 1
        assert 0 <= figures.shrinkage < 0.3


def test_a_recipe_with_an_unknown_ingredient_has_no_figures():
    facts = known_facts()
    media = {code: medium for code, medium in facts.media.items() if code != "charcoal"}
    assert recipe_figures(facts.mixes["bank"], media, BED) is None


def test_figures_of_a_mix_are_its_parts_added_up_over_the_blended_volume():
    """Two equal grains do not shrink, so a half-and-half mix is the mean (worked)."""
    one, two = (replace(part, grain_mm=3.0) for part in pool("perlite", "pumice"))
    figures = mix_figures([(one, 1), (two, 1)], BED)
    assert figures.water == pytest.approx((capacity(one) + capacity(two)) / 2, abs=1e-7)
    assert figures.density_kg_l == pytest.approx((0.105 + 0.431) / 2)
    assert figures.shrinkage == pytest.approx(0)


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: design_mix([], Bounds(), BED), "ingredients"),
        (lambda: design_mix(pool("peat", "peat"), Bounds(), BED), "ingredients"),
        (lambda: design_mix(pool(*PRICES, *PRICES), Bounds(), BED), "ingredients"),
        (lambda: mix_figures([], BED), "parts"),
        (lambda: Bounds(water_lo=1.2), "water_lo"),
        (lambda: Bounds(density_hi=0), "density_hi"),
        (lambda: Bed.level(0), "back_mm"),
        (lambda: Bed.level(100, calibration=2), "calibration"),
        (lambda: pool("peat", density_kg_l=math.nan), "density_kg_l"),
        (lambda: pool("peat", nitrogen_pct=0), "nitrogen_pct"),
    ],
)
def test_what_cannot_be_is_refused_by_name(call, argument):
    with pytest.raises(Impossible) as refused:
        call()
    assert refused.value.argument == argument


def test_an_ingredient_wants_its_curve_grain_and_density():
    assert ingredient(known_facts().media["sand-2001"]) is None
    assert isinstance(ingredient(known_facts().media["peat"]), Ingredient)
