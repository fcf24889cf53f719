"""Ten covers with substitution: own synthetic instances, each optimum agreed by three solvers.

The model stands beside the instances, in `data/substitution_25x8.json` under `_model`.
"""

import json
import math
from pathlib import Path

import pytest

from kits.planning.programme import Programme

INSTANCES = json.loads((Path(__file__).parent / "data/substitution_25x8.json").read_text())["instances"]
PATIENCE_S = 30.0  # these are proved, however busy the machine is


def add_function(programme, instance, need, candidates, used):
    """One function to cover: `used` maps product -> (its column, the packs drawn from its stock)."""
    choices = [programme.column((40 * rank,)) for rank in range(len(candidates))]
    unmet = programme.column((instance["short"],))
    programme.exactly_one([*choices, unmet])
    cover = {unmet: need}
    for product, choice in zip(candidates, choices, strict=True):
        most = min(instance["stock"][product], math.ceil(need / instance["pack"][product]))
        packs = programme.column((instance["price"][product],), upper=most)
        cover[packs] = instance["pack"][product]
        in_use, drawn = used[product]
        programme.row({packs: 1, choice: -most}, upper=0)
        programme.row({choice: 1, in_use: -1}, upper=0)
        drawn[packs] = 1
    programme.row(cover, lower=need)


def model(instance):
    programme = Programme()
    products = sorted({product for candidates in instance["cand"] for product in candidates})
    used = {product: (programme.column((0,)), {}) for product in products}
    for need, candidates in zip(instance["need"], instance["cand"], strict=True):
        add_function(programme, instance, need, candidates, used)
    for product, (_, drawn) in used.items():
        programme.row(drawn, upper=instance["stock"][product])
    for one, other in instance["conflicts"]:
        if one in used and other in used:
            programme.row({used[one][0]: 1, used[other][0]: 1}, upper=1)
    return programme


@pytest.mark.parametrize("instance", INSTANCES, ids=lambda instance: instance["id"])
def test_the_programme_finds_the_cent_that_three_solvers_agree_on(instance):
    solution = model(instance).solve(seconds=PATIENCE_S)
    assert solution.costs == (instance["optimum_cents"],)
    assert solution.proved
