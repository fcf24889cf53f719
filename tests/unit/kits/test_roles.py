"""Each role: when a build wants it, what does the job, and what is refused with the figure that fails."""

import pytest

from kits.planning.build import draft_build
from kits.planning.registry import ROLES
from kits.terms.needs import Coupling, Need, Tie
from kits.terms.profiles import ROLE_FIGURES
from tests.full_shelf import CRESTED, DESERT, FERN_BOX, OFFERS, spec_of
from tests.known_facts import known_facts

NO_THERMOSTAT = {**DESERT, "without": ["thermostat"]}
HEAT = {"uvb_lamp", "uvb_fixture", "basking_lamp", "lamp_holder", "thermostat", "night_heat"}
WET = {"drainage", "barrier", "mister", "moss", "litter", "mesh_cover"}
T5 = {"technology": "t5", "cap": "G5", "watts": 24}
RAFTER = {"width_mm": 60, "max_watts": 24}
COLD_CRESTED = {**CRESTED, "room": {"temperature_c": 18, "night_temperature_c": 17}}
HIGH_PERCH = {**DESERT, "perches_mm": [{"height": 410, "back": 300}]}
ROOM = {"temperature_c": 24, "night_temperature_c": 20, "relative_humidity_pct": 80}


def build_of(data):
    return draft_build(spec_of(data), facts=known_facts(), owned=owned_in(data)).build


def owned_in(data):
    return {own["role"]: own["figures"] for own in data.get("own", []) if isinstance(own, dict)}


def wanted(data):
    return {role for role, module in ROLES.items() if module.needs(build_of(data))}


def needs(role, data):
    return ROLES[role].needs(build_of(data))


def fit(role, figures, data, slot=0):
    return ROLES[role].fit(needs(role, data)[slot], figures)


def keeping(species, size="90x45x45-glass", **more):
    return {"enclosure": {"size": size}, "animals": [{"species": species, **more}]}


def test_the_roles_are_those_that_profiles_know_in_the_order_of_the_parts_list():
    assert list(ROLES) == list(ROLE_FIGURES)


def test_what_stands_in_the_soil_is_chosen_first():
    assert {code for code, role in ROLES.items() if role.IN_SOIL} == {"hide", "climb", "water_dish", "plant"}


def test_a_small_planted_box_wants_no_animal_things():
    assert wanted(FERN_BOX) == {
        "drainage", "barrier", "substrate", "inoculant", "moss", "litter", "bark", "cleanup_crew", "plant",
        "plant_light", "timer", "thermometer", "hygrometer", "mister", "drain_tube", "mesh_cover",
        "residual_current_device",
    }  # fmt: skip


def test_mains_beside_a_water_dish_wants_a_residual_current_device():
    assert "residual_current_device" in wanted(DESERT)


def test_amphibians_get_no_hot_lamp_for_a_cold_room():
    frogs = keeping("dendrobates-auratus", "45x45x45-glass")
    assert not wanted({**frogs, "room": {"temperature_c": 18}}) & {"basking_lamp", "lamp_holder"}


def test_ground_animals_hide_at_the_warm_and_at_the_cool_end():
    (dry, *_) = needs("hide", keeping("python-regius", "120x60x60-glass"))
    assert dry.count == 2


def test_a_cover_cannot_keep_a_box_with_mesh_walls_humid():
    dry_room = {"room": {"relative_humidity_pct": 30}}
    assert not needs("mesh_cover", {**keeping("furcifer-pardalis", "60x60x120-mesh"), **dry_room})


def test_only_animals_that_lick_mixes_get_a_feeding_ledge():
    assert needs("feeding_ledge", CRESTED)
    assert not needs("feeding_ledge", keeping("furcifer-pardalis", "60x60x120-mesh"))


def test_no_lamp_is_planned_for_plants_that_have_no_soil():
    bare = {**FERN_BOX, "depths_mm": {"substrate_front": 0, "substrate_back": 0}}
    assert "plant_light" not in wanted(bare)


def test_a_dimmer_is_wanted_only_where_no_dimming_thermostat_drives_the_lamp():
    assert not needs("dimmer", DESERT)
    assert needs("dimmer", NO_THERMOSTAT)
    assert needs("dimmer", {**DESERT, "own": [{"role": "thermostat", "figures": {"kind": "on-off"}}]})


