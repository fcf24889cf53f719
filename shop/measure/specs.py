"""A thousand build specs that differ in size, animals, style, room, depths and planting; always the same.

No two of them are equal, because a plan that was made before costs next to nothing.
"""

import json
import random
from typing import Any

from kits.terms.facts import Facts

PLANTING = ("none", "sparse", "moderate", "dense")


def varied_specs(facts: Facts, count: int = 1000) -> list[dict[str, Any]]:
    """Valid specs, all different, drawn from the facts with a fixed seed."""
    draw = random.Random(20_261_125)  # noqa: S311 - repeatable, not secret
    found: dict[str, dict[str, Any]] = {}
    while len(found) < count:
        spec = _spec(draw, facts)
        found.setdefault(json.dumps(spec, sort_keys=True), spec)
    return list(found.values())


def _spec(draw: random.Random, facts: Facts) -> dict[str, Any]:
    spec: dict[str, Any] = {
        "enclosure": {"size": draw.choice(sorted(facts.enclosures))},
        "planting": draw.choice(PLANTING),
        "room": {"temperature_c": draw.randint(17, 25), "relative_humidity_pct": draw.randint(250, 700) / 10},
    }
    if draw.random() < 0.8:
        spec["animals"] = [{"species": draw.choice(sorted(facts.animals)), "count": draw.randint(1, 2)}]
    if "animals" not in spec or draw.random() < 0.3:
        spec["style"] = draw.choice(sorted(facts.styles))
    if draw.random() < 0.3:
        spec["depths_mm"] = {"substrate_front": draw.randint(20, 60), "substrate_back": draw.randint(40, 90)}
    if draw.random() < 0.2:
        spec["fill"] = "free"
    return spec
