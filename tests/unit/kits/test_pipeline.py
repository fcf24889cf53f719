"""A spec becomes a plan: lines, figures with their workings, cautions, calendar and totals."""

import json

import pytest

from kits.physics import geometry
from kits.planning.registry import ROLES
from kits.terms.plan import Terms
from tests.full_shelf import CRESTED, DESERT, FERN_BOX, OFFERS, PLENTY, line_of, plan_of
from tests.known_facts import known_facts

OWN_LAMPS = {"role": "basking_lamp", "figures": {"watts": 100, "cap": "E26"}}
# So high that a lamp of 40 W does not warm the basking place enough.
TALL = {
    **DESERT,
    "enclosure": {"interior_mm": {"width": 1190, "depth": 590, "height": 750}, "top": {"kind": "solid"}},
}


def levels(plan, about):
    return [caution.level for caution in plan.cautions if caution.about == about]


def told(plan, about):
    return " ".join(caution.text for caution in plan.cautions if caution.about == about)


def working(plan, figure):
    return next(working for working in plan.workings if working.figure == figure)


def without_hardscape():
    return {**CRESTED, "without": ["hide", "climb", "water_dish"]}


def test_the_worked_example_has_its_figures():
    figures = plan_of(without_hardscape()).figures
    expected = {"footprint_m2": 0.196, "drainage_l": 9.81, "substrate_l": 16.7, "litter_l": 4.9,
                "drainage_to_buy_l": 10.1, "substrate_to_buy_l": 18.8, "litter_to_buy_l": 6.9}  # fmt: skip
    assert {key: figures[key] for key in expected} == pytest.approx(expected, rel=0.005)
    assert figures["mesh_mm"] == [443, 443]


def test_buried_hardscape_lowers_the_soil_that_is_bought():
    plan = plan_of(CRESTED)
    buried = 0.1 + 2 * 0.05  # a hide and two branches
    assert working(plan, "substrate_to_buy_l").inputs["displaced_l"] == pytest.approx(buried)
    assert plan.figures["substrate_to_buy_l"] == pytest.approx((16.6812 - buried) * 1.125, abs=0.001)
    assert plan.figures["substrate_l"] == pytest.approx(16.6812, abs=0.0001)


@pytest.mark.parametrize("layer", ["drainage", "substrate", "litter"])
def test_the_litres_to_pour_are_a_published_calculation_that_gives_them_again(layer):
    told = working(plan_of(CRESTED), f"{layer}_to_buy_l")
    assert told.calculation == "geometry.poured_l"
    assert geometry.poured_l(**told.inputs) == pytest.approx(told.value, abs=1e-4)


def test_the_customers_own_hardscape_counts_as_well():
    own = {"role": "hide", "figures": {"length_mm": 200, "height_mm": 80, "buried_l": 1.5}}
    plan = plan_of({**CRESTED, "own": [own], "without": ["climb"]})
    assert working(plan, "substrate_to_buy_l").inputs["displaced_l"] == 1.5


def test_every_figure_has_its_working_with_a_source():
    plan = plan_of(CRESTED)
    assert set(plan.figures) <= {w.figure for w in plan.workings}
    assert all(w.source and w.formula for w in plan.workings)


def test_figures_that_do_not_apply_are_absent():
    figures = plan_of(DESERT).figures
    assert not {"drainage_l", "drainage_to_buy_l", "litter_l", "mesh_mm", "uvi_at_basking"} & set(figures)


def test_figures_of_light_heat_and_water_are_marked_as_estimates():
    dry, wet = plan_of(DESERT), plan_of(CRESTED)
    assert dry.figures.keys() >= {"heat_loss_w_k", "heat_needed_w", "basking_surface_c"}
    assert wet.figures.keys() >= {
        "reservoir_l",
        "container_capacity_pct",
        "first_watering_l",
        "misting_l_day",
    }
    found = [w for w in (*dry.workings, *wet.workings) if w.figure in ("heat_needed_w", "misting_l_day")]
    assert all("estimate" in working.note for working in found)