def test_a_desert_wants_heat_and_uv_and_nothing_wet():
    roles = wanted(DESERT)
    assert roles >= HEAT
    assert not roles & WET


def test_a_climbing_fruit_eater_wants_branches_and_a_ledge():
    assert wanted(CRESTED) >= {"climb", "feeding_ledge", "hide", "water_dish", "supplement", "enclosure"}


def test_snakes_want_no_supplements_and_frogs_want_soft_water():
    assert "supplement" not in wanted(keeping("pantherophis-guttatus"))
    assert "water_conditioner" in wanted(keeping("dendrobates-auratus"))


@pytest.mark.parametrize(("night_c", "wants"), [(18, False), (17.9, True)])
def test_night_heat_starts_where_the_room_is_colder_than_the_animals_may_have_it(night_c, wants):
    room = {"temperature_c": 22, "night_temperature_c": night_c}
    assert ("night_heat" in wanted({**CRESTED, "room": room})) is wants


@pytest.mark.parametrize(("day_c", "wants"), [(20, False), (19.5, True)])
def test_day_heat_starts_where_a_room_with_its_lamps_on_is_colder_than_the_day_band(day_c, wants):
    room = {"temperature_c": day_c, "night_temperature_c": 18}
    assert ("basking_lamp" in wanted({**CRESTED, "room": room})) is wants


def test_each_heater_has_a_thermostat_of_its_own():
    slots = [need.slot for need in needs("thermostat", DESERT)]
    assert slots == ["basking_lamp", "night_heat"]


def test_a_humid_room_needs_no_cover_on_the_mesh():
    assert "mesh_cover" not in wanted({**FERN_BOX, "room": ROOM})


def test_a_large_humid_box_is_misted_by_pump_first():
    big = {"enclosure": {"size": "60x60x120-mesh"}, "style": "humid-forest"}
    ranks = [fit("mister", {"kind": kind, "tank_l": 1}, big).rank for kind in ("hand", "pump")]
    assert ranks == [1, 0]
    assert [fit("mister", {"kind": kind}, FERN_BOX).rank for kind in ("hand", "pump")] == [0, 1]


def test_of_tubes_too_short_for_half_a_box_the_longest_comes_first():
    wide = {**DESERT, "enclosure": {"interior_mm": {"width": 2500, "depth": 900, "height": 900}}}
    read = {"uvi_ref": 20, "uvi_ref_mm": 300, "loss_a_year": 0}
    tubes = [{**T5, **read, "length_mm": length} for length in (1449, 1149, 849, 288)]
    compact = {**read, "technology": "compact", "cap": "E26", "watts": 26}
    ranks = [fit("uvb_lamp", figures, wide).rank for figures in (*tubes, compact)]
    assert ranks == sorted(set(ranks))


def test_a_style_that_is_misted_is_misted_whatever_its_animals_stand():
    assert "mister" in wanted(keeping("chamaeleo-calyptratus", "60x60x120-mesh"))


def test_one_suitable_species_does_not_fill_the_whole_floor():
    found = needs("plant", keeping("thamnophis-sirtalis", "120x60x60-pvc"))
    assert sum(need.count for need in found) <= 5 * len(found[0].wanted["suited"])


def test_hides_are_counted_by_animals_and_a_damp_one_comes_on_top():
    found = needs("hide", keeping("eublepharis-macularius", count=2))
    assert [(need.slot, need.count) for need in found] == [("dry", 2), ("humid", 2)]


def test_the_crew_is_dosed_by_footprint():
    found = {need.slot: need.wanted["starters"] for need in needs("cleanup_crew", CRESTED)}
    assert found["springtail"]["folsomia-candida"] == pytest.approx(775 * 0.196249)
    assert found["isopod"]["trichorhina-tomentosa"] == pytest.approx(100 * 0.196249)


def test_no_crew_is_wanted_where_none_suits():
    assert "cleanup_crew" not in wanted(DESERT)


def test_plants_stand_in_slots_of_different_species():
    found = needs("plant", CRESTED)
    assert sum(need.count for need in found) == 6
    assert all(need.distinct for need in found)
    assert {need.wanted["position"] for need in found} == {"back", "middle", "front"}


def test_a_plant_that_outgrows_the_box_is_refused_with_its_height():
    refusal = fit("plant", {"species": "chamaedorea-elegans"}, FERN_BOX).refusal
    assert "grows to 1800 mm" in refusal


