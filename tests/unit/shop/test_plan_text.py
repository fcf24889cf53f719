"""A plan as text at the terminal: cautions under heads, figures with doubt and band, reasons."""

import re
from itertools import pairwise

from shop.calc.plan_text import as_text
from tests.full_shelf import CRESTED
from tests.lit_shelf import plan_of

PLAN = plan_of({**CRESTED, "room": {"temperature_c": 21, "night_temperature_c": 15}}).as_json()
TEXT = as_text(PLAN)


def block(name, text=TEXT):
    return next(block for block in text.split("\n\n") if block.startswith(name))


def test_cautions_stand_under_one_head_for_each_level_and_subject():
    heads = re.findall(r"^    \S (stop|warning|note), (.+)$", block("CAUTIONS"), re.M)
    assert len(heads) == len(set(heads))
    assert ("warning", "ultraviolet") in heads
    flat = " ".join(block("CAUTIONS").split())
    assert all(" ".join(caution["text"].split()) in flat for caution in PLAN["cautions"])


def test_uv_figures_say_how_far_they_may_be_off_and_what_is_wanted():
    found = block("FIGURES")
    at_back = r"uvi_at_basking +0\.\d\d?  \(\d+% either way; wanted 0 to 0.7 on average, at least 0.1 here\)"
    assert re.search(at_back, found)
    assert re.search(r"uvi_maximum_reachable +\S+  \(\d+% either way; wanted at most 1.4\)", found)


def test_the_footprint_is_said_to_be_inside_and_the_floor_load_by_the_outside():
    assert re.search(r"footprint_m2 +0.196 m2  \(inside, where soil and animals are\)", block("FIGURES"))
    assert re.search(r"floor_load_kg_m2 +\d+ kg/m2  \(by its outside, walls included\)", block("FIGURES"))


def test_no_estimate_is_printed_with_more_than_three_digits():
    rows = re.findall(r"^    (\w+) +([\d.]+)", block("FIGURES"), re.M)
    assert len(rows) > 15
    long = [name for name, number in rows if len(number.replace(".", "").strip("0")) > 3]
    assert set(long) <= {"running_cost_month", "power_w"}  # paid and added up, no estimates of nature


def test_reasons_and_sources_are_printed_when_asked_for_and_packs_share_theirs():
    assert "because:" not in TEXT
    why = as_text(PLAN, why=True)
    flat = " ".join(why.split())
    assert all(" ".join(reason.split()) in flat for line in PLAN["lines"] for reason in line["because"])
    assert "steady heat balance" in " ".join(block("FIGURES", why).split())
    reasons = [(), *(line["because"] for line in PLAN["lines"])]
    told = sum(one != before for before, one in pairwise(reasons))
    assert why.count("because:") == told