def test_lines_stand_in_the_order_of_the_parts_list_and_extras_come_last():
    plan = plan_of({**CRESTED, "extra": [{"item": "SOFT-500", "quantity": 2}]})
    roles = [line.role for line in plan.lines]
    assert (roles[0], roles[1], roles[-1]) == ("enclosure", "drainage", "extra")
    assert plan.lines[-1].quantity == 2


def test_a_measured_box_is_not_sold_again():
    assert line_of(plan_of(FERN_BOX), "enclosure") is None


def test_a_small_planted_box_is_complete_from_normal_stock():
    assert plan_of(FERN_BOX).complete


def test_what_is_not_free_makes_the_plan_incomplete_and_says_how_much_is_missing():
    line = line_of(plan := plan_of(CRESTED, stock={**PLENTY, "LIMB-45": 1}), "climb")
    assert (line.status, line.free, line.missing, plan.complete) == ("short", 1, 1, False)


def test_a_role_that_nothing_does_is_unmet_with_its_reason():
    plan = plan_of(DESERT)
    assert [unmet.role for unmet in plan.unmet] == ["uvb_lamp"]
    assert "UV zone" in plan.unmet[0].because


def test_what_the_customer_has_or_does_not_want_is_not_bought():
    plan = plan_of({**CRESTED, "own": ["thermometer"], "without": ["mister"]})
    assert line_of(plan, "thermometer") is None
    assert line_of(plan, "mister") is None
    assert "Left out as asked: mister." in told(plan, "mister")


def test_one_plant_is_left_out_and_the_rest_of_the_kit_stays():
    whole = plan_of(CRESTED)
    first, *others = [line.item for line in whole.lines if line.role == "plant"]
    plan = plan_of({**CRESTED, "without": [{"role": "plant", "item": first}]})
    assert [line.item for line in plan.lines if line.role == "plant"] == others
    assert len(plan.lines) == len(whole.lines) - 1
    assert not plan.unmet
    assert "Left out as asked" in told(plan, "plant")
    assert first not in str(plan.scene)


def test_soil_fills_the_place_of_a_hide_that_is_left_out_by_itself():
    plan = plan_of({**CRESTED, "without": [{"role": "hide", "item": "HUT-20"}]})
    assert line_of(plan, "hide") is None
    assert working(plan, "substrate_to_buy_l").inputs["displaced_l"] == pytest.approx(2 * 0.05)  # branches


def test_the_customers_own_thing_that_does_not_do_the_job_is_cautioned_with_its_figure():
    plan = plan_of({**CRESTED, "own": [{"role": "hide", "figures": {"length_mm": 40, "height_mm": 40}}]})
    assert "The customer's own hide: Its length of 40 mm is less than" in told(plan, "hide")


COLD = {**DESERT, "room": {**DESERT["room"], "night_temperature_c": 5}}
SMALL_HEATER = {"role": "night_heat", "figures": {"watts": 20, "kind": "panel", "lightless": True}}


@pytest.mark.parametrize(
    ("spec", "own", "figure"),
    [
        (DESERT, {"role": "hide", "item": "HUT-20"}, "does not hold damp"),
        (CRESTED, {"role": "mesh_cover", "figures": {"width_mm": 200, "depth_mm": 190}}, "200 x 190 mm"),
        (COLD, SMALL_HEATER, "20 W are less than a third of the 117 W"),
        (COLD, {"role": "night_heat", "item": "PANEL-80"}, "It takes 2 of them."),
    ],
)
def test_the_customers_own_item_that_is_too_small_is_a_warning_with_the_figure(spec, own, figure):
    plan = plan_of({**spec, "own": [own]})
    said = [c for c in plan.cautions if c.about == own["role"] and "customer's own" in c.text]
    assert [caution.level for caution in said] == ["warning"]
    assert figure in said[0].text


def test_the_customers_own_item_that_does_the_job_is_not_cautioned():
    plan = plan_of({**DESERT, "own": [{"role": "hide", "item": "HUT-45"}]})
    assert "customer's own" not in told(plan, "hide")


def test_the_customers_own_item_is_looked_up_in_its_role():
    plan = plan_of({**DESERT, "own": [{"role": "lamp_holder", "item": "DOME-60"}]})
    assert line_of(plan, "lamp_holder") is None
    assert line_of(plan, "basking_lamp").item == "SPOT-40"  # the customer's holder does not carry 75 W
    wrong = plan_of({**DESERT, "own": [{"role": "lamp_holder", "item": "DISH-1"}]})
    assert "DISH-1 is not listed as lamp holder" in told(wrong, "lamp_holder")


