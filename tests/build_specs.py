"""Hypothesis strategies for build specs: valid ones of every kind, and ones with a value gone wrong."""

import copy

from hypothesis import strategies as st

from kits.physics.walls import MATERIALS
from kits.planning.registry import ROLES
from tests.full_shelf import PLENTY, SHELF
from tests.known_facts import known_facts

FACTS = known_facts()
KEYS = st.sampled_from(
    [
        "enclosure",
        "animals",
        "style",
        "room",
        "depths_mm",
        "perches_mm",
        "planting",
        "own",
        "without",
        "choose",
        "extra",
        "fill",
        "units",
        "size",
        "interior_mm",
        "width",
        "depth",
        "height",
        "sill_mm",
        "wall",
        "top",
        "kind",
        "open_fraction",
        "covered_share",
        "front_vent",
        "lighting",
        "season",
        "latitude_deg",
        "material",
        "thickness_mm",
        "species",
        "count",
        "stage",
        "sex",
        "temperature_c",
        "night_temperature_c",
        "relative_humidity_pct",
        "drainage",
        "substrate_front",
        "substrate_back",
        "litter",
        "back",
        "role",
        "item",
        "figures",
        "quantity",
    ]
)
ITEMS = sorted(PLENTY)


def number(low, high):
    return st.integers(low, high) | st.floats(low, high, allow_nan=False)


def depth(high):
    return st.integers(0, high) | st.floats(1, high)


@st.composite
def enclosures(draw):
    if draw(st.booleans()):
        return {"size": draw(st.sampled_from(sorted(FACTS.enclosures)))}
    sides = {
        "width": draw(number(100, 2500)),
        "depth": draw(number(100, 1500)),
        "height": draw(number(200, 2500)),
    }
    box = {"interior_mm": sides}
    if draw(st.booleans()):
        box["sill_mm"] = draw(number(0, 199))
    if draw(st.booleans()):
        box["wall"] = {"material": draw(st.sampled_from(MATERIALS)), "thickness_mm": 5}
    if draw(st.booleans()):
        kind = draw(st.sampled_from(["mesh", "glass", "solid", "open"]))
        box["top"] = {"kind": kind, "open_fraction": draw(number(0, 1))}
    if box.get("top", {"kind": "mesh"})["kind"] == "mesh" and draw(st.booleans()):
        box["covered_share"] = draw(st.floats(0, 0.9))
    if box.get("top", {"kind": "mesh"})["kind"] in ("mesh", "open") and draw(st.booleans()):
        box["front_vent"] = {"height_mm": draw(st.floats(0.1, 50)), "open_fraction": draw(st.floats(0.01, 1))}
    return box


ANIMALS = st.lists(
    st.fixed_dictionaries(
        {"species": st.sampled_from(sorted(FACTS.animals))},
        optional={
            "count": st.integers(1, 6),
            "stage": st.sampled_from(["young", "adult"]),
            "sex": st.sampled_from(["male", "female", "unknown"]),
        },
    ),
    max_size=3,
    unique_by=lambda animal: (animal["species"], animal.get("stage", "adult"), animal.get("sex", "unknown")),
)
ROOMS = st.fixed_dictionaries(
    {}, optional={"temperature_c": number(-20, 45), "night_temperature_c": number(-20, 45),
                  "relative_humidity_pct": number(0, 100), "warmest_day_c": st.just(45)},
)  # fmt: skip
DEPTHS = st.fixed_dictionaries(
    {},
    optional={
        "drainage": depth(40),
        "substrate_front": depth(60),
        "substrate_back": depth(60),
        "litter": depth(20),
    },
)
PERCHES = st.lists(
    st.fixed_dictionaries({"height": number(1, 190)}, optional={"back": number(1, 90)}), max_size=2
)


@st.composite
def specs(draw):
    data = {"enclosure": draw(enclosures())}
    animals = draw(ANIMALS)
    if animals:
        data["animals"] = animals
    if not animals or draw(st.booleans()):
        data["style"] = draw(st.sampled_from(sorted(FACTS.styles)))
    for key, strategy in (("room", ROOMS), ("depths_mm", DEPTHS), ("perches_mm", PERCHES)):
        if draw(st.booleans()):
            data[key] = draw(strategy)
    if draw(st.booleans()):
        data["planting"] = draw(st.sampled_from(["none", "sparse", "moderate", "dense"]))
    data.update(draw(choices()))
    return data


@st.composite
def choices(draw):
    roles = draw(st.lists(st.sampled_from(sorted(ROLES)), max_size=6, unique=True))
    split = draw(st.integers(0, len(roles)))
    extra = draw(st.lists(st.sampled_from(ITEMS), max_size=2, unique=True))
    chosen = draw(st.lists(st.sampled_from(sorted(set(ROLES) - set(roles))), max_size=2, unique=True))
    return {
        "own": roles[:split],
        "without": roles[split:],
        "extra": [{"item": item, "quantity": draw(st.integers(1, 5))} for item in extra],
        "choose": {role: [SHELF.groups(role)[-1].offers[0].ware.item] for role in chosen},
        "fill": draw(st.sampled_from(["preferred", "free"])),
        "units": draw(st.sampled_from(["us", "metric"])),
        "lighting": draw(st.sampled_from([{}, {"season": {"latitude_deg": -33}}])),
    }


@st.composite
def mutated(draw, values):
    """A valid spec in which one value, at any depth, is replaced."""
    data = copy.deepcopy(draw(specs()))
    at = data
    while True:
        keys = list(at) if isinstance(at, dict) else list(range(len(at)))
        key = draw(st.sampled_from(keys))
        if isinstance(at[key], dict | list) and at[key] and draw(st.booleans()):
            at = at[key]
            continue
        at[key] = draw(values)
        return data
