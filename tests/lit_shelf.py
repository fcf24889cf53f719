"""The small invented shelf with what light, heat and water are worked out from."""

from kits.planning import pipeline
from kits.planning.build import draft_build
from kits.planning.registry import ROLES
from kits.planning.shelf import Shelf
from kits.planning.spec import read_spec
from kits.terms.needs import Offer, Ware
from kits.terms.plan import Terms
from tests.full_shelf import DRY, FOREST, OFFERS, SHELF
from tests.known_facts import known_facts

SIZES = ("45x45x60-glass", "90x45x45-glass", "120x60x60-pvc")
REPLACED = ("enclosure", "uvb_lamp", "uvb_fixture", "substrate", "drainage", "basking_lamp")


def tube(length=549, watts=24, **more):
    return {"technology": "t5", "cap": "G5", "length_mm": length, "watts": watts, "life_days": 300, **more}


def read(index, at_mm=300, **more):
    return tube(**more, uvi_ref=index, uvi_ref_mm=at_mm)


def rafter(length=549, watts=24, **more):
    sides = {"length_mm": length + 10, "width_mm": 60}
    return {"cap": "G5", "lamp_length_mm": length, "max_watts": watts, **sides, **more}


def spot(watts, **more):
    return {"cap": "E26", "watts": watts, "kind": "halogen", "life_days": 120, **more}


def soil(litres, family, styles, **more):
    return {"litres": litres, "family": family, "styles": styles, **more}


THINGS = (
    *((f"BOX-{size}", "enclosure", 9000, {"size": size}) for size in SIZES),
    ("DAWN-549", "uvb_lamp", 2400, read(0.4)),  # for animals of the shade
    ("NOON-549", "uvb_lamp", 2600, read(3.0)),
    ("NOON-849", "uvb_lamp", 3400, read(2.0, length=849, watts=39)),
    ("LISTED-549", "uvb_lamp", 1500, tube(zones=[1, 2, 3, 4])),  # without any reading, and cheap
    ("BEAM-549", "uvb_fixture", 3900, rafter(reflector_share=1.0)),
    ("SLIM-549", "uvb_fixture", 2900, rafter(reflector_share=0.5)),
    ("BEAM-849", "uvb_fixture", 4900, rafter(849, 39, reflector_share=1.0)),
    ("WARM-25", "basking_lamp", 800, spot(25)),
    ("WARM-50", "basking_lamp", 850, spot(50)),
    ("WARM-75", "basking_lamp", 950, spot(75)),
    ("WARM-100", "basking_lamp", 1050, spot(100)),
    ("FOREST-9", "substrate", 1600, soil(8.8, "forest", FOREST, mix="understorey", density_kg_l=0.2)),
    ("FOREST-2", "substrate", 600, soil(2.2, "forest", FOREST, mix="understorey", density_kg_l=0.2)),
    (
        "SCRUB-9",
        "substrate",
        1500,
        soil(8.8, "scrub", ["dry-scrub", "desert"], mix="scrub", density_kg_l=1.3),
    ),
    ("BURROW-9", "substrate", 1400, soil(8.8, "burrow", ["deep-soil"], mix="burrow", density_kg_l=1.1)),
    ("PLAIN-9", "substrate", 1300, soil(8.8, "plain", DRY)),
    (
        "PEBBLE-9",
        "drainage",
        1500,
        {"litres": 8.8, "family": "pebble", "void_fraction": 0.44, "grain_mm": 8, "density_kg_l": 0.35},
    ),
    (
        "PEBBLE-2",
        "drainage",
        500,
        {"litres": 2.2, "family": "pebble", "void_fraction": 0.44, "grain_mm": 8, "density_kg_l": 0.35},
    ),
)


def offers(things=THINGS):
    for item, role, cents, figures in things:
        ware = Ware(
            item,
            f"Invented {item.lower()}",
            "piece",
            cents,
            tax_rate_pct="6.25",
            mass_g=0 if role == "enclosure" else 500,  # an empty box is weighed by its panes
            watts=float(figures.get("watts", 0)),
        )
        yield Offer(ware, role, figures)


def shelf_of(things=THINGS, *, instead_of=REPLACED):
    """The small shelf with these things in place of all others of some roles."""
    kept = [offer for offer in OFFERS if offer.role not in instead_of]
    both = (*kept, *offers(things))
    return Shelf.build([offer.ware for offer in both], both)


LIT = shelf_of()


def plan_of(data, *, shelf=LIT, stock=None):
    """A plan from this shelf; what `stock` does not name is there in plenty."""
    return pipeline.plan(
        read_spec(data, facts=known_facts(), knows_item=shelf.knows),
        facts=known_facts(),
        shelf=shelf,
        read_free=lambda items: {item: (stock or {}).get(item, 1000) for item in items},
        terms=Terms(),
    )


def build_of(data):
    spec = read_spec(data, facts=known_facts(), knows_item=SHELF.knows)
    owned = {own["role"]: own["figures"] for own in data.get("own", []) if isinstance(own, dict)}
    return draft_build(spec, facts=known_facts(), owned=owned).build


def fit(role, figures, data):
    """How an item with these figures does the first job of its role in this spec."""
    return ROLES[role].fit(ROLES[role].needs(build_of(data))[0], figures)


def line_of(plan, role):
    return next((line for line in plan.lines if line.role == role), None)


def unmet(plan, role):
    return " ".join(one.because for one in plan.unmet if one.role == role)


def told(plan, about):
    return " ".join(caution.text for caution in plan.cautions if caution.about == about)


def working(plan, figure):
    return next(working for working in plan.workings if working.figure == figure)
