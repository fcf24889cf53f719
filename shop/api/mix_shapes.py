"""Mixes and designs as programs read them: shares in per cent, depths in mm, money as strings."""

from collections.abc import Sequence
from typing import Any

from rest_framework import serializers

from kits.physics.mix_design import CheaperMix
from kits.physics.mixes import MixFigures
from kits.physics.mixes import MixPart as DesignedPart
from shop.selectors.mixes import Design, MixPage, MixRow, Part

COST_HELP = "Only for those who may see what the shop pays."


class MixFiguresShape(serializers.Serializer[Any]):
    """A mix drained in its bed, all estimates; `carbon_nitrogen` is null where a part's is not known."""

    water_pct = serializers.FloatField()
    air_pct = serializers.FloatField()
    pores_pct = serializers.FloatField()
    density_kg_l = serializers.FloatField()
    carbon_nitrogen = serializers.FloatField(allow_null=True)
    shrinkage_pct = serializers.FloatField(help_text="Of what is poured.")
    shrinkage_measured = serializers.BooleanField(
        help_text="Measured by the shop; else worked out from the grains of the parts."
    )
    water_lo_pct = serializers.FloatField(help_text="If the pores that vanish take water with them.")
    water_hi_pct = serializers.FloatField(help_text="If only empty pores vanish.")
    air_lo_pct = serializers.FloatField()
    air_hi_pct = serializers.FloatField()
    more_water_than_pores = serializers.BooleanField(
        help_text="Its parts would hold more water than it has pores: water and air are eased off."
    )


class MixRowShape(serializers.Serializer[Any]):
    """A mix at a depth; `figures` is null where a part is not known, and `unknown` says which."""

    code = serializers.CharField()
    name = serializers.CharField()
    styles = serializers.ListField(child=serializers.CharField())
    style = serializers.CharField(  # type: ignore[assignment]
        allow_null=True, help_text="The style whose depth and bounds count here."
    )
    front_mm = serializers.FloatField()
    back_mm = serializers.FloatField()
    figures = MixFiguresShape(allow_null=True)
    unknown = serializers.ListField(child=serializers.CharField())
    failures = serializers.ListField(
        child=serializers.CharField(), help_text="Each bound that it fails, with by how much."
    )
    bounds_known = serializers.BooleanField(
        help_text="Without any, a mix is chosen by the styles that it is listed for, and nothing tests it."
    )
    can_be_mixed_l = serializers.FloatField(allow_null=True, help_text="Finished litres from what is free.")
    cost_per_l = serializers.CharField(required=False, allow_null=True, help_text=COST_HELP)


class MixPartShape(serializers.Serializer[Any]):
    """One part of a mix."""

    item = serializers.CharField()
    name = serializers.CharField()
    medium = serializers.CharField(allow_null=True)
    parts = serializers.FloatField()
    share_pct = serializers.FloatField()
    litres = serializers.FloatField(allow_null=True, help_text="To pour for the litres wanted.")
    free_l = serializers.FloatField(allow_null=True)


class DesignedPartShape(serializers.Serializer[Any]):
    """One part of a designed mix."""

    item = serializers.CharField()
    name = serializers.CharField()
    litres = serializers.FloatField()
    share_pct = serializers.FloatField()


class CheaperShape(serializers.Serializer[Any]):
    """A mix that costs less because one bound is dropped: what it fails, and what it saves."""

    without = serializers.CharField(help_text="The bound that was dropped.")
    parts = DesignedPartShape(many=True)
    failures = serializers.ListField(child=serializers.CharField())
    saving = serializers.CharField(required=False, help_text=COST_HELP)


class DesignShape(serializers.Serializer[Any]):
    """The least-cost mix that keeps the bounds, or what clashes; exact for the estimates that it rests on."""

    feasible = serializers.BooleanField()
    parts = DesignedPartShape(many=True)
    figures = MixFiguresShape(allow_null=True)
    binding = serializers.ListField(child=serializers.CharField(), help_text="The bounds that it runs up to.")
    clash = serializers.CharField(
        allow_blank=True, help_text="The bounds that cannot be met together, as a sentence."
    )
    cheaper = CheaperShape(many=True, help_text="Nearest first.")
    unpriced = serializers.ListField(
        child=serializers.CharField(), help_text="Items without a cost, which count as costing nothing."
    )
    cost = serializers.CharField(required=False, help_text=COST_HELP)