def test_a_toxic_plant_is_refused():
    assert "listed toxic" in fit("plant", {"species": "begonia-rex"}, CRESTED).refusal


REFUSED = [
    ("enclosure", {"size": "20x20x30-glass"}, CRESTED, "the build is for 45x45x60-glass"),
    ("drainage", {"litres": 2, "void_fraction": 0.1}, CRESTED, "void fraction of 0.1"),
    ("barrier", {"width_mm": 100, "depth_mm": 100}, CRESTED, "36 sheets of 100 x 100 mm"),
    ("barrier", {"width_mm": 30, "depth_mm": 100}, CRESTED, "no more than the overlap"),
    ("substrate", {"litres": 2, "styles": ["desert"]}, CRESTED, "not for humid-forest"),
    ("bark", {"length_mm": 500, "width_mm": 100}, CRESTED, "more than the 443 mm"),
    ("cleanup_crew", {"taxon": "orchesella-cincta", "animals": 20}, CRESTED, "not listed for the style"),
    (
        "uvb_lamp",
        {"technology": "t5", "cap": "G5", "length_mm": 849, "watts": 39, "zones": [1]},
        CRESTED,
        "563 mm",
    ),
    (
        "uvb_lamp",
        {"technology": "t5", "cap": "G5", "length_mm": 549, "watts": 24, "zones": [4]},
        CRESTED,
        "zone 4",
    ),
    (
        "uvb_fixture",
        {"length_mm": 600, "width_mm": 60, "max_watts": 24},
        CRESTED,
        "600 mm are more than 443 mm",
    ),
    (
        "uvb_fixture",
        {"length_mm": 549, "width_mm": 60, "max_watts": 24, "overhang_mm": 40},
        CRESTED,
        "and 40 mm",
    ),
    ("plant_light", {"length_mm": 900, "width_mm": 30, "flux_umol_s": 90}, CRESTED, "stand out over"),
    ("plant_light", {"length_mm": 160, "width_mm": 30, "flux_umol_s": 2}, CRESTED, "23 would be needed"),
    ("basking_lamp", {"cap": "E26", "watts": 10}, DESERT, "makes the surface 38 C; wanted 47-55 C"),
    ("basking_lamp", {"cap": "E26", "watts": 1000}, DESERT, "less than lamps are dimmed to"),
    (
        "basking_lamp",
        {"cap": "E26", "watts": 30, "beam_deg": 120},
        HIGH_PERCH,
        "full sun (1000): a burn risk",
    ),
    ("basking_lamp", {"cap": "E26", "watts": 250}, COLD_CRESTED, "brings 98 W of heat into the box"),
    ("lamp_holder", {"cap": "E26", "max_watts": 60, "diameter_mm": 700}, DESERT, "diameter of 700 mm"),
    ("thermostat", {"max_watts": 300, "for": ["night_heat"]}, DESERT, "not a basking lamp"),
    ("night_heat", {"watts": 500, "lightless": True}, DESERT, "too much for the box"),
    ("night_heat", {"watts": 20, "lightless": False}, DESERT, "gives light"),
    ("night_heat", {"watts": 60, "lightless": True, "cap": "E26"}, DESERT, "a holder E26 of its own"),
    (
        "night_heat",
        {"watts": 60, "lightless": True, "length_mm": 1200, "width_mm": 400},
        DESERT,
        "1 of 1200 x 400 mm do not go into",
    ),
    ("hide", {"length_mm": 50, "height_mm": 50}, CRESTED, "50 mm is less than the"),
    ("hide", {"length_mm": 200, "height_mm": 500}, CRESTED, "do not go into"),
    ("climb", {"length_mm": 2000}, CRESTED, "2000 mm lies outside"),
    ("water_dish", {"litres": 1, "diameter_mm": 400}, CRESTED, "diameter of 400 mm"),
    ("water_dish", {"litres": 1, "diameter_mm": 50}, CRESTED, "diameter of 50 mm is less than 78 mm"),
    ("drain_tube", {"length_mm": 100}, CRESTED, "less than 155 mm"),
    ("mesh_cover", {"width_mm": 300, "depth_mm": 300}, CRESTED, "do not cover 443 x 133 mm"),
    ("supplement", {"kind": "vitamin"}, CRESTED, "wanted is calcium-d3 or calcium"),
    ("residual_current_device", {"trip_ma": 100, "max_watts": 1800}, CRESTED, "100 mA, more than 30 mA"),
]