def test_a_lamp_is_never_chosen_above_the_rating_of_its_holder():
    plan = plan_of({**TALL, "choose": {"lamp_holder": ["DOME-60"]}})
    assert (line_of(plan, "lamp_holder").item, line_of(plan, "basking_lamp")) == ("DOME-60", None)
    assert any(unmet.role == "basking_lamp" for unmet in plan.unmet)


def test_a_lamp_and_a_holder_chosen_by_name_against_the_rating_are_a_stop():
    plan = plan_of({**DESERT, "choose": {"lamp_holder": ["DOME-60"], "basking_lamp": ["SPOT-75"]}})
    assert line_of(plan, "basking_lamp").item == "SPOT-75"
    assert "The basking lamp of 75 W is above the 60 W" in told(plan, "lamp_holder")
    assert plan.stops


def test_the_customers_own_lamp_above_the_rating_of_their_holder_is_a_stop():
    plan = plan_of({**DESERT, "own": [OWN_LAMPS, {"role": "lamp_holder", "figures": {"max_watts": 60}}]})
    assert "The basking lamp of 100 W is above the 60 W" in told(plan, "lamp_holder")
    assert "lamp_holder" in [caution.about for caution in plan.stops]


@pytest.mark.parametrize("size", sorted(known_facts().enclosures))
@pytest.mark.parametrize("species", ["correlophus-ciliatus", "pogona-vitticeps", "tiliqua-scincoides"])
def test_a_chosen_tube_and_its_fixture_have_the_same_socket(size, species):
    plan = plan_of({"enclosure": {"size": size}, "animals": [{"species": species}]})
    chosen = {line.role: line.item for line in plan.lines}
    if {"uvb_lamp", "uvb_fixture"} <= set(chosen):
        keys = [tie.key for role in ("uvb_lamp", "uvb_fixture") for tie in ties_of(role, chosen[role])]
        assert keys[0] == keys[1]


def ties_of(role, item):
    (offer,) = (offer for offer in OFFERS if (offer.role, offer.ware.item) == (role, item))
    coupling = ROLES[role].coupling(offer.figures)
    return (*coupling.asks, *coupling.offers)


def test_what_the_customer_has_of_one_pair_leaves_the_other_pair_alone():
    for role, other in (("lamp_holder", "uvb_fixture"), ("uvb_fixture", "lamp_holder")):
        plan = plan_of({**DESERT, "own": [role]})
        assert other not in [unmet.role for unmet in plan.unmet]


def test_a_room_too_cold_for_frogs_is_told_instead_of_lit():
    frogs = [{"species": "dendrobates-auratus"}]
    plan = plan_of({"enclosure": {"size": "45x45x45-glass"}, "animals": frogs, "room": {"temperature_c": 18}})
    assert "A hot lamp would dry them out" in told(plan, "day_temperature")


def test_a_kit_without_the_uvb_lamp_that_its_animals_need_is_cautioned():
    plan = plan_of({**CRESTED, "without": ["uvb_lamp"]})
    assert "ask a vet how the animals then get their vitamin D" in told(plan, "uvb_lamp")
    assert line_of(plan, "uvb_fixture") is None


def test_a_thermostat_rated_below_its_heaters_is_a_stop():
    weak = {"role": "thermostat", "figures": {"max_watts": 30, "for": ["basking_lamp", "night_heat"]}}
    plan = plan_of({**DESERT, "own": [OWN_LAMPS, weak]})
    assert "hang on the thermostat, which is rated for 30 W" in told(plan, "thermostat")
    assert "thermostat" in [caution.about for caution in plan.stops]


def test_no_lamp_is_sold_onto_an_owned_thermostat_that_is_too_weak():
    weak = {"role": "thermostat", "figures": {"max_watts": 30, "for": ["basking_lamp", "night_heat"]}}
    plan = plan_of({**DESERT, "own": [weak]})
    assert line_of(plan, "basking_lamp") is None
    (unmet,) = (unmet.because for unmet in plan.unmet if unmet.role == "basking_lamp")
    assert "control basking lamp that it needs for 40 W" in unmet


