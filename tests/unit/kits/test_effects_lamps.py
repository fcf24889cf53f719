"""Lamps chosen by what reaches the animal: readings and classes, pairs with fixtures, remedies, refusals."""

import math
import re
from dataclasses import replace

import pytest

from kits.effects.places import basking_spot
from kits.effects.sunlight import index_at, reached, reading, wanted
from kits.planning.registry import ROLES
from kits.terms.needs import Tie
from kits.terms.rounding import uv_index
from tests.full_shelf import CRESTED, DESERT
from tests.lit_shelf import (
    THINGS,
    build_of,
    fit,
    line_of,
    plan_of,
    rafter,
    read,
    shelf_of,
    spot,
    told,
    tube,
    unmet,
    working,
)

LISTED = tube(zones=[1])
DRAGON = {
    "enclosure": {"size": "120x60x60-pvc"},
    "animals": [{"species": "pogona-vitticeps"}],
    "room": {"temperature_c": 22, "night_temperature_c": 16, "relative_humidity_pct": 40},
    "perches_mm": [{"height": 250, "back": 290}],
}
NO_SPOTS = tuple(thing for thing in THINGS if thing[1] != "basking_lamp")
REST = tuple(thing for thing in THINGS if thing[1] not in ("uvb_lamp", "uvb_fixture"))


def perched(data, height_mm):
    return {**data, "perches_mm": [{"height": height_mm, "back": 200}]}


def shelf_with(*things):
    return shelf_of((*REST, *things))


def lamp(item, figures, cents=2000):
    return (item, "uvb_lamp", cents, figures)


def fixture(item, figures, cents=3000):
    return (item, "uvb_fixture", cents, figures)


def test_a_lamp_with_a_reading_shows_what_reaches_the_animal():
    figures = fit("uvb_lamp", read(0.4), CRESTED).figures
    assert (figures["uvi_at_basking"], figures["uvi_maximum_reachable"]) == (0.57, 0.98)
    assert (figures["uvi_estimated"], figures["uvi_uncertainty_pct"]) == (False, 10)


@pytest.mark.parametrize(("percent", "middle"), [(2, 0.85), (5, 0.85), (6, 2.25), (12, 4.0)])
def test_a_tube_without_a_reading_is_a_marked_estimate_of_its_class(percent, middle):
    of_class = reading(tube(uvb_pct=percent))
    assert (of_class.index, of_class.estimated, of_class.unsure) == (pytest.approx(middle), True, 0.5)
    found = fit("uvb_lamp", tube(uvb_pct=percent), DRAGON)
    assert (found.figures["uvi_estimated"], found.figures["uvi_uncertainty_pct"]) == (True, 50)
    assert "(estimate by its class, 50% either way: measure it; worn by 10 months" in found.because[-1]


def test_an_unknown_class_is_no_estimate_but_a_listing():
    assert reading(tube(uvb_pct=7)) is None
    assert reading({"technology": "compact", "uvb_pct": 12}) is None


def test_a_lamp_with_nothing_but_a_listing_comes_last_and_has_no_figures():
    listed, measured = fit("uvb_lamp", LISTED, CRESTED), fit("uvb_lamp", read(0.4), CRESTED)
    short = fit("uvb_lamp", {**read(0.4), "length_mm": 60}, CRESTED)
    assert listed.rank > max(measured.rank, short.rank)
    assert (dict(listed.figures), listed.asks) == ({}, ())
    assert "no reading is recorded, so measure it (estimate)" in listed.because[0]


def test_a_listed_lamp_is_taken_only_where_no_lamp_with_a_reading_passes():
    dear, cheap = lamp("READ", read(0.4), 9000), lamp("LISTED", LISTED, 100)
    beam = fixture("BEAM", rafter(reflector_share=1.0))
    assert line_of(plan_of(CRESTED, shelf=shelf_with(dear, cheap, beam)), "uvb_lamp").item == "READ"
    strong = lamp("READ", read(30), 9000)
    plan = plan_of(CRESTED, shelf=shelf_with(strong, cheap, beam))
    assert line_of(plan, "uvb_lamp").item == "LISTED"
    assert "uvi_at_basking" not in plan.figures  # a listing is no figure


def test_a_lamp_listed_for_another_zone_is_refused_with_both():
    assert fit("uvb_lamp", tube(zones=[4]), CRESTED).refusal == (
        "It is listed for UV zone 4, the build wants 1."
    )


