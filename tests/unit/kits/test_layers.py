"""Depths: what was asked for is kept, what was left out is worked out and cut back at the sill."""

import pytest

from kits.planning.layers import lay
from kits.terms.build import Box, Occupant
from tests.known_facts import known_facts

FACTS = known_facts()


def box(height=592.0, sill=165.0, width=443.0, depth=443.0):
    return Box(width, depth, height, sill, "glass", 4, "mesh", 0.66)


def laid(asked, of=None, style="humid-forest", animals=()):
    occupants = [Occupant(FACTS.animals[code], 1, "adult", "unknown") for code in animals]
    return lay(asked, of or box(), FACTS.styles[style], occupants)


def told(cautions):
    return " ".join(caution.text for caution in cautions)


ASKED = {"drainage": 50, "substrate_front": 60, "substrate_back": 110, "litter": 25}


def test_depths_that_were_asked_for_are_kept_to_the_millimetre():
    layers, cautions = laid(ASKED)
    depths = {name: (layer.front_mm, layer.back_mm) for name, layer in layers.items()}
    assert depths == {"drainage": (50, 50), "substrate": (60, 110), "litter": (25, 25)}
    assert cautions == ()


def test_volumes_are_footprint_times_mean_depth():
    layers, _ = laid(ASKED)
    litres = {name: layer.litres for name, layer in layers.items()}
    assert litres == pytest.approx({"drainage": 9.812, "substrate": 16.681, "litter": 4.906}, abs=0.001)


def test_depths_that_were_left_out_stop_at_the_sill_and_say_so():
    layers, cautions = laid({}, box(sill=80))
    fronts = [layer.front_mm for layer in layers.values()]
    assert all(front == int(front) for front in fronts)
    assert 80 - len(fronts) < sum(fronts) <= 80
    assert "cut back from 125 to 79 mm at the front (sill 80 mm" in told(cautions)


def test_only_what_was_left_out_is_cut_back():
    layers, _ = laid({"drainage": 50}, box(sill=100))
    assert layers["drainage"].front_mm == 50
    assert 48 < layers["substrate"].front_mm + layers["litter"].front_mm <= 50


def test_an_explicit_depth_above_the_sill_is_kept_and_cautioned():
    layers, cautions = laid({**ASKED, "substrate_front": 150, "substrate_back": 150})
    assert layers["substrate"].front_mm == 150
    assert "225 mm high at the front, above the sill of 165 mm" in told(cautions)


def test_little_air_is_cautioned():
    _, cautions = laid({"substrate_front": 100, "substrate_back": 500, "drainage": 0, "litter": 0})
    assert "Only 92 of 592 mm stay air" in told(cautions)


def test_a_depth_of_zero_means_no_layer():
    layers, _ = laid({"drainage": 0, "litter": 0})
    assert set(layers) == {"substrate"}


def test_a_style_without_drainage_has_none_unless_it_is_asked_for():
    assert "drainage" not in laid({}, style="desert")[0]
    assert laid({"drainage": 40}, style="desert")[0]["drainage"].front_mm == 40


def test_the_animal_decides_over_the_style():
    layers, _ = laid({}, box(height=900, sill=300), "dry-scrub", ["uromastyx-geyri"])
    assert (layers["substrate"].front_mm, layers["substrate"].back_mm) == (100, 200)


def test_soil_too_shallow_for_a_digger_is_cautioned():
    _, cautions = laid({}, box(sill=60), "deep-soil", ["testudo-horsfieldii"])
    assert "less than the 150 mm that" in told(cautions)


def test_the_soil_never_slopes_down_to_the_back_unless_asked_for():
    layers, _ = laid({"substrate_front": 140}, box(sill=165))
    assert layers["substrate"].back_mm >= 140


def test_whatever_is_asked_some_air_is_left_above_what_is_worked_out():
    layers, _ = laid({"drainage": 280}, box(height=290, sill=80))
    assert sum(layer.back_mm for layer in layers.values()) < 290
