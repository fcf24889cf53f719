"""Every way in which a build spec can be wrong has its sentence, and all of them are told at once."""

import pytest

from kits.planning.spec import BadSpec
from tests.full_shelf import CRESTED, spec_of

BASE = {"enclosure": {"size": "45x45x60-glass"}, "style": "humid-forest"}
MEASURED = {"interior_mm": {"width": 400, "depth": 400, "height": 500}}


def measured(**more):
    return {"enclosure": {**MEASURED, **more}, "style": "desert"}


def faults(data):
    with pytest.raises(BadSpec) as refusal:
        spec_of(data)
    return {error.pointer: error.detail for error in refusal.value.errors}


CASES = [
    ([], "", "The build spec must be an object, not a list."),
    ({**BASE, "plantng": "dense"}, "/plantng", "plantng is not a field known here. Did you mean planting?"),
    ({"style": "desert"}, "/enclosure", "enclosure must be given."),
    ({"enclosure": {}, "style": "desert"}, "/enclosure", "enclosure must have a size or interior_mm."),
    ({"enclosure": {"size": "45x45x60-glass"}}, "/animals", "animals or style must be given"),
    ({**BASE, "enclosure": {"size": "45x45x61-glass"}}, "/enclosure/size", "Did you mean 45x45x60-glass?"),
    ({**BASE, "enclosure": {**MEASURED, "size": "45x45x60-glass"}}, "/enclosure/interior_mm", "beside size"),
    ({**BASE, "enclosure": {"size": "45x45x60-glass", "sill_mm": 9}}, "/enclosure/sill_mm", "beside size"),
    (measured(sill_mm=-1), "/enclosure/sill_mm", "must be from 0 to 500, not -1."),
    (measured(sill_mm=501), "/enclosure/sill_mm", "must be from 0 to 500, not 501."),
    (measured(sill_mm=500), "/enclosure/sill_mm", "sill_mm must be below the inside height of 500 mm"),
    (measured(wall={"thickness_mm": 0.004}), "/enclosure/wall/thickness_mm", "must be at least 0.5 mm"),
    (
        measured(wall={"material": "glass", "thickness_mm": 1.9}),
        "/enclosure/wall/thickness_mm",
        "wall.thickness_mm must be at least 2 mm for a wall of glass that stands, not 1.9.",
    ),
    (measured(wall={"material": "paper"}), "/enclosure/wall/material", "is not a wall material known here"),
    (measured(wall={"thickness_mm": 0}), "/enclosure/wall/thickness_mm", "must be above 0"),
    (measured(top={"kind": "lid"}), "/enclosure/top/kind", "is not a kind of top known here"),
    (measured(top={"open_fraction": 1.5}), "/enclosure/top/open_fraction", "must be from 0 to 1"),
    (measured(covered_share=0.95), "/enclosure/covered_share", "must be from 0 to 0.9, not 0.95."),
    (measured(covered_share=-0.1), "/enclosure/covered_share", "must be from 0 to 0.9"),
    (measured(covered_share=True), "/enclosure/covered_share", "must be a number"),
    (measured(covered_share=0.5, top={"kind": "glass"}), "/enclosure/covered_share", "this one is glass."),
    (
        {**BASE, "enclosure": {"size": "120x60x60-pvc", "covered_share": 0.5}},
        "/enclosure/covered_share",
        "is for a mesh top; this one is",
    ),
    ({**BASE, "animals": {}}, "/animals", "animals must be a list, not an object."),
    ({**BASE, "animals": ["gecko"]}, "/animals/0", "animals[0] must be an object, not 'gecko'."),
    ({**BASE, "animals": [{}]}, "/animals/0/species", "animals[0].species must be given."),
    ({**BASE, "style": "humid"}, "/style", "Did you mean humid-forest?"),
    ({**BASE, "room": {"temperature_c": 46}}, "/room/temperature_c", "must be from -20 to 45, not 46."),
    ({**BASE, "room": {"temperature_c": True}}, "/room/temperature_c", "must be a number, not true."),
    ({**BASE, "room": {"relative_humidity_pct": 101}}, "/room/relative_humidity_pct", "from 0 to 100"),
    ({**BASE, "room": {"night_temperature_c": float("nan")}}, "/room/night_temperature_c", "finite"),
    ({**BASE, "depths_mm": {"drainage": -1}}, "/depths_mm/drainage", "must be from 0 to 5000, not -1."),
    ({**BASE, "depths_mm": {"litter": 0.5}}, "/depths_mm/litter", "must be 0 or at least 1 mm, not 0.5."),
    ({**BASE, "without": [{"role": "plant"}]}, "/without/0/item", "must be given"),
    ({**BASE, "without": [{"role": "roof", "item": "ROOT-45"}]}, "/without/0/role", "a role"),
    ({**BASE, "without": [{"role": "plant", "item": "NOBODY"}]}, "/without/0/item", "not known here"),
    ({**BASE, "depths_mm": {"drainage": 300, "litter": 292}}, "/depths_mm", "which leaves no air"),
    ({**BASE, "perches_mm": [{"height": 0}]}, "/perches_mm/0/height", "must be above 0"),
    ({**BASE, "perches_mm": [{"height": 600}]}, "/perches_mm/0/height", "at most 592, not 600."),
    ({**BASE, "perches_mm": [{"back": 100}]}, "/perches_mm/0/height", "must be given."),
    ({**BASE, "planting": "lush"}, "/planting", "is not a planting level known here: 'lush'."),
    ({**BASE, "own": ["termometer"]}, "/own/0", "Did you mean thermometer?"),
    ({**BASE, "own": ["timer", "timer"]}, "/own/1", "names timer a second time."),
    ({**BASE, "own": [{"item": "TURN-2"}]}, "/own/0/role", "own[0].role must be given."),
    ({**BASE, "own": [{"role": "timer", "item": "NO-SUCH"}]}, "/own/0/item", "not known here: 'NO-SUCH'"),
    (
        {**BASE, "own": [{"role": "timer", "figures": {"max_watts": -5}}]},
        "/own/0/figures/max_watts",
        "from 0",
    ),
    ({**BASE, "without": ["mister", "mister"]}, "/without/1", "names mister a second time."),
    ({**BASE, "own": ["mister"], "without": ["mister"]}, "/without", "names mister, which own names too."),
    ({**BASE, "choose": {"substrat": ["X"]}}, "/choose/substrat", "Did you mean substrate?"),
    ({**BASE, "choose": {"substrate": ["NO-SUCH"]}}, "/choose/substrate/0", "not known here: 'NO-SUCH'"),
    ({**BASE, "choose": {"mister": ["SPRAY-1"]}, "own": ["mister"]}, "/choose/mister", "takes away"),
    ({**BASE, "extra": [{"quantity": 1}]}, "/extra/0/item", "extra[0].item must be given."),
    ({**BASE, "extra": [{"item": "CHALK", "quantity": 0}]}, "/extra/0/quantity", "must be from 1 to 1000"),
    ({**BASE, "extra": [{"item": "CHALK"}] * 301}, "/extra", "may hold at most 300 entries, not 301."),
    ({**BASE, "extra": [{"item": "a/b"}]}, "/extra/0/item", "must be an item code"),
    ({**BASE, "fill": "all"}, "/fill", "is not a way to fill known here: 'all'."),
    ({**BASE, "units": "imperial"}, "/units", "is not a system of units known here"),
    ({**BASE, "units": "x" * 100_000}, "/units", "..."),
]