@pytest.mark.parametrize(
    ("index", "words"), [(0.01, "It reaches 0.014 at the back"), (30, "at the highest reach")]
)
def test_a_lamp_too_weak_or_too_strong_is_refused_with_its_figures_and_the_bands(index, words):
    refusal = fit("uvb_lamp", read(index), CRESTED).refusal
    assert words in refusal
    assert "wanted 0-0.7 average, at most 1.4" in refusal


def test_a_weak_lamp_never_gets_the_slim_fixture():
    # Zone 3 wants at least 1.0 at the back; 1.0 at 30 cm is 1.5 there, 1.25 worn: half of that is too little.
    things = lamp("WEAK", read(1.0)), fixture("SLIM", rafter(reflector_share=0.5), 100)
    both = plan_of(DRAGON, shelf=shelf_with(*things, fixture("BEAM", rafter(reflector_share=1.0), 9900)))
    assert line_of(both, "uvb_fixture").item == "BEAM"
    assert both.figures["uvi_at_basking"] >= 1.0
    alone = plan_of(DRAGON, shelf=shelf_with(*things))
    assert not alone.complete
    assert "a reflector that throws back at least 80%" in unmet(alone, "uvb_lamp") + unmet(
        alone, "uvb_fixture"
    )


def test_a_strong_lamp_passes_only_with_the_slim_fixture():
    things = lamp("STRONG", read(6.0)), fixture("BEAM", rafter(reflector_share=1.0), 100)
    both = plan_of(DRAGON, shelf=shelf_with(*things, fixture("SLIM", rafter(reflector_share=0.5), 9900)))
    assert line_of(both, "uvb_fixture").item == "SLIM"
    assert both.figures["uvi_maximum_reachable"] <= 9.5
    alone = plan_of(DRAGON, shelf=shelf_with(*things))
    assert not alone.complete
    assert "a reflector that throws back at most 70%" in unmet(alone, "uvb_lamp") + unmet(
        alone, "uvb_fixture"
    )


def test_a_lamp_that_would_burn_once_its_control_fails_stands_in_for_none_that_would_not():
    shelf = shelf_of(
        (*NO_SPOTS, ("MILD", "basking_lamp", 800, spot(25)), ("HOT", "basking_lamp", 700, spot(75)))
    )
    plan = plan_of(perched(DRAGON, 250), shelf=shelf)
    assert line_of(plan, "basking_lamp").item == "MILD"
    assert line_of(plan, "basking_lamp").substitutes == ()
    hot = plan_of({**perched(DRAGON, 250), "choose": {"basking_lamp": ["HOT"]}}, shelf=shelf)
    assert [caution.about for caution in hot.cautions if caution.level == "stop"] == ["basking_lamp"]


@pytest.mark.parametrize("how", [{"without": ["uvb_fixture"]}, {"own": ["uvb_fixture"]}])
def test_a_lamp_for_a_fixture_that_is_not_chosen_has_to_do_in_one_like_that_of_its_reading(how):
    # 1.0 at 30 cm is 2.4 at the highest reach, and 1.4 are the most in zone 1.
    both = shelf_with(lamp("STRONG", read(1.0), 100), lamp("DAWN", read(0.4), 900))
    assert line_of(plan_of({**CRESTED, **how}, shelf=both), "uvb_lamp").item == "DAWN"
    strong = plan_of({**CRESTED, **how}, shelf=shelf_with(lamp("STRONG", read(1.0))))
    assert "2.4 at the highest reach new" in unmet(strong, "uvb_lamp")
    assert "in a fixture like that of its reading" in unmet(strong, "uvb_lamp")
    assert "uvi_maximum_reachable" not in strong.figures


def test_a_lamp_that_wants_another_fixture_is_no_substitute_beside_this_one():
    # At 3.0 an animal reaches 1.7 unless the fixture throws back less; 2.35 and 2.3 do in either fixture.
    lamps = lamp("FIRST", read(2.35)), lamp("LIKE", read(2.3), 2400), lamp("STRONG", read(3.0), 2200)
    beam, slim = (
        fixture("BEAM", rafter(reflector_share=1.0), 100),
        fixture("SLIM", rafter(reflector_share=0.5), 900),
    )
    plan = plan_of(perched(CRESTED, 200), shelf=shelf_with(*lamps, beam, slim))
    assert (line_of(plan, "uvb_lamp").item, line_of(plan, "uvb_fixture").item) == ("FIRST", "BEAM")
    assert [dict(one.items) for one in line_of(plan, "uvb_lamp").substitutes] == [{"LIKE": 1}]


