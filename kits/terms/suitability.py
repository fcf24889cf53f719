"""Whether a plant or a clean-up crew suits a climate and a style: no reasons against means that it does."""

from kits.terms.build import Climate
from kits.terms.facts import Subject

HEAT_TOLERANCE_K = 3.0  # a plant stands in the cooler part of the box; common practice, no source
SAFE_CLASSES = frozenset({"listed non-toxic", "genus listed non-toxic"})


def plant_suits(plant: Subject, climate: Climate, style: Subject) -> list[str]:
    """Why this plant should not stand in this build; empty when it suits and is safe enough to offer."""
    return [*too_weak_to_offer(plant), *joins(plant, climate, style)]


def crew_suits(taxon: Subject, climate: Climate, style: Subject) -> list[str]:
    """Why this clean-up crew should not live in this build; empty when it suits."""
    return [*_protein(taxon), *joins(taxon, climate, style)]


def joins(living: Subject, climate: Climate, style: Subject) -> list[str]:
    """Why style, temperature or humidity of the build keep this plant or crew out."""
    return [*_style(living, style), *_temperature(living, climate), *_humidity(living, climate)]


def too_weak_to_offer(plant: Subject) -> list[str]:
    """Why a kit never picks this plant by itself: it is listed toxic, or nothing is known of its toxicity.

    The list behind the figure speaks of cats only: even a listed plant is not proved safe for reptiles.
    """
    found = plant.text("toxicity_class") or "unknown"
    if found in SAFE_CLASSES:
        return []
    return [
        f"{plant.name} is not offered: its toxicity is {found} (a list for cats; none for reptiles was seen)."
    ]


def from_memory(animal: Subject) -> list[str]:
    """Which parts of an animal's climate rest on memory, so that a vet should look before a kit is sold."""
    parts = {"temperatures": "day_air_hi_c", "humidity": "rh_hi_pct", "UV zone": "uv_zone_hi"}
    return [part for part, key in parts.items() if key in animal.figures and animal.figures[key].mark == "M"]


def _style(living: Subject, style: Subject) -> list[str]:
    if style.code in living.words("styles"):
        return []
    return [f"{living.name} is not listed for the style {style.code}."]


def _temperature(living: Subject, climate: Climate) -> list[str]:
    low, high = living.number("temp_lo_c"), living.number("temp_hi_c")
    if low is None or high is None:
        return [f"No temperature range is known for {living.name}."]
    reasons = []
    if climate.day_hi_c is not None and high < climate.day_hi_c - HEAT_TOLERANCE_K:
        reasons.append(
            f"{living.name} stands heat to {high:g} C; the day air reaches {climate.day_hi_c:g} C."
        )
    if climate.day_lo_c is not None and low > climate.day_lo_c:
        reasons.append(f"{living.name} wants at least {low:g} C; the day air may be {climate.day_lo_c:g} C.")
    return reasons


def _humidity(living: Subject, climate: Climate) -> list[str]:
    if living.text("rh_basis") == "soil pore air":  # springtails feel the soil, not the air of the box
        return []
    low, high = living.number("rh_lo_pct"), living.number("rh_hi_pct")
    if low is None or high is None:
        return [f"No humidity range is known for {living.name}."]
    box_low = 0.0 if climate.humidity_lo_pct is None else climate.humidity_lo_pct
    box_high = 100.0 if climate.humidity_hi_pct is None else climate.humidity_hi_pct
    if low <= box_high and high >= box_low:
        return []
    return [f"{living.name} wants {low:g}-{high:g} % humidity; the build keeps {box_low:g}-{box_high:g} %."]


def _protein(taxon: Subject) -> list[str]:
    if taxon.text("protein_risk") != "high":
        return []
    return [f"{taxon.name} is protein hungry: not beside soft-skinned, moulting, egg-laying or slow animals."]
