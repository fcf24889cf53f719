"""What stands beside a substitute is true: same job, less well, better, and the figures that differ."""

import doctest

import pytest
from small_shelf import ROLES, Counter, offer, shelf

from kits.planning import side_by_side
from kits.planning.lines import plan_lines
from kits.planning.selection import select
from kits.planning.side_by_side import verdict
from kits.terms.needs import Fit, Need
from tests.full_shelf import CRESTED
from tests.lit_shelf import THINGS, line_of, plan_of, rafter, read, shelf_of, tube

NOW = Fit(figures={"uvi_at_basking": 0.7})
REST = tuple(thing for thing in THINGS if thing[1] not in ("uvb_lamp", "uvb_fixture"))


@pytest.mark.parametrize(
    ("other", "cents", "told"),
    [
        (NOW, 0, "same job at the same price"),
        (NOW, 120, "same job at 1.20 more"),
        (Fit(figures={"uvi_at_basking": 0.9}), -120,
         "does the job as well at 1.20 less: reaches 0.9 at the back instead of 0.7"),
        (Fit(rank=1, figures={"uvi_at_basking": 0.7}), 120, "does the job less well at 1.20 more"),
        (Fit(rank=20), 120,
         "does the job less well at 1.20 more: reaches an unknown value at the back instead of 0.7"),
    ],
)  # fmt: skip
def test_a_substitute_is_told_by_rank_price_and_figures(other, cents, told):
    assert verdict([(other, NOW)], cents) == told


def test_of_several_things_changed_together_one_that_is_worse_is_told():
    better, worse = (Fit(), Fit(rank=1)), (Fit(rank=2), Fit(rank=1))
    assert verdict([better], 0).startswith("does the job better")
    assert verdict([better, worse], 0).startswith("does the job less well")


def test_a_line_tells_of_a_worse_item_that_it_is_worse():
    first, second = offer("thing", "a", 500, size_mm=9), offer("thing", "b", 620, size_mm=12, rank=1)
    both, read_free = shelf(first, second), Counter(b=14)
    selection = select([Need("thing", count=1)], shelf=both, roles=ROLES, read_free=read_free)
    (line,) = plan_lines([selection], shelf=both, read_free=read_free)
    assert line.substitutes[0].because[0] == "does the job less well at 1.20 more: size mm 12 instead of 9"


def test_lamps_in_a_plan_stand_side_by_side_with_what_reaches_the_animal():
    things = (
        ("NOW", "uvb_lamp", 2000, read(0.30)),
        ("OTHER", "uvb_lamp", 2150, read(0.40)),
        ("UNREAD", "uvb_lamp", 900, tube(zones=[1])),
        ("BEAM", "uvb_fixture", 3000, rafter(reflector_share=1.0)),
    )
    line = line_of(plan_of(CRESTED, shelf=shelf_of((*REST, *things)), stock={"NOW": 0}), "uvb_lamp")
    told = {dict(other.items).popitem()[0]: other.because[0] for other in line.substitutes}
    assert told["OTHER"].startswith(
        "does the job as well at 1.50 more: reaches 0.57 at the back instead of 0.43"
    )
    assert told["UNREAD"].startswith("does the job less well at 11.00 less: reaches an unknown value")


def test_a_fixture_with_another_reflector_is_not_the_same_job():
    line = line_of(plan_of(CRESTED), "uvb_fixture")
    assert line.item == "SLIM-549"
    assert line.substitutes[0].because[0] == (
        "does the job as well at 10.00 more: "
        "throws down 100 % of what the fixture of the lamp's reading does instead of 50, "
        "reaches 0.57 at the back instead of 0.28"
    )


def test_the_example_in_the_docstring_runs():
    assert doctest.testmod(side_by_side).attempted > 0
    assert doctest.testmod(side_by_side).failed == 0
