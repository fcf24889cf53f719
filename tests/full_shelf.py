"""A small invented shelf with something for every role, and plans made from it."""

from kits.planning import pipeline
from kits.planning.shelf import Shelf
from kits.planning.spec import read_spec
from kits.terms.needs import Offer, Ware
from kits.terms.plan import Terms
from tests.known_facts import known_facts

FOREST = ["humid-forest", "seasonal-forest", "temperate-woodland", "water-margin"]
DRY = ["dry-scrub", "desert", "deep-soil"]
ALL_STYLES = FOREST + DRY
ENCLOSURES = ("20x20x30-glass", "45x45x60-glass", "90x45x45-glass", "120x60x60-pvc")
PLANTS = (
    "fittonia-albivenis",
    "pilea-nummulariifolia",
    "pilea-cadierei",
    "haworthiopsis-attenuata",
    "peperomia-obtusifolia",
    "asplenium-scolopendrium",
    "soleirolia-soleirolii",
)
CREWS = {
    "folsomia-candida": 300,
    "orchesella-cincta": 200,
    "trichorhina-tomentosa": 25,
    "porcellionides-pruinosus": 25,
}
LAMPS = ((288, 8), (549, 24), (849, 39))
THINGS = (
    ("ROOT-45", "barrier", 550, {"width_mm": 450, "depth_mm": 450}),
    ("WAKE-12", "inoculant", 750, {"treats_l": 12}),
    ("FLAT-15", "bark", 550, {"length_mm": 150, "width_mm": 100, "styles": ALL_STYLES}),
    (
        "BAR-160",
        "plant_light",
        1800,
        {"kind": "bar", "length_mm": 160, "width_mm": 30, "watts": 5, "flux_umol_s": 8},
    ),
    (
        "BAR-560",
        "plant_light",
        4100,
        {"kind": "bar", "length_mm": 560, "width_mm": 40, "watts": 40, "flux_umol_s": 90},
    ),
    ("SPOT-40", "basking_lamp", 850, {"cap": "E26", "watts": 40, "kind": "halogen", "life_days": 120}),
    ("SPOT-75", "basking_lamp", 950, {"cap": "E26", "watts": 75, "kind": "halogen", "life_days": 120}),
    ("DOME-60", "lamp_holder", 1300, {"cap": "E26", "max_watts": 60, "diameter_mm": 140}),
    ("DOME-160", "lamp_holder", 2300, {"cap": "E26", "max_watts": 160, "diameter_mm": 140}),
    ("EASE-150", "dimmer", 1800, {"max_watts": 150}),
    (
        "STEADY-300",
        "thermostat",
        7400,
        {"max_watts": 300, "kind": "pulse", "for": ["basking_lamp", "night_heat"]},
    ),
    ("PANEL-20", "night_heat", 3900, {"watts": 20, "kind": "panel", "cap": None, "lightless": True}),
    ("PANEL-80", "night_heat", 5900, {"watts": 80, "kind": "panel", "cap": None, "lightless": True}),
    ("COAL-60", "night_heat", 1500, {"watts": 60, "kind": "ceramic", "cap": "E26", "lightless": True}),
    ("TURN-2", "timer", 1100, {"max_watts": 1500, "outlets": 2}),
    ("DIAL-T2", "thermometer", 1500, {"probes": 2}),
    ("DIAL-H", "hygrometer", 1100, {"probes": 1}),
    (
        "HUT-20",
        "hide",
        1400,
        {"length_mm": 200, "width_mm": 140, "height_mm": 80, "humid": False, "buried_l": 0.1},
    ),
    (
        "HUT-45",
        "hide",
        2400,
        {"length_mm": 430, "width_mm": 300, "height_mm": 140, "humid": True, "buried_l": 0.7},
    ),
    ("LIMB-45", "climb", 1400, {"length_mm": 450, "diameter_mm": 40, "buried_l": 0.05}),
    ("DISH-1", "water_dish", 650, {"litres": 0.1, "diameter_mm": 90}),
    ("DISH-3", "water_dish", 1650, {"litres": 1.5, "diameter_mm": 220}),
    ("SPRAY-1", "mister", 800, {"kind": "hand", "tank_l": 1}),
    ("RAIN-2", "mister", 8900, {"kind": "pump", "tank_l": 4, "nozzles": 2, "watts": 24}),
    ("STRAW-30", "drain_tube", 400, {"length_mm": 300, "diameter_mm": 8}),
    ("SIEVE-60", "mesh_cover", 1800, {"width_mm": 600, "depth_mm": 600}),
    ("PERCH-1", "feeding_ledge", 900, {"cups": 1}),
    ("CHALK-D3", "supplement", 850, {"kind": "calcium-d3"}),
    ("CHALK", "supplement", 750, {"kind": "calcium"}),
    ("VITE", "supplement", 1100, {"kind": "vitamin"}),
    ("SOFT-500", "water_conditioner", 900, {"treats_l": 500}),
    ("TRIP-1", "residual_current_device", 2600, {"max_watts": 1800, "trip_ma": 5}),
)