def test_what_a_lamp_asks_of_its_fixture_is_told():
    strong = fit("uvb_lamp", read(6.0), DRAGON)
    assert [tie.kind for tie in strong.asks] == ["reflector", "weak_reflector"]
    assert strong.because[0] == (
        "Its fixture is to throw down at least 20% and at most 70% of what the fixture of its reading does."
    )


def test_a_lamp_asks_for_as_much_of_its_reflector_as_it_needs_in_tenths():
    assert fit("uvb_lamp", read(0.9), perched(CRESTED, 200)).asks == (Tie("reflector", "", 0.4),)
    assert ROLES["uvb_fixture"].coupling(rafter()).offers[1] == Tie("reflector", "", 1.0)


def test_an_unmet_lamp_says_by_how_much_it_fails():
    shelf = shelf_with(lamp("STRONG", read(20)), fixture("BEAM", rafter(reflector_share=1.0)))
    reason = unmet(plan_of(CRESTED, shelf=shelf), "uvb_lamp")
    assert "It reaches 28 at the back, 49 at the highest reach" in reason
    assert "wanted 0-0.7 average, at most 1.4" in reason


def test_a_fixture_that_throws_down_too_much_says_what_the_lamp_then_does():
    shelf = shelf_with(lamp("STRONG", read(0.9)), fixture("BEAM", rafter(reflector_share=1.0)))
    reason = unmet(plan_of(CRESTED, shelf=shelf), "uvb_fixture")
    assert "a reflector that throws back at most 60%" in reason
    assert "It reaches 1.3 at the back, 2.2 at the highest reach" in reason


def test_an_impossible_combination_is_never_relaxed_in_silence():
    only = shelf_with(lamp("STRONG", read(30)), fixture("BEAM", rafter(reflector_share=1.0)))
    for fill in ("preferred", "free"):
        plan = plan_of({**CRESTED, "fill": fill}, shelf=only)
        assert line_of(plan, "uvb_lamp") is None
        assert unmet(plan, "uvb_lamp")
        assert not plan.complete


def test_a_lamp_chosen_by_name_in_spite_of_its_figures_is_cautioned_with_them():
    plan = plan_of({**CRESTED, "choose": {"uvb_lamp": ["NOON-549"], "uvb_fixture": ["BEAM-549"]}})
    assert line_of(plan, "uvb_lamp").item == "NOON-549"
    assert "was chosen by name: It reaches 4.3 at the back, 7.3 at the highest reach" in told(
        plan, "uvb_lamp"
    )
    assert "give a UV index of 4.3 at the back, 7.3 at the highest reach" in told(plan, "uvb_lamp")


def test_a_basking_lamp_chosen_by_name_that_is_too_weak_is_cautioned_with_its_figure():
    weak = shelf_of((*THINGS, ("GLIM-5", "basking_lamp", 300, spot(5))))
    plan = plan_of({**DESERT, "choose": {"basking_lamp": ["GLIM-5"]}}, shelf=weak)
    assert re.search(
        r"was chosen by name: At full power it makes the surface \d+ C; wanted 47-55 C",
        told(plan, "basking_lamp"),
    )


def test_free_lamps_that_fail_are_not_taken_for_the_one_that_is_sold_out():
    plan = plan_of({**CRESTED, "fill": "free"}, stock={"DAWN-549": 0, "LISTED-549": 0})
    line = line_of(plan, "uvb_lamp")
    assert (line.item, line.status) == ("LISTED-549", "none") or (line.item, line.status) == (
        "DAWN-549",
        "none",
    )
    assert line.substitutes == ()


def test_the_pair_that_the_customer_has_is_cautioned_with_what_it_gives_together():
    own = [
        {"role": "uvb_lamp", "figures": read(1.0)},
        {"role": "uvb_fixture", "figures": rafter(reflector_share=0.5)},
    ]
    plan = plan_of({**DRAGON, "own": own})
    assert "wanted are at least 1 and at most 9.5" in told(plan, "uvb_lamp")
    assert f"{plan.figures['uvi_at_basking']:.2g} at the back" in told(plan, "uvb_lamp")


