"""From plan to scene, to places: what is drawn, in which size and where."""

import json
import subprocess
import sys
from itertools import pairwise

import pytest

from kits.drawings.labels import spread, untangle
from kits.drawings.measures import bar_mm, inch_text, length_text, scale_for
from kits.drawings.scene import Scene, from_json
from kits.drawings.stage import BANDS, on_floor, on_top
from kits.drawings.staging import WORDS, plant_form
from kits.planning.registry import ROLES
from tests.full_shelf import CRESTED, DESERT, FERN_BOX, plan_of
from tests.known_facts import known_facts


def scene_of(spec):
    return from_json(plan_of(spec).scene)


def test_a_plan_holds_its_scene_as_json_that_reads_back_unchanged():
    plan = plan_of(CRESTED)
    stored = json.loads(json.dumps(plan.as_json()))["scene"]
    assert stored == plan.scene
    assert from_json(stored).as_json() == plan.scene
    assert isinstance(from_json(stored), Scene)


def test_callout_numbers_are_places_in_the_parts_list():
    plan = plan_of(CRESTED)
    for part in from_json(plan.scene).parts:
        assert plan.lines[part.number - 1].role == part.role
        assert plan.lines[part.number - 1].quantity == part.quantity


def test_lines_that_cannot_be_seen_are_not_drawn():
    plan = plan_of(CRESTED)
    drawn = {part.role for part in from_json(plan.scene).parts}
    assert {"supplement", "timer", "mister"} <= {line.role for line in plan.lines} - drawn
    assert set(WORDS) <= set(ROLES)


def test_what_the_customer_has_is_drawn_without_a_number():
    own = {"role": "hide", "figures": {"length_mm": 200, "width_mm": 150, "height_mm": 90, "humid": False}}
    hides = scene_of({**CRESTED, "own": [own]}).with_roles("hide")
    assert [(hide.number, hide.length_mm) for hide in hides] == [(0, 200)]


def test_box_layers_and_perches_are_those_of_the_build():
    scene = scene_of(CRESTED)
    assert (scene.inside.depth_mm, scene.inside.height_mm, scene.inside.sill_mm) == (443, 592, 165)
    assert [(bed.front_mm, bed.back_mm) for bed in scene.beds] == [(50, 50), (60, 110), (25, 25)]
    assert [(seat.height_mm, seat.back_mm) for seat in scene.seats] == [(420, 300)]
    assert scene.ground_mm(443 / 2) == pytest.approx(50 + 85 + 25)


def test_every_plant_that_is_known_has_a_shape():
    forms = {code: plant_form(plant) for code, plant in known_facts().plants.items()}
    assert forms["asplenium-scolopendrium"] == "fern"
    assert forms["haworthiopsis-attenuata"] == "succulent"
    assert forms["ficus-pumila"] == "vine"
    assert len(set(forms.values())) >= 7


@pytest.mark.parametrize("spec", [CRESTED, FERN_BOX, DESERT], ids=["gecko", "ferns", "desert"])
def test_every_piece_stands_between_the_walls(spec):
    scene = scene_of(spec)
    for staged in on_floor(scene):
        assert len(staged.spots) == staged.part.quantity
        for spot in staged.spots:
            assert 0 <= spot.x_mm <= scene.inside.width_mm
            assert 0 <= spot.y_mm <= scene.inside.depth_mm


def test_plants_stand_in_the_band_of_their_position():
    scene = scene_of(CRESTED)
    plants = [staged for staged in on_floor(scene) if staged.part.role == "plant"]
    assert {staged.part.position for staged in plants} >= {"front", "middle"}
    for staged in plants:
        band = BANDS[staged.part.position]
        assert all(abs(spot.y_mm / 443 - band) <= 0.1 for spot in staged.spots)


def test_lamps_on_the_top_lie_side_by_side():
    rows = sorted(
        (spot.y_mm - one.part.width_mm / 2, spot.y_mm + one.part.width_mm / 2)
        for one in on_top(scene_of(CRESTED))
        for spot in one.spots[:1]
    )
    assert len(rows) >= 2
    assert all(before[1] <= after[0] for before, after in pairwise(rows))


def test_staging_a_plan_loads_no_drawing_library():
    code = "import sys, kits.planning.pipeline; sys.exit('reportlab' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_labels_are_pushed_apart_in_order_and_stay_within_their_limits():
    places = spread([10, 10.5, 11, 40], 8, 0, 60)
    assert all(after - before >= 8 - 1e-9 for before, after in pairwise(places))
    assert places[0] >= 0
    assert places[-1] <= 60


def test_crossing_leaders_are_exchanged():
    assert untangle([(0, 0), (0, 10)], [(10, 20), (10, 0)]) == [1, 0]


@pytest.mark.parametrize(
    ("mm", "words"), [(25.4, "1 in"), (60, "2⅜ in"), (1, "0 in"), (25.3, "1 in"), (3.2, "⅛ in")]
)
def test_inches_are_given_to_the_nearest_eighth(mm, words):
    assert inch_text(mm) == words


def test_lengths_show_inches_only_to_us_customers():
    assert length_text(443, "us") == "443 mm · 17½ in"
    assert length_text(443, "metric") == "443 mm"


def test_the_scale_is_the_largest_that_fits_and_its_bar_stays_short():
    # 443 mm at 1 : 5 are 88.6 mm or 251 points, at 1 : 4 they are 314.
    assert scale_for(443, 443, width=300, height=300) == 5
    assert bar_mm(5)[0] == 100
