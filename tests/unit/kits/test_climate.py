"""The climate of a build is where the published bands of its animals overlap."""

import doctest

from kits.planning import climate as module
from kits.planning.climate import room_cautions, shared_climate
from kits.terms.build import Climate, Room
from kits.terms.facts import Figure, Subject


def animal(code, **figures):
    return Subject("animal", code, code.title(), "", {k: Figure(v, "M", "test") for k, v in figures.items()})


COOL = animal(
    "cool", day_air_lo_c=12, day_air_hi_c=21, rh_lo_pct=70, rh_hi_pct=95, uv_zone_lo=1, uv_zone_hi=2
)
MILD = animal(
    "mild", day_air_lo_c=18, day_air_hi_c=26, rh_lo_pct=60, rh_hi_pct=80, uv_zone_lo=2, uv_zone_hi=3
)
HOT = animal("hot", day_air_lo_c=28, day_air_hi_c=36, bask_surface_lo_c=47, bask_surface_hi_c=55)


def test_one_animal_has_its_own_climate():
    climate, cautions = shared_climate([COOL])
    assert (climate.day_lo_c, climate.day_hi_c, climate.uv_zone_hi) == (12, 21, 2)
    assert cautions == ()


def test_two_animals_share_the_overlap():
    climate, cautions = shared_climate([COOL, MILD])
    assert (climate.day_lo_c, climate.day_hi_c) == (18, 21)
    assert (climate.humidity_lo_pct, climate.humidity_hi_pct) == (70, 80)
    assert (climate.uv_zone_lo, climate.uv_zone_hi) == (2, 2)
    assert cautions == ()


def test_an_animal_without_a_figure_leaves_the_band_to_the_others():
    climate, _ = shared_climate([HOT, animal("silent")])
    assert (climate.bask_lo_c, climate.bask_hi_c) == (47, 55)


def test_bands_that_do_not_overlap_are_a_stop_with_both_figures():
    climate, cautions = shared_climate([COOL, HOT])
    assert [caution.level for caution in cautions] == ["stop"]
    assert "No day air suits all: Hot wants at least 28 C, Cool at most 21 C." in cautions[0].text
    assert (climate.day_lo_c, climate.day_hi_c) == (12, 21)


def test_a_room_that_is_too_warm_is_named_with_both_figures():
    cautions = room_cautions(Climate(day_hi_c=21, night_hi_c=18), Room(25, 20, 50))
    assert ["25 C by day" in cautions[0].text, "20 C by night" in cautions[1].text] == [True, True]


def test_no_animals_have_no_climate():
    assert shared_climate([]) == (Climate(), ())


def test_the_example_in_the_docstring_runs():
    assert doctest.testmod(module).attempted > 0
    assert doctest.testmod(module).failed == 0