@pytest.mark.parametrize(("role", "figures", "data", "words"), REFUSED)
def test_what_does_not_do_the_job_is_refused_with_its_figure(role, figures, data, words):
    assert words in fit(role, figures, data).refusal


@pytest.mark.parametrize("role", sorted(set(ROLES) - {"hygrometer", "thermometer", "feeding_ledge"}))
def test_an_item_without_figures_is_refused_and_not_a_crash(role):
    data = next(
        d
        for d in (CRESTED, DESERT, keeping("dendrobates-auratus", "45x45x45-glass"), NO_THERMOSTAT)
        if needs(role, d)
    )
    assert fit(role, {}, data).refusal


@pytest.mark.parametrize("offer", OFFERS, ids=lambda offer: offer.ware.item)
def test_no_listed_item_breaks_any_build(offer):
    role = ROLES[offer.role]
    for data in (CRESTED, DESERT, FERN_BOX):
        build = build_of(data)
        for need in role.needs(build):
            assert role.fit(need, offer.figures).each > 0
        assert all(c.level in ("stop", "warning", "note") for c in role.cautions(build, offer.figures))
        assert all(r.every_days > 0 and r.role == offer.role for r in role.reminders(build, offer.figures))


def test_a_tube_rests_on_two_rims_when_its_overhang_is_within_the_limit():
    figures = {"length_mm": 549, "width_mm": 60, "max_watts": 24}
    assert "rest on two rims 443 mm apart, 53 mm over each end" in " ".join(
        fit("uvb_fixture", figures, CRESTED).because
    )


def test_an_open_top_carries_no_fixture_that_is_too_short():
    box = {"interior_mm": {"width": 800, "depth": 500, "height": 500}, "top": {"kind": "open"}}
    data = {"enclosure": box, "animals": [{"species": "pogona-vitticeps"}]}
    assert "do not reach" in fit("uvb_fixture", {"length_mm": 300, "max_watts": 24}, data).refusal


def test_lamp_and_fixture_meet_by_cap_and_length():
    lamp = ROLES["uvb_lamp"].coupling({"cap": "G5", "length_mm": 288, "watts": 8})
    fixture = ROLES["uvb_fixture"].coupling(
        {"cap": "G5", "lamp_length_mm": 288, "max_watts": 8, "width_mm": 60}
    )
    assert lamp.asks == (Tie("uvb_socket", "G5:288", 8),)
    assert fixture.offers[0] == Tie("uvb_socket", "G5:288", 8)
    assert fixture.takes == {"top_depth_mm": 60}


@pytest.mark.parametrize("role", [code for code, role in ROLES.items() if hasattr(role, "coupling")])
def test_a_thing_of_unknown_figures_asks_and_offers_nothing(role):
    assert ROLES[role].coupling({}) == Coupling()


def test_a_dimmer_and_a_thermostat_offer_control_up_to_their_watts():
    assert ROLES["dimmer"].coupling({"max_watts": 150}).offers == (Tie("control", "basking_lamp", 150),)
    both = ROLES["thermostat"].coupling({"max_watts": 300, "for": ["basking_lamp", "night_heat"]})
    assert [tie.key for tie in both.offers] == ["basking_lamp", "night_heat"]


def test_a_product_that_settles_more_does_less_of_the_need():
    loose = fit("litter", {"litres": 2.2, "styles": ["humid-forest"], "settle": 0.6}, CRESTED)
    assert loose.each == pytest.approx(1.4 / 1.6)
    assert isinstance(needs("litter", CRESTED)[0], Need)


@pytest.mark.parametrize(
    ("loads", "sentence"),
    [
        ([], "What it may control is not recorded; a night heat is to be controlled."),
        (["basking_lamp"], "It may control a basking lamp, not a night heat."),
    ],
)
def test_a_thermostat_for_something_else_says_what_it_is_for(loads, sentence):
    need = Need("thermostat", slot="night_heat", count=1, wanted={"load": "night_heat"})
    assert ROLES["thermostat"].fit(need, {"max_watts": 300, "for": loads}).refusal == sentence
