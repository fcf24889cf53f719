"""Cautions in reading order: by level, then by subject, each sentence once; UV and weight among them."""

import doctest
import math
import re

import pytest

from kits.effects.places import lamp_height_mm
from kits.planning import caution_order
from kits.planning.caution_order import LEVELS, in_order, subject_of
from kits.planning.registry import ROLES
from kits.terms.plan import Caution
from kits.terms.rounding import rounded
from tests.full_shelf import CRESTED
from tests.known_facts import known_facts
from tests.lit_shelf import build_of, plan_of, told, working

LEOPARD = {"enclosure": {"size": "90x45x45-glass"}, "animals": [{"species": "eublepharis-macularius"}]}
UV = "the UV index passes"


@pytest.mark.parametrize("spec", [CRESTED, LEOPARD])
def test_a_level_is_read_whole_and_within_it_a_subject_is_read_whole(spec):
    heads = [(c.level, subject_of(c.about)) for c in plan_of(spec).cautions]
    runs = [head for at, head in enumerate(heads) if at == 0 or heads[at - 1] != head]
    assert len(runs) == len(set(runs)) < len(heads)
    levels = [LEVELS.index(level) for level, _ in runs]
    assert levels == sorted(levels)


def test_a_sentence_that_several_things_give_rise_to_stands_once_at_its_gravest():
    same = [Caution("note", "mister", "Mind it."), Caution("warning", "uvb_lamp", "Mind it.")]
    assert in_order(same) == (same[1],)


def test_what_every_role_says_belongs_to_a_subject():
    silent = {"enclosure", "moss", "bark", "litter", "inoculant"}
    assert {role for role in ROLES if subject_of(role) == caution_order.REST} <= silent
    assert all(subject_of(code) == "animals" for code in known_facts().animals)


def test_how_near_is_too_near_is_told_once_by_one_figure_as_distance_and_as_height():
    plan = plan_of(LEOPARD)
    [caution] = [c for c in plan.cautions if UV in c.text]
    millimetres = [int(found) for found in re.findall(r"(\d+) mm", caution.text)]
    closest = 10 * math.ceil(100 * plan.figures["uvi_closest_safe_m"])
    lamp_mm = lamp_height_mm(build_of(LEOPARD))
    assert millimetres == [closest, 10 * math.floor((lamp_mm - closest) / 10)]
    assert caution.level == "warning"


def test_hygiene_is_told_once_and_each_species_has_one_note():
    plan = plan_of({**CRESTED, "animals": [{"species": "heterodon-nasicus"}]})
    assert sum("alth" in c.text and "Salmonella" in c.text for c in plan.cautions) == 1
    [note] = [c for c in plan.cautions if c.about == "heterodon-nasicus" and c.level == "note"]
    assert "mildly venomous" in note.text
    assert "rest on memory; ask a vet before relying on that" in note.text
    assert "Salmonella hygiene" not in told(plan_of(LEOPARD), "eublepharis-macularius")


def test_the_floor_load_is_told_by_the_outside_and_has_a_figure_with_its_working():
    plan = plan_of({**LEOPARD, "depths_mm": {"substrate_front": 150, "substrate_back": 150}})
    load = working(plan, "floor_load_kg_m2")
    inside = working(plan, "footprint_m2")
    assert load.inputs["width_m"] == pytest.approx(inside.inputs["width_m"] + 2 * 0.006, abs=0.005)
    stands_on = load.inputs["width_m"] * load.inputs["depth_m"]
    assert load.value == pytest.approx(plan.figures["installed_kg"] / stands_on, rel=1e-4)
    said = f"{rounded(load.value)} kg on each square metre that it stands on (its outside)"
    assert said in told(plan, "installed_kg")
    assert ("outside" in load.note, "inside" in inside.note) == (True, True)


def test_the_examples_in_the_docstrings_run():
    assert doctest.testmod(caution_order).failed == 0
