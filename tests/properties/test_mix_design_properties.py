"""No feasible mix is cheaper than the design, and bounds that clash cannot be met by any mix tried."""

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from kits.physics.mix_bounds import Bounds
from kits.physics.mix_design import LEAST_PART, design_mix, judge_mix
from kits.physics.mixes import Bed, Ingredient, mix_figures


@st.composite
def ingredients(draw, code):
    theta_r = draw(st.floats(0, 0.4))
    return Ingredient(
        code=code,
        name=f"part {code}",
        theta_r=theta_r,
        theta_s=draw(st.floats(theta_r + 0.1, 0.97)),
        alpha_per_cm=draw(st.floats(0.01, 1)),
        n=draw(st.floats(1.2, 4)),
        grain_mm=draw(st.floats(0.1, 20)),
        void_fraction=draw(st.floats(0.35, 0.55)),
        density_kg_l=draw(st.floats(0.05, 1.6)),
        cents_per_l=draw(st.floats(1, 200)),
        carbon_pct=draw(st.sampled_from([0.0, 20.0, 48.0])),
        nitrogen_pct=draw(st.floats(0.05, 3)),
        most_share=draw(st.sampled_from([1.0, 0.6])),
        free_l=draw(st.sampled_from([math.inf, 0.5])),
    )


POOLS = st.integers(2, 5).flatmap(lambda count: st.tuples(*(ingredients(str(i)) for i in range(count))))
BOUNDS = st.builds(
    Bounds,
    water_lo=st.floats(0.2, 0.6),
    air_lo=st.floats(0.02, 0.3),
    density_hi=st.floats(0.3, 1.5),
    carbon_nitrogen_hi=st.sampled_from([None, 30.0, 60.0]),
)
DEPTHS = st.sampled_from([50.0, 100.0, 200.0])
WEIGHTS = st.lists(st.sampled_from([0, 0, 1, 2, 3, 5, 8]), min_size=5, max_size=5)
MIXES = st.lists(WEIGHTS, min_size=30, max_size=30)


def per_litre(pool, weights, bed):
    """Poured litres that make one finished litre; None where nothing is poured or too little of a part."""
    poured = [(part, float(weight)) for part, weight in zip(pool, weights, strict=False) if weight]
    if not poured:
        return None
    volume_l = mix_figures(poured, bed).volume_l
    scaled = [(part, litres / volume_l) for part, litres in poured]
    return None if any(litres < LEAST_PART for _, litres in scaled) else scaled


@settings(max_examples=60, deadline=None)
@given(POOLS, BOUNDS, DEPTHS, MIXES)
def test_no_random_mix_that_keeps_the_bounds_beats_the_design(pool, bounds, depth_mm, mixes):
    bed = Bed.level(depth_mm)
    design = design_mix(pool, bounds, bed)
    for weights in mixes:
        tried = per_litre(pool, weights, bed)
        if tried and _keeps_all(tried, pool, bounds, bed):
            assert design.feasible
            assert sum(litres * part.cents_per_l for part, litres in tried) >= design.cents - 1e-6


@settings(max_examples=60, deadline=None)
@given(POOLS, BOUNDS, DEPTHS)
def test_a_design_keeps_its_own_bounds_and_makes_its_litres(pool, bounds, depth_mm):
    bed = Bed.level(depth_mm, litres=7)
    design = design_mix(pool, bounds, bed)
    if design.feasible:
        parts = [(part.ingredient, part.litres) for part in design.parts]
        assert judge_mix(parts, bounds, bed).passes
        assert math.isclose(design.figures.volume_l, 7, rel_tol=1e-6)
        assert all(litres >= 7 * LEAST_PART * (1 - 1e-6) for _, litres in parts)
    else:
        assert design.clashing


@settings(max_examples=40, deadline=None)
@given(POOLS, BOUNDS, DEPTHS, st.floats(0.01, 0.1))
def test_a_tighter_bound_never_makes_a_mix_cheaper(pool, bounds, depth_mm, step):
    bed = Bed.level(depth_mm)
    looser = Bounds(water_lo=bounds.water_lo, air_lo=bounds.air_lo, density_hi=bounds.density_hi + step)
    tighter = Bounds(water_lo=bounds.water_lo, air_lo=bounds.air_lo, density_hi=bounds.density_hi)
    easy, hard = design_mix(pool, looser, bed), design_mix(pool, tighter, bed)
    if hard.feasible:
        assert easy.feasible
        assert easy.cents <= hard.cents + 1e-6


@given(POOLS, st.floats(20, 300), st.floats(1.05, 3))
def test_a_deeper_bed_of_the_same_mix_is_drier(pool, depth_mm, factor):
    parts = [(part, 1.0) for part in pool]
    shallow, deep = mix_figures(parts, Bed.level(depth_mm)), mix_figures(parts, Bed.level(depth_mm * factor))
    assert deep.water <= shallow.water + 1e-9
    assert deep.air >= shallow.air - 1e-9


def _keeps_all(tried, pool, bounds, bed):
    """Bounds and the limits of every ingredient of the pool, with those left out at no litres."""
    poured = {part.code: litres for part, litres in tried}
    return judge_mix([(part, poured.get(part.code, 0.0)) for part in pool], bounds, bed).passes
