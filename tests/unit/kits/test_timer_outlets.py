"""Timers: outlets are counted against the plugs of the chosen lamps, watts against what runs for hours."""

import pytest

from kits.planning import pipeline
from kits.planning.spec import read_spec
from kits.roles import timer
from kits.terms.needs import Need
from kits.terms.plan import Terms
from tests.full_shelf import CRESTED
from tests.known_facts import known_facts
from tests.lit_shelf import LIT, REPLACED, THINGS, line_of, plan_of, shelf_of

OTHERS = ("one", 1100, 1), ("two", 1700, 2), ("eight", 4400, 8)
TIMERS = tuple((f"T-{n}", "timer", cents, {"max_watts": 1800, "outlets": n}) for _, cents, n in OTHERS)


def wanted(*watts):
    return Need("timer", count=len(watts), wanted={"plugs_w": watts})


def pieces(max_watts, outlets, *watts):
    fit = timer.fit(wanted(*watts), {"max_watts": max_watts, "outlets": outlets})
    return round(len(watts) / fit.each)


@pytest.mark.parametrize(
    ("max_watts", "outlets", "watts", "timers"),
    [
        (1800, 1, (13, 34, 34), 3), (1800, 2, (13, 34, 34), 2), (1800, 8, (13, 34, 34, 34, 25), 1),
        (100, 8, (50, 50), 2),  # 80 W for hours on end: NEC 210.19(A)(1), 80 %
        (100, 8, (40, 40, 40, 40, 20), 3), (200, 2, (100, 60, 60), 2),
    ],
)  # fmt: skip
def test_lamps_share_a_timer_within_its_outlets_and_what_it_carries_for_hours(
    max_watts, outlets, watts, timers
):
    assert pieces(max_watts, outlets, *watts) == timers


def test_a_timer_that_cannot_carry_one_lamp_for_hours_says_its_figures():
    fit = timer.fit(wanted(150), {"max_watts": 180, "outlets": 2})
    assert fit.refusal == "It has 2 outlets, 180 W, of which 144 W for hours on end; one lamp draws 150 W."


def test_every_bar_takes_an_outlet_of_its_own():
    weak = {"kind": "bar", "length_mm": 400, "width_mm": 40, "watts": 12, "flux_umol_s": 25}
    things = (*THINGS, *TIMERS, ("WEAK-400", "plant_light", 2000, weak))
    plan = plan_of(CRESTED, shelf=shelf_of(things, instead_of=(*REPLACED, "timer", "plant_light")))
    lamps = ("uvb_lamp", "plant_light", "basking_lamp")
    plugs = sum(line.quantity for line in plan.lines if line.role in lamps)
    line = line_of(plan, "timer")
    assert plugs > len({line.role for line in plan.lines if line.role in lamps})
    assert f"{plugs} outlets" in line.because[0]
    assert line.quantity * int(line.item.split("-")[1]) >= plugs


def test_the_customers_own_lamp_takes_an_outlet_and_one_left_out_takes_none():
    own = [{"role": "uvb_lamp", "figures": {"watts": 24, "cap": "G5"}}]
    both, less = ({**CRESTED, **more} for more in ({"own": own}, {"without": ["uvb_lamp"]}))
    told = [line_of(plan_of(spec), "timer").because[0] for spec in (both, less)]
    assert "UVB lamp" in told[0]
    assert "UVB lamp" not in told[1]


def test_the_timer_that_is_chosen_last_is_looked_up_with_the_rest():
    reads = []

    def read_free(items):
        reads.append(items)
        return dict.fromkeys(items, 9)

    spec = read_spec(CRESTED, facts=known_facts(), knows_item=LIT.knows)
    made = pipeline.plan(spec, facts=known_facts(), shelf=LIT, read_free=read_free, terms=Terms())
    assert line_of(made, "timer") is not None
    assert len(reads) == 1
