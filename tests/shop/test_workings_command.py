import json

import pytest
from django.core.management import call_command

from shop.calc import calculations

LAYER = ["geometry.layer_l", "width_m=0.9", "depth_m=0.45", "front_m=0.1", "back_m=0.1"]
PACKS = 'packs=[{"code":"a","litres":4,"price":"6.49"},{"code":"b","litres":8,"price":10.99}]'


def printed(capsys, *words):
    call_command("workings", *words)
    return capsys.readouterr().out


def test_without_a_name_every_calculation_is_listed_with_units_range_and_source(capsys):
    listed = json.loads(printed(capsys, "--json"))
    assert [entry["name"] for entry in listed] == [entry["name"] for entry in calculations.listed()]
    assert {"arguments", "unit", "valid", "source"} <= set(listed[0])
    text = printed(capsys)
    assert all(f"{entry['name']}(" in text for entry in listed)


def test_a_calculation_is_computed_from_json_literals(capsys):
    assert printed(capsys, *LAYER).splitlines()[0] == "geometry.layer_l = 40.5 L"
    answer = json.loads(printed(capsys, "packs.cheapest_cover", "need_l=47", PACKS, "--json"))
    assert answer["value"] == {"cost": "65.94", "litres": 48.0, "counts": {"a": 0, "b": 6}}
    assert set(answer) == {"name", "value", "unit", "source", "valid"}


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (["geometry.layer_l", "width_m=0.5", "depth_m=0.4", "front_m=0.05", "back_m=0.1"], "15.0 L"),
        (
            ["weight.glass_kg", "width_m=0.45", "depth_m=0.45", "height_m=0.6", "thickness_m=0.004"],
            "12.825 kg",
        ),
        (
            ["packs.cheapest_cover", "need_l=47", PACKS],
            '{"cost": "65.94", "litres": 48.0, "counts": {"a": 0, "b": 6}}',
        ),
    ],
)
def test_a_person_reads_a_rounded_figure_with_its_formula_and_source(capsys, words, line):
    first, *rest = printed(capsys, *words).splitlines()
    assert first == f"{words[0]} = {line}"
    assert rest[0] == f"  formula: {calculations.found(words[0]).formula}".splitlines()[0]
    assert any(row.startswith("  source: ") for row in rest)


def test_the_list_says_the_formula_of_every_calculation(capsys):
    text = printed(capsys)
    assert [c["name"] for c in calculations.listed() if c["formula"].splitlines()[0] not in text] == []


def test_a_bare_word_is_text_so_that_a_date_needs_no_quotes(capsys):
    lots = 'lots=[{"code":"a","quantity":3,"best_before":"2026-05-01"}]'
    out = printed(capsys, "allocation.first_expired_first_out", lots, "quantity=2", "on=2026-01-01", "--json")
    assert json.loads(out)["value"] == [{"code": "a", "quantity": 2}]


def test_a_value_outside_the_source_is_told(capsys):
    out = printed(capsys, "power.continuous_limit_w", "breaker_a=60", "volts=120")
    assert "outside the source's range: breaker_a 60 lies outside 10..32" in out


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["nothing.here"], "There is no calculation 'nothing.here'."),
        ([*LAYER[:-1], "back_m=-1"], "back_m: must not be negative."),
        ([*LAYER[:-1], "back_m=NaN"], "back_m must be a number."),
        ([*LAYER[:-1], "back_m=1e999"], "back_m must be a finite number."),
        ([*LAYER[:-1], "back_m=[1"], "back_m is not a JSON value: '[1'."),
        ([*LAYER[:-1], "back_m="], "back_m is not a JSON value: ''."),
        ([*LAYER, "back_m=1"], "back_m=1 is given twice."),
        ([*LAYER, "back"], "back is not of the form key=value."),
        ([*LAYER, "colour=1"], "colour is not an argument of geometry.layer_l."),
        (LAYER[:-1], "back_m is missing."),
        ([*LAYER[:-1], "back_m=" + "[" * 100_000], "back_m is nested too deeply."),
    ],
)
def test_what_cannot_be_computed_ends_with_status_two_and_one_sentence(capsys, words, sentence):
    with pytest.raises(SystemExit) as ended:
        call_command("workings", *words)
    assert ended.value.code == 2
    assert capsys.readouterr() == ("", f"{sentence}\n")
