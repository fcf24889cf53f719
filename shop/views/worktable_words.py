"""The words of the worktable: figures with their units, and the choices of the strip of fields."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from inventory.errors import Unknown
from kits.planning.registry import ROLES
from kits.planning.spec import FILL, PLANTING, UNITS
from kits.planning.spec_fields import SEXES, STAGES
from kits.selectors import standard_kits
from kits.selectors.catalogue import CatalogueKey
from kits.selectors.facts import facts
from kits.selectors.shelf import stocked_shelf
from kits.terms import figure_words
from kits.terms.rounding import figure
from kits.terms.typesetting import typeset
from shop.calc.words import words_of
from shop.calc.worktable_fields import MEASURED

# Figure: name, unit. In the order of the sheet; how it is rounded stands in kits.terms.rounding.
FIGURES: Mapping[str, tuple[Any, str]] = MappingProxyType(
    {
        "container_capacity_pct": (gettext_lazy("water when drained"), "%"),
        "air_space_pct": (gettext_lazy("air in the soil"), "%"),
        "air_changes_h": (gettext_lazy("air changes by day"), "/h"),
        "vapour_pressure_deficit_pa": (gettext_lazy("dryness at the plants"), "Pa"),
        "misting_l_day": (gettext_lazy("evaporates a day"), "L"),
        "reservoir_l": (gettext_lazy("safe reservoir"), "L"),
        "first_watering_l": (gettext_lazy("first watering"), "L"),
        "uvi_at_basking": (gettext_lazy("UV index at the basking back"), ""),
        "uvi_maximum_reachable": (gettext_lazy("UV index, most reachable"), ""),
        "uvi_at_replacement": (gettext_lazy("UV index at the back, worn lamp"), ""),
        "uvi_closest_safe_m": (gettext_lazy("nearest to the UVB lamp"), "m"),
        "keeper_limit_min": (gettext_lazy("keeper below the lit lamp"), "min"),
        "dli_floor": (gettext_lazy("light on the floor a day"), "mol/m²"),
        "dli_floor_longest": (gettext_lazy("light on the floor, longest day"), "mol/m²"),
        "day_length_shortest_h": (gettext_lazy("shortest day"), "h"),
        "day_length_longest_h": (gettext_lazy("longest day"), "h"),
        "heat_needed_w": (gettext_lazy("heat in the worst night"), "W"),
        "basking_surface_c": (gettext_lazy("basking surface"), "°C"),
        "day_air_c": (gettext_lazy("air, all lamps on"), "°C"),
        "footprint_m2": (gettext_lazy("floor inside"), "m²"),
        "drainage_l": (gettext_lazy("drainage in place"), "L"),
        "drainage_to_buy_l": (gettext_lazy("drainage poured"), "L"),
        "substrate_l": (gettext_lazy("soil in place"), "L"),
        "substrate_to_buy_l": (gettext_lazy("soil poured"), "L"),
        "litter_l": (gettext_lazy("litter in place"), "L"),
        "litter_to_buy_l": (gettext_lazy("litter poured"), "L"),
        "power_w": (gettext_lazy("power"), "W"),
        "running_cost_month": (gettext_lazy("running cost a month"), ""),
        "installed_kg": (gettext_lazy("built and wet"), "kg"),
        "shipping_kg": (gettext_lazy("to carry home"), "kg"),
    }
)


# What is only among the workings.
OTHERS: Mapping[str, Any] = MappingProxyType(
    {
        "mesh_mm": gettext_lazy("barrier mesh, cut to"),
        "perch_mm": gettext_lazy("perch: height, and from the front"),
        "floor_load_kg_m2": gettext_lazy("load on what it stands on"),
        "dli_middle": gettext_lazy("light at half height a day"),
        "dli_top": gettext_lazy("light at the top a day"),
        "dli_middle_longest": gettext_lazy("light at half height, longest day"),
        "dli_top_longest": gettext_lazy("light at the top, longest day"),
        "heat_loss_w_k": gettext_lazy("heat that it loses"),
        "siphon_days": gettext_lazy("drainage full after"),
        "room_most_c": gettext_lazy("warmest room it bears"),
        "lit_hours_by_month": gettext_lazy("hours of light, January to December"),
        "selection_gap": gettext_lazy("a better set may cost less by"),
    }
)

# What a clerk tells a customer: these stand beside the drawing, and all of them one key away.
HEADLINES = (
    "misting_l_day",
    "first_watering_l",
    "uvi_at_basking",
    "dli_floor",
    "basking_surface_c",
    "day_air_c",
    "power_w",
    "running_cost_month",
    "installed_kg",
    "shipping_kg",
)


def figures_of(plan: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Each figure of a plan as it is shown, with its working."""
    workings = {working["figure"]: working for working in plan["workings"]}
    return [
        {
            "key": key,
            "is_headline": key in HEADLINES,
            "name": str(name),
            "unit": unit or (plan["totals"]["currency"] if key == "running_cost_month" else ""),
            "text": figure(key, float(plan["figures"][key])),
            "working": workings.get(key),
        }
        for key, (name, unit) in FIGURES.items()
        if key in plan["figures"]
    ]


