import doctest
import importlib
import json
import pkgutil
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any, Literal, NotRequired, TypedDict

import pytest

from inventory.calc import workings
from inventory.calc.arguments import as_asked
from inventory.calc.docstrings import SECTIONS, describe
from inventory.calc.errors import Impossible
from inventory.errors import BadInput, Unknown
from shop.calc import calculations

CALCULATIONS = workings.catalogue(calculations.ROOMS)
BY_NAME = {calculation.name: calculation for calculation in CALCULATIONS}
MODULES = [
    entry.name
    for room in calculations.ROOMS
    for entry in pkgutil.iter_modules(importlib.import_module(room).__path__, prefix=f"{room}.")
]
each_calculation = pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda c: c.name)


def test_the_calculations_of_the_interface_are_there():
    expected = {
        "packs.cheapest_cover", "allocation.first_expired_first_out", "geometry.layer_l", "weight.glass_kg",
        "power.continuous_limit_w",
    }  # fmt: skip
    assert expected <= set(BY_NAME)


def test_no_two_calculations_share_a_name():
    listed = [
        f"{name.rpartition('.')[2]}.{function}"
        for name in MODULES
        for function in getattr(importlib.import_module(name), "__all__", ())
    ]
    assert len(listed) == len(set(listed)) == len(CALCULATIONS)


@each_calculation
def test_every_calculation_tells_its_formula_arguments_range_and_source(calculation):
    assert [s for s in SECTIONS if not calculation.described.text(s)] == []
    assert list(calculation.described.arguments) == [p.name for p in calculation.parameters]
    assert calculation.described.summary.endswith(".")
    numeric = [p for p in calculation.parameters if p.kind in (int, float)]
    assert [p.name for p in numeric if not p.unit] == []
    assert calculation.unit
    json.dumps(calculation.as_json())


@each_calculation
def test_every_range_speaks_of_arguments(calculation):
    names = {p.name for p in calculation.parameters} | set(workings.MEASURES)
    for limits in calculation.described.ranges:
        about = "".join(c if c.isalnum() or c in "_." else " " for c in limits.about).split()
        assert {name.partition(".")[0] for name in about if not name[0].isdigit()} <= names


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_every_module_run(name):
    assert doctest.testmod(importlib.import_module(name)).failed == 0


class Part(TypedDict):
    litres: float
    note: NotRequired[str | None]


def sample(height_cm: float, parts: Sequence[Part] = (), length_cm: float = 10) -> dict[str, Any]:
    """Something from something.

    Formula:
        h / l
    Args:
        height_cm: how high it is
            above the floor [cm]
        parts: what goes in [L]
        length_cm: how long [cm]
    Returns:
        a ratio [-]
    Raises:
        Impossible: a height below zero
    Valid: height_cm 0..100; parts.litres 0.5..; height_cm / length_cm ..2
        where somebody measured it
    Source: nobody
    Example: none
    """
    if height_cm < 0:
        raise Impossible("height_cm", "must not be negative")
    return {"ratio": height_cm / length_cm, "litres": [part["litres"] for part in parts]}


SAMPLE = workings.of(sample)


def test_a_docstring_is_taken_apart():
    described = describe(sample)
    assert described.arguments["height_cm"] == "how high it is above the floor [cm]"
    assert [str(limits) for limits in described.ranges] == ["0..100", "0.5..", "..2"]
    assert described.text("Valid").endswith("where somebody measured it")
    assert (SAMPLE.unit, SAMPLE.parameters[0].unit, SAMPLE.parameters[2].default) == ("-", "cm", 10)


@pytest.mark.parametrize(
    ("arguments", "note"),
    [
        ({"height_cm": 5}, None),
        ({"height_cm": 100, "length_cm": 50}, None),
        ({"height_cm": 101, "length_cm": 60}, "height_cm 101 lies outside 0..100"),
        (
            {"height_cm": 5, "parts": [{"litres": 1}, {"litres": 0.25}]},
            "parts.litres 0.25 lies outside 0.5..",
        ),
        ({"height_cm": 30, "length_cm": 10}, "height_cm / length_cm 3 lies outside ..2"),
    ],
)
def test_a_value_outside_the_source_is_computed_and_noted(arguments, note):
    answer = workings.work(SAMPLE, arguments).as_json()
    assert answer["valid"] is (note is None)
    assert (note or "") in answer.get("note", "")
    assert answer["value"]["ratio"] == arguments["height_cm"] / arguments.get("length_cm", 10)


@pytest.mark.parametrize(
    ("arguments", "pointer", "sentence"),
    [
        ({}, "/height_cm", "height_cm is missing."),
        ({"height_cm": 1, "width": 2}, "/width", "width is not an argument of"),
        ({"height_cm": "tall"}, "/height_cm", "height_cm must be a number."),
        ({"height_cm": True}, "/height_cm", "height_cm must be a number."),
        ({"height_cm": float("nan")}, "/height_cm", "height_cm must be a finite number."),
        ({"height_cm": 10**400}, "/height_cm", "height_cm must be a finite number."),
        ({"height_cm": -1}, "/height_cm", "height_cm: must not be negative."),
        ({"height_cm": 1, "length_cm": 0}, "", "These arguments give no finite"),
        ({"height_cm": 1e300, "length_cm": 1e-300}, "", "These arguments give no finite"),
        ({"height_cm": 1, "parts": {"litres": 1}}, "/parts", "parts must be a list."),
        ({"height_cm": 1, "parts": [{}]}, "/parts/0/litres", "parts[0].litres is missing."),
        ({"height_cm": 1, "parts": [{"litres": 1, "x": 1}]}, "/parts/0/x", "parts[0].x is not known here."),
        (
            {"height_cm": 1, "parts": [{"litres": 1, "note": 3}]},
            "/parts/0/note",
            "parts[0].note must be text.",
        ),
    ],
)
def test_what_cannot_be_computed_is_refused_with_the_argument_named(arguments, pointer, sentence):
    with pytest.raises(BadInput) as refusal:
        workings.work(SAMPLE, arguments)
    assert refusal.value.errors[0].pointer == pointer
    assert refusal.value.errors[0].detail.startswith(sentence)


@pytest.mark.parametrize(
    ("value", "kind", "expected"),
    [
        (2.0, int, 2),
        ("2026-01-31", date, date(2026, 1, 31)),
        (None, float | None, None),
        ("1.5", float | str, "1.5"),
        ([[1, 2]], Sequence[Sequence[float]], [[1.0, 2.0]]),
        ({"a": {"b": 1}}, Mapping[str, Mapping[str, int]], {"a": {"b": 1}}),
        ("value", Literal["value", "mass"], "value"),
        ([1, "x"], tuple[Any, ...], (1, "x")),
    ],
)
def test_json_becomes_what_the_annotation_asks_for(value, kind, expected):
    assert as_asked(value, kind, "it") == expected


@pytest.mark.parametrize(
    ("value", "kind"),
    [
        (1.5, int),
        (True, int),
        ("soon", date),
        ("other", Literal["value"]),
        ({}, list[int]),
        ([], dict[str, int]),
        (None, str),
    ],
)
def test_json_of_another_kind_is_refused(value, kind):
    with pytest.raises(BadInput, match="it must be"):
        as_asked(value, kind, "it")


def test_an_unknown_calculation_is_refused():
    with pytest.raises(Unknown, match=r"no calculation 'packs\.unheard_of'"):
        calculations.compute("packs.unheard_of", {})