def test_a_lamp_near_the_perch_is_refused_and_dangerous_heights_are_cautioned():
    near = perched(CRESTED, 560)
    assert not fit("uvb_lamp", read(0.9), near).passes
    assert "the UV index passes 1.4" in told(plan_of(CRESTED), "uvb_lamp")


def test_a_lamp_burns_who_climbs_to_it_and_is_a_stop_when_named():
    near = {**DESERT, "perches_mm": [{"height": 410, "back": 300}]}
    refused = fit("basking_lamp", spot(30, beam_deg=120), near)
    assert "more than full sun (1000): a burn risk" in refused.refusal
    stops = ROLES["basking_lamp"].cautions(build_of(near), spot(30, beam_deg=120))
    assert "stop" in {caution.level for caution in stops}


LONG = fixture("LONG", rafter(length_mm=900, reflector_share=1.0))


def test_where_no_fixture_fits_the_lamp_is_not_listed_either_and_both_say_why():
    plan = plan_of(CRESTED, shelf=shelf_with(lamp("READ", read(0.4)), LONG))
    assert (line_of(plan, "uvb_lamp"), line_of(plan, "uvb_fixture")) == (None, None)
    assert "900 mm are more than 443 mm" in unmet(plan, "uvb_fixture")
    assert unmet(plan, "uvb_lamp").startswith(
        "Invented read would do the job, but no uvb fixture for it can be had."
    )
    assert not {"uvi_at_basking", "uvi_maximum_reachable"} & set(plan.figures)


def test_nothing_is_sold_for_a_lamp_that_is_not_to_be_had():
    plan = plan_of(CRESTED, shelf=shelf_with(lamp("STRONG", read(30)), fixture("BEAM", rafter())))
    assert [one.role for one in plan.unmet] == ["uvb_lamp"]
    assert line_of(plan, "uvb_fixture") is None
    dark = shelf_of([thing for thing in THINGS if thing[1] != "basking_lamp"])
    dry = plan_of(DRAGON, shelf=dark)
    assert "basking_lamp" in [one.role for one in dry.unmet]
    assert not {line.role for line in dry.lines} & {"lamp_holder", "dimmer"}
    assert all("basking lamp" not in " ".join(line.because) for line in dry.lines)


def test_a_fixture_of_another_socket_is_not_sold_with_a_lamp():
    other = fixture("OTHER", {**rafter(reflector_share=1.0), "cap": "G13"})
    plan = plan_of(CRESTED, shelf=shelf_with(lamp("READ", read(0.4)), other))
    assert (line_of(plan, "uvb_lamp"), line_of(plan, "uvb_fixture")) == (None, None)
    assert [one.role for one in plan.unmet] == ["uvb_lamp", "uvb_fixture"]


def test_the_customers_own_fixture_is_a_partner_and_a_lamp_named_in_the_spec_stays():
    shelf = shelf_with(lamp("READ", read(0.4)), LONG)
    own = plan_of({**CRESTED, "own": ["uvb_fixture"]}, shelf=shelf)
    assert line_of(own, "uvb_lamp").item == "READ"
    assert "uvi_at_basking" in own.figures
    named = plan_of({**CRESTED, "choose": {"uvb_lamp": ["READ"]}}, shelf=shelf)
    assert line_of(named, "uvb_lamp").item == "READ"
    assert [one.role for one in named.unmet] == ["uvb_fixture"]
    assert "uvi_at_basking" not in named.figures


@pytest.mark.parametrize(
    ("share", "told"), [(0.5, "fixture, 50% of that of its reading;"), (1.0, "fixture;")]
)
def test_the_line_of_a_lamp_tells_what_it_gives_in_the_fixture_that_was_chosen(share, told):
    shelf = shelf_with(lamp("READ", read(0.9)), fixture("ONLY", rafter(reflector_share=share)))
    plan = plan_of(perched(CRESTED, 300), shelf=shelf)
    line = line_of(plan, "uvb_lamp")
    for figure in ("uvi_at_basking", "uvi_maximum_reachable"):
        assert line.figures[figure] == pytest.approx(plan.figures[figure], abs=0.006)
    assert f"It reaches {uv_index(plan.figures['uvi_at_basking'])} at the back" in line.because[-1]
    assert f"in this kit's {told}" in line.because[-1]