def other_workings(plan: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The workings that belong to no figure of the sheet, told as figures are."""
    return [
        {
            "key": working["figure"],
            "name": name_of(working["figure"]),
            "unit": typeset(figure_words.unit(working["unit"])),
            "text": _as_text(working["figure"], working["value"]),
            "working": working,
        }
        for working in plan["workings"]
        if working["figure"] not in FIGURES
    ]


def _as_text(key: str, value: Any) -> str:
    if isinstance(value, list):
        parts = [_as_text(key, part) for part in value]
        return (" \N{MULTIPLICATION SIGN} " if len(parts) == 2 else ", ").join(parts)
    return figure(key, float(value)) if isinstance(value, int | float) else str(value)


def name_of(key: str) -> str:
    """What a figure of a plan is called, whether the sheet shows it or only its working."""
    return str(FIGURES[key][0]) if key in FIGURES else str(OTHERS.get(key) or spoken(key))


def working_of(plan: Mapping[str, Any] | None, key: str) -> dict[str, Any]:
    """The working of one figure and the figure's name; raises Unknown."""
    of_key = [one for one in (plan["workings"] if plan else ()) if one["figure"] == key]
    if not of_key:
        raise Unknown("working", key[:80])
    return {"working": of_key[0], "name": name_of(key)}


def counted(cautions: Sequence[Mapping[str, Any]]) -> list[tuple[str, str]]:
    """How many cautions there are of each level, so that whoever sees the first ones knows of the rest."""
    of_level = Counter(caution["level"] for caution in cautions)
    words = {
        "stop": ngettext("%(count)s stop", "%(count)s stops", of_level["stop"]),
        "warning": ngettext("%(count)s warning", "%(count)s warnings", of_level["warning"]),
        "note": ngettext("%(count)s note", "%(count)s notes", of_level["note"]),
    }
    return [(level, told % {"count": of_level[level]}) for level, told in words.items() if of_level[level]]


def spoken(code: str) -> str:
    """A code as words of the reader's language: humid-forest -> humid forest, uvb_lamp -> UVB lamp."""
    return _(words_of(code)) if code else ""


def choices() -> dict[str, list[tuple[str, str, str]]]:
    """The choices of the strip: value, words, and further words that find it."""
    known = facts()
    return {
        "animal": [(s.code, s.english_name or s.name, s.name) for s in known.animals.values()],
        "enclosure": [
            (s.code, s.name.removesuffix(" enclosure"), f"{s.code} {s.name}")
            for s in known.enclosures.values()
        ]
        + [(MEASURED, _("measured by the customer"), "measured")],
        "style": [("", _("as it lives"), ""), *((code, spoken(code), "") for code in known.styles)],
        "planting": [("", _("usual"), ""), *((code, code, "") for code in PLANTING)],
        "stage": [(code, code, "") for code in STAGES],
        "sex": [(code, code, "") for code in SEXES],
        "fill": [(FILL[0], _("best suited"), ""), (FILL[1], _("only free"), "")],
        "units": [(code, {"us": "US", "metric": _("metric")}[code], "") for code in UNITS],
    }


def start_choices() -> list[tuple[str, list[tuple[str, str, str]]]]:
    """What a kit can start from: groups of value, words, and further words that find it."""
    known = choices()
    kits = [(f"kit:{kit.code}", kit.name, kit.code) for kit in standard_kits.active()]
    animals = [(f"animal:{code}", words, more) for code, words, more in known["animal"]]
    enclosures = [
        (f"enclosure:{code}", words, more) for code, words, more in known["enclosure"] if code != MEASURED
    ]
    return [(_("Animals"), animals), (_("Standard kits"), kits), (_("Enclosures"), enclosures)]


def roles() -> list[tuple[str, str]]:
    """Every role with its words, by name."""
    return sorted(((code, spoken(code)) for code in ROLES), key=lambda pair: pair[1].lower())


def item_names(codes: Collection[str], at: CatalogueKey | None) -> dict[str, str]:
    """The names of items on the shelf; a code that has left the catalogue stands for itself.

    No query where the state `at` of the catalogue is known.
    """
    if not codes:
        return {}
    wares = stocked_shelf(at).shelf
    return {code: wares.ware(code).name if wares.knows(code) else code for code in codes}
