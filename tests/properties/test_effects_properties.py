"""What holds of any build: nearer is brighter and hotter, colder takes more heat, substitutes do the job."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.effects import airing, moisture, soil, warmth
from kits.effects.places import basking_spot
from kits.effects.sunlight import reached, reading, reflector_share, wanted
from kits.planning.registry import ROLES
from tests.lit_shelf import LIT, build_of, plan_of, read, spot

BOXES = (
    "45x45x60-glass",
    "60x45x45-glass",
    "90x45x45-glass",
    "120x60x60-pvc",
    "120x60x60-glass",
    "60x60x120-mesh",
)
ANIMALS = (
    "correlophus-ciliatus", "eublepharis-macularius", "pogona-vitticeps", "heterodon-nasicus",
    "phelsuma-laticauda", "uromastyx-geyri", "python-regius", "dendrobates-auratus",
)  # fmt: skip
BY_EFFECT = (
    "uvb_lamp", "uvb_fixture", "plant_light", "basking_lamp",
    "night_heat", "mister", "mesh_cover", "substrate",
)  # fmt: skip
ESTIMATES = frozenset(
    ("uvi_at_basking", "uvi_maximum_reachable", "uvi_closest_safe_m", "keeper_limit_min",
     "dli_floor", "dli_middle", "dli_top", "heat_loss_w_k", "heat_needed_w", "basking_surface_c",
     "reservoir_l", "container_capacity_pct", "air_space_pct", "first_watering_l", "misting_l_day")
)  # fmt: skip
ROOMS = st.fixed_dictionaries(
    {
        "temperature_c": st.floats(12, 32),
        "night_temperature_c": st.floats(5, 28),
        "relative_humidity_pct": st.floats(5, 95),
    }
)
MESHED = st.fixed_dictionaries(
    {
        "interior_mm": st.fixed_dictionaries(
            {
                "width": st.integers(200, 2500),
                "depth": st.integers(200, 1500),
                "height": st.integers(300, 1500),
            }
        ),
        "top": st.fixed_dictionaries({"kind": st.just("mesh"), "open_fraction": st.floats(0.3, 0.9)}),
    }
)


@st.composite
def kept(draw):
    return {
        "enclosure": {"size": draw(st.sampled_from(BOXES))},
        "animals": [{"species": draw(st.sampled_from(ANIMALS))}],
        "room": draw(ROOMS),
        "planting": draw(st.sampled_from(["none", "moderate"])),
    }


@st.composite
def humid(draw):
    species = draw(st.sampled_from(["", "phelsuma-laticauda", "dendrobates-auratus"]))
    animals = {"animals": [{"species": species}]} if species else {}
    return {"enclosure": draw(MESHED), "style": "humid-forest", "room": draw(ROOMS), **animals}


def two(values):
    return st.tuples(values, values).filter(lambda pair: abs(pair[0] - pair[1]) > 0.01).map(sorted)


def perched(data, height_mm):
    return {**data, "perches_mm": [{"height": height_mm, "back": 100}]}


@settings(max_examples=100, deadline=None)
@given(kept(), two(st.integers(160, 430)), st.floats(0.1, 20))
def test_a_higher_perch_is_nearer_to_sunlight(data, heights, index):
    low, high = (basking_spot(build_of(perched(data, height))) for height in heights)
    below, above = (reached(at, reading(read(index))) for at in (low, high))
    assert above.back >= below.back
    assert above.highest >= below.highest
    assert above.highest >= above.back


@settings(max_examples=100, deadline=None)
@given(
    two(st.integers(160, 430)), st.integers(10, 200), st.sampled_from(["pogona-vitticeps", "uromastyx-geyri"])
)
def test_a_higher_perch_is_hotter(heights, watts, species):
    data = {"enclosure": {"size": "120x60x60-pvc"}, "animals": [{"species": species}]}
    places = [warmth.basking_place(build_of(perched(data, height))) for height in heights]
    below, above = (warmth.beam(place, spot(watts)) for place in places)
    assert above.surface_c >= below.surface_c
    shares = [warmth.dimmed_share(p, b, p.middle_c) for p, b in zip(places, (below, above), strict=True)]
    assert shares[1] <= shares[0]


@settings(max_examples=100, deadline=None)
@given(kept(), two(st.floats(-5, 25)))
def test_a_colder_night_takes_at_least_as_many_watts(data, nights):
    cold, mild = (
        ROLES["night_heat"].needs(build_of({**data, "room": {**data["room"], "night_temperature_c": night}}))
        for night in nights
    )
    asked = [need.wanted["watts"] for needs in (mild, cold) for need in needs]
    assert len(cold) >= len(mild)
    assert asked == sorted(asked)


@settings(max_examples=200, deadline=None)
@given(humid(), st.floats(30, 97), st.floats(0.1, 3))
def test_a_drier_room_takes_at_least_as_much_water(data, damp_pct, drier_by):
    """Small steps, so that some fall where a cover is laid: it may not save more than dryness takes."""
    dry, damp = (
        moisture.evaporated_l_day(build_of({**data, "room": {**data["room"], "relative_humidity_pct": pct}}))
        for pct in (damp_pct - drier_by, damp_pct)
    )
    assert dry >= damp - 1e-9


@settings(max_examples=150, deadline=None)
@given(humid(), two(st.floats(0, 1)), st.floats(0.5, 15))
def test_more_covered_mesh_exchanges_less_air(data, shares, warmer_k):
    build = build_of(data)
    covered, bare = (airing.changes_at(build, share, 20 + warmer_k, 20) for share in shares)
    assert covered <= bare + 1e-9


@settings(max_examples=100, deadline=None)
@given(humid())
def test_a_cover_keeps_to_the_air_changes_aimed_at_or_leaves_its_quarter(data):
    build = build_of(data)
    if not airing.wants_cover(build):
        return
    share, room_c = airing.open_share(build), data["room"]["temperature_c"]
    changes = airing.air_changes_h(build, airing.warm_air_c(build), room_c)
    assert share == pytest.approx(0.25) or changes <= airing.GOAL_PER_H + 0.01
    bare = airing.changes_at(build, 1.0, airing.warm_air_c(build), room_c)
    assert changes < bare


@settings(max_examples=100, deadline=None)
@given(
    two(st.integers(20, 400)),
    st.sampled_from([{"mix": mix} for mix in ("understorey", "scrub", "burrow", "woodland", "bank")] + [{}]),
)
def test_deeper_soil_holds_less_water_and_more_air_in_a_litre(depths, figures):
    box = {"interior_mm": {"width": 600, "depth": 450, "height": 900}}
    shallow, deep = (
        soil.soil(build_of({"enclosure": box, "style": "humid-forest", "depths_mm": _level(depth)}), figures)
        for depth in depths
    )
    assert deep.water <= shallow.water + 1e-9
    assert deep.air >= shallow.air - 1e-9
    assert 0 <= deep.water + deep.air <= 1


def _level(depth_mm):
    return {"substrate_front": depth_mm, "substrate_back": depth_mm, "drainage": 30}


@settings(max_examples=120, deadline=None)
@given(kept())
def test_every_figure_is_finite_and_not_negative_and_carries_unit_source_and_mark(data):
    plan = plan_of(data)
    workings = {working.figure: working for working in plan.workings}
    for figure, value in plan.figures.items():
        working = workings[figure]
        assert working.unit
        assert working.source
        if isinstance(value, float):
            assert math.isfinite(value)
            assert value >= 0
        if figure in ESTIMATES:
            assert "estimate" in working.note


@settings(max_examples=120, deadline=None)
@given(kept())
def test_no_figure_is_valid_where_one_of_its_steps_left_the_range_of_its_source(data):
    for working in plan_of(data).workings:
        if "lies outside" in working.note:
            assert not working.valid


STOCKS = st.dictionaries(
    st.sampled_from(
        sorted(offer.ware.item for role in BY_EFFECT for group in LIT.groups(role) for offer in group.offers)
    ),
    st.just(0),
    max_size=12,
)


@settings(max_examples=150, deadline=None)
@given(kept(), STOCKS)
def test_every_substitute_does_the_job_by_the_same_calculation(data, stock):
    plan = plan_of(data, stock=stock)
    build = _planted(build_of(data), plan)
    for line in plan.lines:
        if line.role in BY_EFFECT:
            for other in line.substitutes:
                _does_the_job(build, line.role, other, stock, _figures(plan, "uvb_fixture"))


def test_there_are_substitutes_that_could_fail():
    dragon = {"enclosure": {"size": BOXES[3]}, "animals": [{"species": "pogona-vitticeps"}]}
    plan = plan_of(dragon, stock={"WARM-25": 0, "NOON-549": 0})
    assert {"uvb_fixture", "basking_lamp"} <= {line.role for line in plan.lines if line.substitutes}


def _planted(build, plan):
    species = {
        str(LIT.offer("plant", line.item).figures["species"]) for line in plan.lines if line.role == "plant"
    }
    gone = frozenset(one.role for one in plan.unmet)  # a cover that cannot be had holds no air
    planted = tuple(build.plants[code] for code in build.plants if code in species)
    return replace(build, planted=planted, unmet=gone)


def _figures(plan, role):
    line = next((line for line in plan.lines if line.role == role), None)
    return None if line is None else LIT.offer(role, line.item).figures


def _does_the_job(build, role, other, stock, fixture):
    (need,) = ROLES[role].needs(build)
    for item, _ in other.items:
        assert stock.get(item, 1) > 0
        offer = LIT.offer(role, item)
        if offer is None:  # another role that changes with it
            continue
        found = ROLES[role].fit(need, offer.figures)
        assert found.passes
        if len(other.items) == 1:
            if role == "uvb_lamp" and fixture:  # a lamp is told in the fixture that it shines in
                found = ROLES[role].fit_beside(need, offer.figures, fixture)
            assert dict(other.figures) == dict(found.figures)


@settings(max_examples=120, deadline=None)
@given(kept(), STOCKS)
def test_a_substitute_lamp_or_fixture_goes_with_the_partner_that_stays(data, stock):
    plan, build = plan_of(data, stock=stock), build_of(data)
    lines = {line.role: line for line in plan.lines}
    if not {"uvb_lamp", "uvb_fixture"} <= set(lines):
        return
    for role in ("uvb_lamp", "uvb_fixture"):
        for other in lines[role].substitutes:
            changed = {name: LIT.offer(name, lines[name].item) for name in ("uvb_lamp", "uvb_fixture")}
            for item, _ in other.items:
                changed.update({name: offer for name in changed if (offer := LIT.offer(name, item))})
            _within_the_bands(build, changed["uvb_lamp"].figures, changed["uvb_fixture"].figures)


def _within_the_bands(build, lamp, fixture):
    read_ = reading(lamp)
    assert lamp["cap"] == fixture["cap"]
    if read_ is None:
        return
    found = reached(basking_spot(build), read_, reflector=reflector_share(fixture))
    asked = wanted(build)
    assert asked.least - 1e-9 <= found.back
    assert found.highest <= asked.most + 1e-9