def test_a_lamp_that_could_stand_in_is_told_in_the_fixture_of_the_kit():
    shelf = shelf_with(
        lamp("READ", read(0.8), 100), lamp("OTHER", read(0.6), 900),
        fixture("SLIM", rafter(reflector_share=0.5)),
    )  # fmt: skip
    plan = plan_of(CRESTED, shelf=shelf)
    now = plan.figures["uvi_at_basking"]
    [other] = line_of(plan, "uvb_lamp").substitutes
    assert other.figures["uvi_at_basking"] == pytest.approx(now * 0.6 / 0.8, abs=0.01)
    assert "in this kit's fixture, 50% of that of its reading" in other.because[-1]


def test_a_pair_that_stands_in_together_shows_the_figures_that_the_plan_with_it_has():
    shelf = shelf_with(
        lamp("READ", read(0.8), 100), fixture("SLIM", rafter(reflector_share=0.5)),
        lamp("SHORT", read(0.45, length=517, watts=13), 900), fixture("RACK", rafter(517, 13), 9000),
    )  # fmt: skip
    line = line_of(plan_of(CRESTED, shelf=shelf, stock={"SHORT": 0}), "uvb_lamp")
    [pair] = line.substitutes
    assert dict(pair.items) == {"READ": 1, "SLIM": 1}
    chosen = {**CRESTED, "choose": {"uvb_lamp": ["READ"], "uvb_fixture": ["SLIM"]}}
    plan = plan_of(chosen, shelf=shelf)
    for figure in ("uvi_at_basking", "uvi_maximum_reachable"):
        assert pair.figures[figure] == pytest.approx(plan.figures[figure], abs=0.006)
    assert pair.figures["reflector_pct"] == 50


def test_the_customers_own_fixture_is_the_one_that_a_lamp_is_told_in():
    own = [{"role": "uvb_fixture", "figures": rafter(reflector_share=0.5)}]
    line = line_of(plan_of({**CRESTED, "own": own}, shelf=shelf_with(lamp("READ", read(0.8)))), "uvb_lamp")
    assert "in this kit's fixture, 50% of that of its reading" in line.because[-1]


def test_reached_and_fit_tell_the_same_index():
    found = reached(basking_spot(build_of(CRESTED)), reading(read(0.4)))
    assert fit("uvb_lamp", read(0.4), CRESTED).figures["uvi_at_basking"] == round(found.back, 2)


def test_more_uv_at_the_back_than_a_shade_zone_wants_on_average_names_the_lower_perch_that_helps():
    brighter = shelf_of([(*thing[:3], read(0.9)) if thing[0] == "DAWN-549" else thing for thing in THINGS])

    def on(height_mm):
        return plan_of({**CRESTED, "perches_mm": [{"height": height_mm, "back": 300}]}, shelf=brighter)

    high = on(440)
    [note] = [c.text for c in high.cautions if c.about == "uvb_lamp" and "on average" in c.text]
    lower_mm = int(re.search(r"set the perch (\d+) mm lower", note)[1])
    assert high.figures["uvi_at_basking"] > 0.7
    assert on(440 - lower_mm).figures["uvi_at_basking"] == pytest.approx(0.7, rel=0.02)
    assert not [c for c in on(440 - lower_mm - 1).cautions if "on average" in c.text]


def test_the_plan_says_how_near_the_lamp_is_too_near_and_what_a_keeper_may_take():
    plan = plan_of(CRESTED)
    closest, minutes = (plan.figures[key] for key in ("uvi_closest_safe_m", "keeper_limit_min"))
    where, asked = basking_spot(build_of(CRESTED)), wanted(build_of(CRESTED))
    lamp = next(figures for item, _, _, figures in THINGS if item == line_of(plan, "uvb_lamp").item)
    upper = replace(reading(lamp), index=1.1 * reading(lamp).index)
    share = working(plan, "uvi_closest_safe_m").inputs["transmission"]
    least, most = (index_at(upper, closest + shift, share) for shift in (1e-4, -1e-4))
    assert least < asked.most < most
    assert closest < where.nearest_m
    reach = index_at(upper, where.nearest_m, share)
    assert minutes == pytest.approx(30 / (reach / 40 * 0.457) / 60, rel=1e-3)
    assert f"after about {int(minutes)} minutes" in told(plan, "uvb_lamp")
    assert f"than {10 * math.ceil(100 * closest)} mm" in told(plan, "uvb_lamp")