class MixPageShape(MixRowShape):
    """One mix as asked, with its parts and the least-cost mix instead."""

    litres = serializers.FloatField()
    parts = MixPartShape(many=True)
    shortages = serializers.ListField(child=serializers.CharField())
    bounds = serializers.ListField(child=serializers.CharField())
    design = DesignShape(allow_null=True)
    design_refused = serializers.CharField(allow_blank=True)


def row_json(row: MixRow, *, with_cost: bool) -> dict[str, Any]:
    """One row of the list of mixes."""
    cost = {"cost_per_l": None if row.cents_per_l is None else _money(row.cents_per_l)} if with_cost else {}
    return {
        "code": row.code,
        "name": row.name,
        "styles": list(row.styles),
        "style": None if row.style is None else row.style.code,
        "front_mm": row.bed.front_mm,
        "back_mm": row.bed.back_mm,
        "figures": _figures(row.figures),
        "unknown": list(row.unknown),
        "failures": [failure.sentence for failure in row.failures],
        "bounds_known": bool(row.asked_for),
        "can_be_mixed_l": None if row.mixable_l is None else round(row.mixable_l, 2),
        **cost,
    }


def page_json(page: MixPage, *, with_cost: bool) -> dict[str, Any]:
    """One mix as asked."""
    row, design = page.row, page.design
    return {
        **row_json(row, with_cost=with_cost),
        "litres": row.bed.litres,
        "parts": [_part(part) for part in row.parts],
        "shortages": [failure.sentence for failure in row.shortages],
        "bounds": [bound.words for bound in row.asked_for],
        "design": None if design.made is None else design_json(design, with_cost=with_cost),
        "design_refused": design.refusal,
    }


def design_json(design: Design, *, with_cost: bool) -> dict[str, Any]:
    """A design that was made."""
    made = design.made
    assert made is not None
    cost = {"cost": _money(made.cents)} if with_cost and made.parts else {}
    return {
        "feasible": made.feasible,
        "parts": _designed_parts(made.parts),
        "figures": _figures(made.figures),
        "binding": [bound.words for bound in made.binding],
        "clash": made.clash,
        "cheaper": [_cheaper(mix, with_cost=with_cost) for mix in design.cheaper],
        "unpriced": list(design.unpriced),
        **cost,
    }


def _cheaper(mix: CheaperMix, *, with_cost: bool) -> dict[str, Any]:
    return {
        "without": mix.without.words,
        "parts": _designed_parts(mix.design.parts),
        "failures": [failure.sentence for failure in mix.failures],
        **({"saving": _money(mix.saving_cents)} if with_cost else {}),
    }


def _part(part: Part) -> dict[str, Any]:
    one = part.loose
    return {
        "item": one.item,
        "name": one.name,
        "medium": None if one.medium is None else one.medium.code,
        "parts": part.parts,
        "share_pct": _pct(part.share),
        "litres": None if part.litres is None else round(part.litres, 3),
        "free_l": one.free_l,
    }


def _designed_parts(parts: Sequence[DesignedPart]) -> list[dict[str, Any]]:
    return [
        {
            "item": part.ingredient.code,
            "name": part.ingredient.name,
            "litres": round(part.litres, 3),
            "share_pct": _pct(part.share),
        }
        for part in parts
    ]


def _figures(figures: MixFigures | None) -> dict[str, Any] | None:
    if figures is None:
        return None
    ratio = figures.carbon_nitrogen
    return {
        "water_pct": _pct(figures.water),
        "air_pct": _pct(figures.air),
        "pores_pct": _pct(figures.pores),
        "density_kg_l": round(figures.density_kg_l, 4),
        "carbon_nitrogen": None if ratio is None else round(ratio, 2),
        "shrinkage_pct": _pct(figures.shrinkage),
        "shrinkage_measured": figures.measured,
        "water_lo_pct": _pct(figures.water_lo),
        "water_hi_pct": _pct(figures.water_hi),
        "air_lo_pct": _pct(figures.air_lo),
        "air_hi_pct": _pct(figures.air_hi),
        "more_water_than_pores": figures.excess > 0,
    }


def _pct(share: float) -> float:
    return round(100 * share, 3)


def _money(cents: float) -> str:
    return f"{cents / 100:.4f}"