@pytest.mark.parametrize(("data", "pointer", "words"), CASES)
def test_a_fault_is_named_with_its_place(data, pointer, words):
    assert words in faults(data)[pointer]


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("species", "correlophus-ciliatis", "Did you mean correlophus-ciliatus?"),
        ("count", 0, "animals[0].count must be from 1 to 100, not 0."),
        ("count", 101, "animals[0].count must be from 1 to 100, not 101."),
        ("count", 1.5, "animals[0].count must be a whole number, not 1.5."),
        ("count", "2", "animals[0].count must be a number, not '2'."),
        ("count", 10**400, "animals[0].count must be from 1 to 100, not a number beyond all measure."),
        ("stage", "baby", "is not a stage known here: 'baby'."),
        ("sex", None, "animals[0].sex must be a sex, not null."),
        ("age", 3, "animals[0].age is not a field known here."),
    ],
)
def test_a_fault_of_an_animal_is_named(field, value, words):
    data = {**BASE, "animals": [{"species": "correlophus-ciliatus", field: value}]}
    assert words in faults(data)[f"/animals/0/{field}"]


@pytest.mark.parametrize(
    ("side", "value", "words"),
    [
        ("width", 0, "from 50 to 5000, not 0."),
        ("depth", 5001, "not 5001."),
        ("height", "tall", "not 'tall'."),
    ],
)
def test_a_fault_of_a_measured_box_is_named(side, value, words):
    inside = {**MEASURED["interior_mm"], side: value}
    data = {"enclosure": {"interior_mm": inside}, "style": "desert"}
    assert words in faults(data)[f"/enclosure/interior_mm/{side}"]


def test_a_missing_side_is_named():
    data = {"enclosure": {"interior_mm": {"width": 400, "depth": 400}}, "style": "desert"}
    assert faults(data) == {"/enclosure/interior_mm/height": "enclosure.interior_mm.height must be given."}


def test_the_same_animals_twice_are_refused():
    animal = {"species": "correlophus-ciliatus", "sex": "female"}
    assert "repeats an entry above" in faults({**BASE, "animals": [animal, animal]})["/animals/1"]


def test_all_faults_are_told_at_once():
    assert set(faults({"enclosure": {"size": 7}, "style": 8, "room": 9, "fill": None})) == {
        "/enclosure/size", "/style", "/room", "/fill",
    }  # fmt: skip


def test_a_pointer_escapes_what_json_pointers_escape():
    assert "/a~1b~0c" in faults({**BASE, "a/b~c": 1})


def test_zero_is_allowed_where_it_makes_sense():
    read = spec_of(
        {**measured(sill_mm=0, top={"open_fraction": 0}), "depths_mm": {"drainage": 0, "litter": 0}}
    )
    assert (read.enclosure.sill_mm, read.enclosure.top_open_fraction) == (0, 0)
    assert read.depths_mm == {"drainage": 0, "litter": 0}


def test_a_full_spec_is_read():
    more = {"own": ["thermometer"], "without": ["mister"], "extra": [{"item": "CHALK", "quantity": 2}]}
    read = spec_of({**CRESTED, **more, "choose": {"hide": ["HUT-45"]}, "fill": "free", "units": "metric"})
    assert (read.animals[0].species, read.room.relative_humidity_pct) == ("correlophus-ciliatus", 45)
    assert (read.own[0].role, read.without, read.extra[0].quantity) == ("thermometer", {"mister"}, 2)
    assert (read.choose["hide"], read.fill, read.units) == (("HUT-45",), "free", "metric")
    assert read.perches[0].height_mm == 420


def test_a_night_that_is_not_given_is_a_little_cooler_than_the_day():
    assert spec_of({**BASE, "room": {"temperature_c": 24}}).room.night_temperature_c == 21
