"""What a profile may say: every role of the published interface, and every way a figure can be wrong."""

import pytest

from kits.terms.profiles import ROLE_FIGURES, figure_faults

ROLES = [
    "enclosure", "drainage", "barrier", "substrate", "inoculant", "moss", "litter", "bark", "cleanup_crew",
    "plant", "uvb_lamp", "uvb_fixture", "plant_light", "basking_lamp", "lamp_holder", "dimmer", "thermostat",
    "night_heat", "timer", "thermometer", "hygrometer", "hide", "climb", "water_dish", "mister", "drain_tube",
    "mesh_cover", "feeding_ledge", "supplement", "water_conditioner", "residual_current_device",
]  # fmt: skip
SUBSTRATE = {"litres": 6.6, "family": "floor", "styles": ["humid-forest"], "settle": 0.125, "mix": None}


def details(role, figures):
    return [fault.detail for fault in figure_faults(role, figures)]


def test_every_role_has_its_figures():
    assert set(ROLE_FIGURES) == set(ROLES)


def test_a_good_profile_has_no_faults():
    assert details("substrate", SUBSTRATE) == []


@pytest.mark.parametrize(
    ("role", "figures", "detail"),
    [
        ("lid", {}, "There is no role 'lid'."),
        ("dimmer", {}, "The role dimmer needs the figure 'max_watts'."),
        ("dimmer", {"max_watts": 60, "colour": 1}, "The role dimmer has no figure 'colour'."),
        ("dimmer", {"max_watts": 0}, "The figure 'max_watts' must be a number above zero, not 0."),
        ("dimmer", {"max_watts": True}, "The figure 'max_watts' must be a number above zero, not True."),
        (
            "dimmer",
            {"max_watts": float("nan")},
            "The figure 'max_watts' must be a number above zero, not nan.",
        ),
        ("barrier", {"width_mm": 450}, "A barrier needs the figure 'depth_mm' or 'length_mm'."),
        ("enclosure", {"size": " "}, "The figure 'size' must be text, not ' '."),
        ("thermometer", {"probes": 1.5}, "The figure 'probes' must be a whole number above zero, not 1.5."),
        (
            "supplement",
            {"kind": "iron"},
            "The figure 'kind' must be one of calcium, calcium-d3, vitamin, not 'iron'.",
        ),
        (
            "substrate",
            {**SUBSTRATE, "styles": ["jungle"]},
            "The figure 'styles' must be a list of styles, not ['jungle'].",
        ),
        (
            "substrate",
            {**SUBSTRATE, "settle": 1.2},
            "The figure 'settle' must be a share between 0 and 1, not 1.2.",
        ),
    ],
)
def test_each_fault_is_a_sentence_that_names_the_figure(role, figures, detail):
    assert details(role, figures) == [detail]
