"""Mixes: what each is like where it lies, and the least-cost mix that keeps to bounds."""

from dataclasses import replace
from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.errors import BadInput, FieldError
from kits.physics.mix_bounds import Bounds
from kits.physics.mix_design import MOST_INGREDIENTS
from kits.physics.mixes import Bed, Ingredient
from shop.api.authentication import reader_of
from shop.api.inputs import GIVEN, Input, Several, checked, code
from shop.api.mix_shapes import DesignShape, MixPageShape, MixRowShape, design_json, page_json, row_json
from shop.api.shapes import asks, reads
from shop.calc import mix_fields
from shop.calc.mix_fields import LITRES, NUMBERS, STYLE, WITH, NumberField
from shop.selectors import mixes

PERCENT = 100.0


class StrictNumber(serializers.FloatField):
    """A JSON number within limits; neither text nor true."""

    default_error_messages = GIVEN | {"invalid": "must be a number."}

    def to_internal_value(self, data: Any) -> float:
        """The number itself."""
        if isinstance(data, bool) or not isinstance(data, int | float):
            self.fail("invalid")
        least, most = self.min_value, self.max_value
        if (least is not None and data < least) or (most is not None and data > most):
            raise serializers.ValidationError(f"must be between {least:g} and {most:g}.")
        return float(data)


def share(**kwargs: Any) -> StrictNumber:
    """A share in per cent."""
    return StrictNumber(min_value=0, max_value=PERCENT, required=False, **kwargs)


def number(name: str, **kwargs: Any) -> StrictNumber:
    """A number with the limits of the field of that name."""
    told = NUMBERS[name]
    return StrictNumber(min_value=told.least, max_value=told.most, **kwargs)


class PoolInput(Input):
    """An ingredient to design with; the limits of its share are those of its profile when left out."""

    item = code()
    least_pct = share(help_text="Of the poured litres.")
    most_pct = share(help_text="Of the poured litres.")


class BoundsInput(Input):
    """Least and most of the mix drained in its bed; what is left out is no bound."""

    water_lo_pct = share()
    water_hi_pct = share()
    air_lo_pct = share()
    air_hi_pct = share()
    density_lo_kg_l = number("density_lo", required=False)
    density_hi_kg_l = number("density_hi", required=False)
    carbon_nitrogen_lo = number("carbon_nitrogen_lo", required=False)
    carbon_nitrogen_hi = number("carbon_nitrogen_hi", required=False)


class DesignInput(Input):
    """One to eight loose ingredients of the shop, the depth that is built, and the bounds."""

    ingredients = Several(child=PoolInput(), min_length=1, max_length=MOST_INGREDIENTS)
    front_mm = number("front")
    back_mm = number("back")
    base_suction_cm = StrictNumber(
        min_value=0,
        max_value=100,
        required=False,
        help_text="Suction under the mix: 0 on gravel or an open hole, more on a sand bed that wicks.",
    )
    litres = number("litres", required=False, help_text="Finished litres wanted, 10 when left out.")
    bounds = BoundsInput(required=False)


def _parameter(name: str, told: NumberField) -> OpenApiParameter:
    words = f"{told.name}: {told.limits}. The style's when left out."
    return OpenApiParameter(name, OpenApiTypes.STR, description=words)


ASKED = (
    OpenApiParameter(STYLE, OpenApiTypes.STR, description="The style whose depths and bounds count."),
    OpenApiParameter(
        WITH, OpenApiTypes.STR, many=True, description="Items to design with, eight at most; repeat it."
    ),
    *(_parameter(name, told) for name, told in NUMBERS.items()),
)


class Mixes(APIView):
    """The mixes of the house."""

    @reads(MixRowShape(many=True), operation_id="list_mixes")
    def get(self, request: Request) -> Response:
        """Every mix at the usual depth of its first style; figures are estimates from its parts."""
        with_cost = reader_of(request).may("see_cost")
        return Response([row_json(row, with_cost=with_cost) for row in mixes.listing()])


class OneMix(APIView):
    """One mix."""

    @reads(MixPageShape, 404, 422, parameters=ASKED, operation_id="read_mix")
    def get(self, request: Request, code: str) -> Response:
        """The mix in the bed that is asked for, each bound that it fails, and the least-cost mix instead."""
        with_cost = reader_of(request).may("see_cost")
        study = mixes.study(code)
        asked, faults = mix_fields.read(
            {name: request.query_params.get(name, "") for name in (STYLE, *NUMBERS)},
            request.query_params.getlist(WITH),
            styles=[style.code for style in study.every_style],
            known=[one.item for one in study.usable],
        )
        if faults:
            raise BadInput(faults)
        return Response(page_json(mixes.page(study, asked), with_cost=with_cost))


class MixDesigns(APIView):
    """Designing a mix."""

    @asks(DesignInput, DesignShape, operation_id="design_mix")
    def post(self, request: Request) -> Response:
        """The least-cost mix of these ingredients that keeps the bounds; nothing is written."""
        with_cost = reader_of(request).may("see_cost")
        data = checked(DesignInput, request.data)
        bed = Bed(
            front_mm=data["front_mm"],
            back_mm=data["back_mm"],
            base_suction_cm=data.get("base_suction_cm", 0.0),
            litres=data.get("litres", LITRES),
        )
        design = mixes.design(_pool(data["ingredients"]), _bounds(data.get("bounds", {})), bed)
        return Response(design_json(design, with_cost=with_cost))


def _pool(told: list[dict[str, Any]]) -> list[Ingredient]:
    known, pool, faults = mixes.usable(), [], []
    for at, one in enumerate(told):
        if one["item"] not in known:
            sentence = f"item {one['item']!r} is no ingredient that enough is known of."
            faults.append(FieldError(f"/ingredients/{at}/item", sentence))
            continue
        limits = {
            f"{end}_share": one[f"{end}_pct"] / PERCENT for end in ("least", "most") if f"{end}_pct" in one
        }
        pool.append(replace(known[one["item"]], **limits))
    if faults:
        raise BadInput(faults)
    return pool


def _bounds(told: dict[str, float]) -> Bounds:
    ends = {}
    for name, value in told.items():
        bound = name.removesuffix("_pct").removesuffix("_kg_l")
        ends[bound] = value / PERCENT if name.endswith("_pct") else value
    return Bounds(**ends)
