"""Little air at the roots is told also where no bound of the style refuses it."""

import pytest

from tests.lit_shelf import line_of, plan_of, told, working

COMMON = "nursery guides ask for 10 to 30 % (from memory)"  # the mark of kits/data/styles.csv
SCRUB = {
    "enclosure": {"size": "90x45x45-glass"},
    "style": "dry-scrub",
    "planting": "sparse",
    "choose": {"substrate": ["SCRUB-9"]},
}
WET = {**SCRUB, "depths_mm": {"drainage": 40}}


@pytest.mark.parametrize(
    ("spec", "advice"),
    [(SCRUB, "Water little, and at the plants only"), (WET, "Take plants that stand wet roots")],
)
def test_a_soil_with_little_air_is_told_where_its_style_has_no_bounds(spec, advice):
    plan = plan_of(spec)
    assert working(plan, "air_space_pct").value < 10
    note = told(plan, "substrate")
    assert f"% air (estimate): no bound is known for dry scrub, {COMMON}. {advice}" in note


def test_nothing_is_told_of_roots_where_nothing_grows_or_a_bound_is_known():
    assert "% air" not in told(plan_of({**SCRUB, "planting": "none"}), "substrate")
    forest = plan_of({"enclosure": {"size": "45x45x60-glass"}, "style": "humid-forest"})
    assert "% air" not in told(forest, "substrate")
    assert "wanted at least 5 %;" in working(forest, "air_space_pct").note


def test_the_reason_and_the_working_say_what_is_commonly_asked():
    plan = plan_of(SCRUB)
    assert (
        f"Of air at the roots no bound is known for dry scrub, {COMMON}."
        in line_of(plan, "substrate").because
    )
    assert COMMON in working(plan, "air_space_pct").note