def _ware(item, cents, **more):
    return Ware(item, f"Invented {item.lower()}", "piece", cents, tax_rate_pct="6.25", mass_g=500, **more)


def _offers():
    for size in ENCLOSURES:
        yield Offer(_ware(f"BOX-{size}", 9000), "enclosure", {"size": size})
    for litres, cents in ((2.2, 575), (8.8, 1550)):
        yield Offer(_ware(f"STONE-{litres}", cents), "drainage", _volume("stone", litres, void_fraction=0.44))
        for family, styles in (("leafsoil", FOREST), ("sandsoil", DRY)):
            yield Offer(
                _ware(f"{family.upper()}-{litres}", cents),
                "substrate",
                _volume(family, litres, styles=styles),
            )
        yield Offer(_ware(f"LEAF-{litres}", cents), "litter", _volume("leaf", litres, styles=ALL_STYLES))
        yield Offer(_ware(f"PELT-{litres}", cents), "moss", _volume("pelt", litres, styles=ALL_STYLES))
    for species in PLANTS:
        yield Offer(
            _ware(f"{species.upper()}-55", 500, live="plant"), "plant", {"species": species, "pot_mm": 55}
        )
    for taxon, animals in CREWS.items():
        ware = _ware(f"{taxon.upper()}", 1200, live="invertebrate")
        yield Offer(ware, "cleanup_crew", {"taxon": taxon, "animals": animals})
    for length, watts in LAMPS:
        yield from _tube(length, watts)
    for item, role, cents, figures in THINGS:
        yield Offer(_ware(item, cents, watts=float(figures.get("watts", 0))), role, figures)


def _volume(family, litres, **more):
    return {"litres": litres, "family": family, **more}


def _tube(length, watts):
    lamp = {
        "technology": "t5",
        "cap": "G5",
        "length_mm": length,
        "watts": watts,
        "zones": [1, 2, 3],
        "life_days": 300,
    }
    fixture = {
        "cap": "G5",
        "lamp_length_mm": length,
        "length_mm": length + 20,
        "width_mm": 60,
        "max_watts": watts,
    }
    yield Offer(_ware(f"TUBE-{length}", 2000, watts=float(watts)), "uvb_lamp", lamp)
    yield Offer(_ware(f"RAFTER-{length}", 3300), "uvb_fixture", fixture)


OFFERS = tuple(_offers())
SHELF = Shelf.build([offer.ware for offer in OFFERS], OFFERS)
PLENTY = {offer.ware.item: 1000 for offer in OFFERS}


def spec_of(data):
    return read_spec(data, facts=known_facts(), knows_item=SHELF.knows)


def plan_of(data, *, stock=PLENTY, terms=None):
    return pipeline.plan(
        spec_of(data),
        facts=known_facts(),
        shelf=SHELF,
        read_free=lambda items: {item: stock.get(item, 0) for item in items},
        terms=terms or Terms(),
    )


def line_of(plan, role):
    return next((line for line in plan.lines if line.role == role), None)


CRESTED = {
    "enclosure": {"size": "45x45x60-glass"},
    "animals": [{"species": "correlophus-ciliatus", "count": 1, "stage": "adult", "sex": "unknown"}],
    "style": "humid-forest",
    "room": {"temperature_c": 21, "night_temperature_c": 18, "relative_humidity_pct": 45},
    "depths_mm": {"drainage": 50, "substrate_front": 60, "substrate_back": 110, "litter": 25},
    "perches_mm": [{"height": 420, "back": 300}],
    "planting": "moderate",
}
FERN_BOX = {
    "enclosure": {"interior_mm": {"width": 190, "depth": 190, "height": 290}},
    "style": "humid-forest",
}
DESERT = {
    "enclosure": {"size": "120x60x60-pvc"},
    "animals": [{"species": "uromastyx-geyri"}],
    "room": {"temperature_c": 22, "night_temperature_c": 16, "relative_humidity_pct": 40},
}
