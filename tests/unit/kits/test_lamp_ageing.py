"""A UVB lamp when it is new and when it is replaced: what the zone is held against and what is told."""

import pytest

from kits.documents.settings import settings
from kits.effects.ageing import kept
from kits.terms.profiles import figure_faults
from kits.terms.rounding import uv_index
from tests.full_shelf import CRESTED
from tests.lit_shelf import build_of, fit, line_of, plan_of, rafter, read, shelf_of, told, tube, working

# Zone 3 and 4: at least 1.0 at the back, 226 mm below the lamp.
DRAGON = {
    "enclosure": {"size": "120x60x60-pvc"},
    "animals": [{"species": "pogona-vitticeps"}],
    "room": {"temperature_c": 22, "night_temperature_c": 16, "relative_humidity_pct": 40},
    "perches_mm": [{"height": 250, "back": 290}],
}


# 300 days at 10 and at 30 % a year: 0.9 and 0.7 to the power of 300 / 365.
def test_without_a_loss_of_its_own_a_lamp_is_taken_to_lose_what_tubes_usually_do():
    left = kept(tube())
    assert (left.least, left.most) == pytest.approx((0.7 ** (300 / 365), 0.9 ** (300 / 365)))
    assert (left.estimated, left.days) == (True, 300)


def test_a_lamp_with_a_loss_of_its_own_is_no_estimate():
    left = kept(tube(loss_a_year=0.2, life_days=365))
    assert left.least == left.most == pytest.approx(0.8)
    assert not left.estimated
    assert "at its own loss a year" in fit("uvb_lamp", read(3, loss_a_year=0.2), DRAGON).because[-1]


@pytest.mark.parametrize(("loss", "passes"), [(0.0, True), (0.5, False)])
def test_a_lamp_must_still_do_the_job_when_it_is_replaced(loss, passes):
    just_enough = fit("uvb_lamp", read(0.75, loss_a_year=loss), DRAGON)
    assert just_enough.figures["uvi_at_basking"] >= 1.0
    assert just_enough.passes == passes
    assert passes or "about 0.64 at the back worn" in just_enough.refusal


def test_the_most_that_is_reached_is_that_of_the_new_lamp():
    harsh = fit(
        "uvb_lamp", read(9, loss_a_year=0.9), {**DRAGON, "perches_mm": [{"height": 380, "back": 290}]}
    )
    assert harsh.figures["uvi_at_replacement"] < 9.5 < harsh.figures["uvi_maximum_reachable"]
    assert not harsh.passes


def test_the_plan_tells_both_figures_and_how_the_lamp_wears():
    plan = plan_of(CRESTED)
    new, worn = (plan.figures[f"uvi_at_{when}"] for when in ("basking", "replacement"))
    left = kept(line_of(plan, "uvb_lamp") and read(0.4))
    assert worn == pytest.approx(new * left.share, abs=2e-4)
    note = working(plan, "uvi_at_replacement").note
    assert note.startswith("worn by 10 months at 10% to 30% a year, from memory: ")


def test_the_build_sheet_says_what_reaches_the_back_new_and_worn():
    plan = plan_of(CRESTED)
    facts = {fact.name: fact.value for fact in settings(build_of(CRESTED), frozenset(), plan.figures)}
    new, worn = (plan.figures[f"uvi_at_{when}"] for when in ("basking", "replacement"))
    told_there = facts["UV index at the basking place"]
    assert told_there == f"{uv_index(new)} new, {uv_index(worn)} worn"


def test_a_pair_that_wears_below_the_zone_is_cautioned():
    own = [
        {"role": "uvb_lamp", "figures": read(0.75, loss_a_year=0.5)},
        {"role": "uvb_fixture", "figures": rafter(reflector_share=1.0)},
    ]
    plan = plan_of({**DRAGON, "own": own}, shelf=shelf_of())
    assert plan.figures["uvi_at_basking"] >= 1.0 > plan.figures["uvi_at_replacement"]
    assert "at the back when the lamp is replaced (estimate)" in told(plan, "uvb_lamp")


@pytest.mark.parametrize(("loss", "faults"), [(0, 0), (0.3, 0), (1, 1), (-0.1, 1), ("much", 1)])
def test_a_loss_a_year_is_a_share_below_one(loss, faults):
    figures = {**tube(zones=[1]), "loss_a_year": loss}
    assert len(figure_faults("uvb_lamp", figures)) == faults
