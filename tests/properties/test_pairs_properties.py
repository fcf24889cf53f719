"""No plan lists half a pair: what carries a load that is not to be had, or a load that nothing carries."""

from hypothesis import given, settings
from hypothesis import strategies as st

from kits.planning.shelf import Shelf
from tests.full_shelf import CRESTED, OFFERS
from tests.lit_shelf import offers, plan_of, rafter, read, spot

CARRIED_BY = {
    "uvb_lamp": ("uvb_fixture",),
    "basking_lamp": ("lamp_holder", "dimmer", "thermostat"),
    "night_heat": ("thermostat",),
}
ROLES = sorted({*CARRIED_BY, *(one for carriers in CARRIED_BY.values() for one in carriers)})
THINGS = (
    ("WEAK", "uvb_lamp", 2400, read(0.4)),
    ("STRONG", "uvb_lamp", 2600, read(3.0)),
    ("OTHER-CAP", "uvb_lamp", 2700, {**read(3.0), "cap": "G13"}),
    ("BEAM", "uvb_fixture", 3900, rafter(reflector_share=1.0)),
    ("SLIM", "uvb_fixture", 2900, rafter(reflector_share=0.5)),
    ("BEAM-849", "uvb_fixture", 4900, rafter(849, 39, reflector_share=1.0)),
    ("WARM-25", "basking_lamp", 800, spot(25)),
    ("WARM-100", "basking_lamp", 1050, spot(100)),
    ("WARM-E27", "basking_lamp", 1000, {**spot(75), "cap": "E27"}),
    ("NIGHT-5", "thermostat", 2000, {"max_watts": 5, "kind": "on-off", "for": ["night_heat"]}),
    ("DIM-300", "thermostat", 9000, {"max_watts": 300, "kind": "dimming", "for": ["basking_lamp"]}),
)
POOL = [*(one for one in OFFERS if one.role in {*ROLES, "enclosure"}), *offers(THINGS)]
NAMES = [(one.role, one.ware.item) for one in POOL if one.role in ROLES]
DRY = {
    "enclosure": {"size": "120x60x60-pvc"},
    "animals": [{"species": "pogona-vitticeps"}],
    "room": {"temperature_c": 22, "night_temperature_c": 12, "relative_humidity_pct": 40},
    "perches_mm": [{"height": 250, "back": 290}],
}
COLD = {**CRESTED, "room": {"temperature_c": 12, "night_temperature_c": 8, "relative_humidity_pct": 45}}


@st.composite
def asked(draw):
    """A spec with things that its customer has, does without or names."""
    data = dict(draw(st.sampled_from([DRY, CRESTED, COLD])))
    kept_out = draw(st.dictionaries(st.sampled_from(ROLES), st.sampled_from(["own", "without"]), max_size=2))
    for key in ("own", "without"):
        data[key] = [role for role, what in kept_out.items() if what == key]
    named = draw(st.lists(st.sampled_from(NAMES), max_size=1))
    data["choose"] = {role: [item] for role, item in named if role not in kept_out}
    data["fill"] = draw(st.sampled_from(["preferred", "free"]))
    return data


@settings(max_examples=250, deadline=None)
@given(asked(), st.sets(st.sampled_from(range(len(POOL)))), st.integers(0, 2))
def test_no_plan_lists_half_a_pair(data, left, stock):
    kept = [one for number, one in enumerate(POOL) if number in left or one.role == "enclosure"]
    shelf = Shelf.build([one.ware for one in POOL], kept)
    plan = plan_of(data, shelf=shelf, stock={one.ware.item: stock for one in POOL})
    listed, gone = {line.role for line in plan.lines}, {one.role for one in plan.unmet}
    for role in listed & set(ROLES) - set(data["choose"]):
        loads = [load for load, carriers in CARRIED_BY.items() if role in carriers]
        assert not loads or {*listed, *data["own"]} & set(loads), f"{role} carries nothing"
    for load in listed & set(CARRIED_BY) - set(data["choose"]):
        assert not gone & set(CARRIED_BY[load]) - {"thermostat"}, f"nothing carries the {load}"
    if "thermostat" in gone and "thermostat" not in data["choose"]:
        controls = sum(line.quantity for line in plan.lines if line.role == "thermostat")
        heaters = {"basking_lamp", "night_heat"} & {*listed, *data["own"]} - set(data["choose"])
        assert len(heaters - set(data["own"])) <= controls
