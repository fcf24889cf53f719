"""How the figures of facts are named and measured for people, in the order in which they are read."""

from collections.abc import Mapping
from types import MappingProxyType

# Field and words: what it is, how warm, moist and light, in how much room, with whom, how big, what else.
NAMES: Mapping[str, str] = MappingProxyType(
    {
        "type": "kind of animal",
        "plant_group": "kind of plant",
        "habit": "way of life",
        "position": "place in the enclosure",
        "styles": "fits the styles",
        "substrate_style": "style it lives in",
        "nominal_width_cm": "sold as, width",
        "nominal_depth_cm": "sold as, depth",
        "nominal_height_cm": "sold as, height",
        "width_mm": "inside width",
        "depth_mm": "inside depth",
        "height_mm": "inside height",
        "sill_mm": "height of the front sill",
        "wall_material": "walls of",
        "wall_thickness_mm": "thickness of the walls",
        "top_kind": "top",
        "top_open_fraction": "open part of the top",
        "planted": "planted",
        "planting": "usual planting",
        "drainage_mm": "usual drainage layer",
        "drainage_cap_share": "drainage at most, of the height",
        "substrate_front_mm": "usual substrate in front",
        "substrate_back_mm": "usual substrate behind",
        "substrate_cap_share": "substrate at most, of the height",
        "litter_mm": "usual leaf litter",
        "litter_cap_share": "leaf litter at most, of the height",
        "barrier": "sheet between drainage and substrate",
        "inoculant": "starter for the soil",
        "moss": "moss",
        "bark": "bark",
        "mister": "mister",
        "cleanup": "clean-up crew",
        "water_lo_pct": "water that the substrate should hold, least",
        "air_lo_pct": "air that the substrate should hold, least",
        "day_air_lo_c": "coolest air by day",
        "day_air_hi_c": "warmest air by day",
        "night_lo_c": "coolest air by night",
        "night_hi_c": "warmest air by night",
        "bask_surface_lo_c": "coolest basking surface",
        "bask_surface_hi_c": "warmest basking surface",
        "body_temp_preferred_c": "preferred warmth of the body",
        "body_temp_active_lo_c": "warmth of the body when active, from",
        "body_temp_active_hi_c": "warmth of the body when active, up to",
        "temp_lo_c": "coolest",
        "temp_hi_c": "warmest",
        "chill_limit_c": "harmed by cold below",
        "lethal_hi_c": "dies above",
        "rh_lo_pct": "driest air",
        "rh_hi_pct": "dampest air",
        "rh_pattern": "dampness through the day",
        "rh_basis": "dampness is that of",
        "moisture": "dampness of the ground",
        "uv_zone_lo": "UV zone, from",
        "uv_zone_hi": "UV zone, up to",
        "light_class": "light",
        "maintain_ppfd_lo": "light to stay as it is, from",
        "maintain_ppfd_hi": "light to stay as it is, up to",
        "design_ppfd_lo": "light to plan for, from",
        "design_ppfd_hi": "light to plan for, up to",
        "grow_ppfd_lo": "light to grow well, from",
        "grow_ppfd_hi": "light to grow well, up to",
        "min_w_mm": "least width of the enclosure",
        "min_d_mm": "least depth of the enclosure",
        "min_h_mm": "least height of the enclosure",
        "rule_covers_n": "animals that the least size is for",
        "rule_id": "rule for the least size",
        "rule_len_mm": "length that the rule counts with",
        "strict_floor_m2": "floor by the strictest rule",
        "strict_h_mm": "height by the strictest rule",
        "substrate_depth_lo_mm": "depth of substrate, from",
        "substrate_depth_hi_mm": "depth of substrate, up to",
        "starter_per_m2_lo": "to begin with, from",
        "starter_per_m2_hi": "to begin with, up to",
        "company": "company",
        "males_together": "males together",
        "group_rule": "living together",
        "diet": "food",
        "eats_plants": "eats plants",
        "length_basis": "length is told as",
        "length_lo_mm": "adult length, from",
        "length_hi_mm": "adult length, up to",
        "length_max_recorded_mm": "longest on record",
        "total_length_lo_mm": "length with tail, from",
        "total_length_hi_mm": "length with tail, up to",
        "adult_size_lo_mm": "adult length of one, from",
        "adult_size_hi_mm": "adult length of one, up to",
        "height_lo_mm": "height, from",
        "height_hi_mm": "height, up to",
        "spread_lo_mm": "spread, from",
        "spread_hi_mm": "spread, up to",
        "root_depth_mm": "depth for its roots",
        "mass_lo_g": "adult weight, from",
        "mass_hi_g": "adult weight, up to",
        "life_lo_y": "life span, from",
        "life_hi_y": "life span, up to",
        "life_record_y": "oldest on record",
        "reproduction": "breeding",
        "protein_risk": "gnaws for want of protein",
        "theta_s": "water when full",
        "theta_r": "water that never drains",
        "alpha_per_cm": "alpha of the water curve",
        "n": "n of the water curve",
        "curve": "the water curve is",
        "porosity": "pores as poured",
        "grain_mm": "grain",
        "void_fraction": "voids between grains",
        "density_kg_l": "dry density",
        "carbon_pct": "carbon",
        "nitrogen_pct": "nitrogen",
        "ph_lo": "pH, from",
        "ph_hi": "pH, up to",
        "ec_lo": "salts as conductivity, from",
        "ec_hi": "salts as conductivity, up to",
        "toxicity_class": "toxicity",
        "toxicity": "toxicity in words",
        "hazards_legal": "hazards and law",
        "legal_note": "law",
        "invasive_note": "where it may run wild",
        "stop_sale": "not for sale",
        "ship_note": "on the way",
        "notes": "notes",
    }
)
UNITS: Mapping[str, str] = MappingProxyType(
    {
        **dict.fromkeys(("text", "yes/no", "-", "zone", "pH"), ""),
        "C": "°C",
        "y": "years",
        "m2": "m²",
        "m3/m3": "m³/m³",
        "1/cm": "per cm",
        "umol/m2/s": "µmol/m²/s",
        "animals/m2": "animals per m²",
        "share": "of the whole",
        "share of height": "of the height",
    }
)
CODED = ("styles", "substrate_style")  # texts that are codes of ours, several of them behind semicolons
_PLACES: Mapping[str, int] = MappingProxyType({field: place for place, field in enumerate(NAMES)})


def place(field: str) -> tuple[int, str]:
    """Where a figure stands among others; what has no name here comes last, by its code.

    >>> sorted(["temp_hi_c", "perlite", "coir-chips", "temp_lo_c"], key=place)
    ['temp_lo_c', 'temp_hi_c', 'coir-chips', 'perlite']
    """
    return _PLACES.get(field, len(_PLACES)), field


def unit(code: str) -> str:
    """A unit of our tables as people write it; empty where the name says it.

    >>> unit("C"), unit("mm"), unit("zone")
    ('°C', 'mm', '')
    """
    return UNITS.get(code, code)