def test_an_owned_holder_of_unknown_rating_asks_for_its_label():
    assert "Read the label" in told(plan_of({**DESERT, "own": ["lamp_holder"]}), "lamp_holder")


def test_an_item_chosen_for_a_job_that_it_does_not_do_is_kept_and_cautioned():
    plan = plan_of({**CRESTED, "choose": {"substrate": ["SANDSOIL-2.2"]}})
    assert line_of(plan, "substrate").item == "SANDSOIL-2.2"
    assert "was chosen by name" in told(plan, "substrate")


def test_the_circuit_is_held_against_its_continuous_limit():
    assert levels(plan_of(CRESTED), "power_w") == []
    assert levels(plan_of(CRESTED, terms=Terms(breaker_a=0.6)), "power_w") == ["warning"]
    assert levels(plan_of(CRESTED, terms=Terms(breaker_a=0.4)), "power_w") == ["stop"]


def test_running_cost_is_energy_times_the_price_of_the_house():
    plan = plan_of(FERN_BOX, terms=Terms(electricity_per_kwh=0.20))
    assert plan.figures["running_cost_month"] == "0.73"  # two of 5 W x 12 h x 30.4 days x 0.20
    assert working(plan, "running_cost_month").inputs["plant_light_h_day"] == 12


def test_the_filled_box_is_heavier_than_its_glass_and_its_wet_soil():
    mass = plan_of(CRESTED).figures["installed_kg"]
    assert 12.8 + 16.48 * 0.9 < mass < 50


@pytest.mark.parametrize(
    ("data", "about", "words"),
    [
        (CRESTED, "animals", "Salmonella"),
        (CRESTED, "correlophus-ciliatus", "check locally."),
        (CRESTED, "residual_current_device", "drip loop"),
        (CRESTED, "uvb_lamp", "never look into the lit lamp"),
        (DESERT, "basking_lamp", "burns skin and sets fire"),
        (DESERT, "uromastyx-geyri", "CITES App. II"),
        (FERN_BOX, "live", "travel only on days without frost"),
        (FERN_BOX, "figures", "estimates"),
        (FERN_BOX, "installed_kg", "with two people"),
    ],
)
def test_the_usual_cautions_are_given(data, about, words):
    assert words in told(plan_of(data), about)


def test_cautions_stand_gravest_first_and_only_once():
    cautions = plan_of({**DESERT, "room": {"temperature_c": 40}}).cautions
    order = ["stop", "warning", "note"]
    assert [order.index(c.level) for c in cautions] == sorted(order.index(c.level) for c in cautions)
    assert len(set(cautions)) == len(cautions)


def test_the_calendar_holds_upkeep_of_what_the_kit_has_the_most_frequent_first():
    calendar = plan_of(CRESTED).calendar
    assert [r.every_days for r in calendar] == sorted(r.every_days for r in calendar)
    assert ("uvb_lamp", 300) in {(r.role, r.every_days) for r in calendar}  # the lamp's own life
    assert "night_heat" not in {r.role for r in calendar}


def test_a_plan_is_plain_json_and_the_same_every_time():
    first, second = (json.dumps(plan_of(CRESTED).as_json(), allow_nan=False) for _ in range(2))
    assert first == second
    assert json.loads(first)["spec"] == CRESTED


def test_the_total_is_the_sum_of_the_lines_and_the_tax():
    plan = plan_of(CRESTED)
    assert plan.totals.net_cents == sum(line.total_cents for line in plan.lines)
    assert plan.totals.gross_cents == plan.totals.net_cents + plan.totals.tax_cents


def test_a_lamp_that_is_added_by_hand_is_said_to_be_in_no_figure():
    lamp = line_of(plan_of(DESERT), "basking_lamp").item
    added = plan_of({**DESERT, "extra": [{"item": lamp, "quantity": 1}]})
    assert "was added by hand: its heat and light are not in the figures" in told(added, "basking_lamp")
    assert "added by hand" not in told(plan_of(DESERT), "basking_lamp")
