"""What stands on each document, read from the database: at most a dozen queries each."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.utils import timezone

from inventory.calc import money as money_calc
from inventory.documents.labels import ShelfLabel
from inventory.documents.marks import CareMark
from inventory.errors import Unknown
from inventory.models import Item
from inventory.selectors import stock
from inventory.units import length_in_both, mass_in_both, volume_in_both
from kits.documents import amounts, filling
from kits.documents.content import BuildSheet, CautionRow, Heading, Sums
from kits.documents.pictures import Sight, all_pictured
from kits.drawings.scene import Scene
from kits.selectors import builds
from kits.selectors.pictures import equipment_of
from kits.terms.build import Build
from kits.terms.plan import Plan, money
from shop.calc import agreed as agreed_calc
from shop.calc import care
from shop.calc.calendar import KitCalendar, Upkeep
from shop.calc.opening_hours import shop_day
from shop.calc.todays_stock import items_named, with_free
from shop.documents.kit_label import KitLabel
from shop.documents.quote import QuoteLine, QuoteSheet, TaxRow
from shop.models import House, Quote, QuoteVersion
from shop.selectors import house as house_selector
from shop.selectors import orders as order_selector
from shop.selectors import pricing
from shop.selectors import quotes as quote_selector

CONTENT_WORDS: dict[str, Callable[[int], str]] = {
    "mL": volume_in_both,
    "g": mass_in_both,
    "mm": length_in_both,
}


def build_sheet(number: str) -> tuple[BuildSheet, Scene]:
    """The build sheet of a quote's version and what is drawn on it; raises Unknown."""
    quote, version, house = _found(number)
    build = builds.planned_build(version.spec, version.plan)
    price = pricing.agreed_price(quote, version, house=house)
    sums = Sums(
        net=money(price.net_cents),
        tax=money(price.tax_cents),
        gross=money(price.gross_cents),
        currency=version.plan["totals"]["currency"],
        discount=money(price.discount_cents) if price.discount_cents else "",
    )
    told = filling.Told(_heading(quote, version, house), sums)
    return _with_pictures(filling.fill(version.plan, build, told), version.plan, build)


def build_sheet_of_plan(plan: Plan) -> tuple[BuildSheet, Scene]:
    """The build sheet of a plan that no quote was written for."""
    house, document = House.current(), plan.as_json()
    build = builds.planned_build(plan.spec, document)
    heading = Heading(house.name, house.town, "", 0, house_selector.today(house).isoformat())
    return _with_pictures(filling.fill(document, build, filling.Told(heading)), document, build)


def _with_pictures(sheet: BuildSheet, plan: Mapping[str, Any], build: Build) -> tuple[BuildSheet, Scene]:
    """The sheet with the pictures of light, warmth and the day, and what is drawn on its front page."""
    scene = builds.scene_of(plan, build)
    pictures = all_pictured(Sight(build, scene, equipment_of(plan, build)))
    return replace(sheet, pictures=pictures), scene


def quote_sheet(number: str) -> QuoteSheet:
    """The quote as it is printed; raises Unknown."""
    quote, version, house = _found(number)
    summary = quote_selector.summary(quote, house=house)
    price = pricing.agreed_price(quote, version, house=house)
    held = quote_selector.held_lines(quote.demand_ref) if _is_held(quote) else {}
    return QuoteSheet(
        shop=house.name,
        town=house.town,
        number=quote.number,
        version=version.version,
        date=_day(version, house),
        title=filling.title(builds.build_of(version.spec)),
        valid_until=quote.valid_until.isoformat(),
        lines=_quote_lines(version.plan),
        sum_before=money(agreed_calc.parts_cents(version.plan)),
        discount=money(price.discount_cents) if price.discount_cents else "",
        net=money(price.net_cents),
        taxes=_taxes(price, house),
        gross=money(price.gross_cents),
        currency=version.plan["totals"]["currency"],
        prices_include_tax=house.prices_include_tax,
        customer="" if quote.customer is None else quote.customer.name,
        note=quote.note,
        hold_until=_moment(quote, house) if held else "",
        state=summary["state"],
        cautions=_cautions(version.plan),
        missing=_missing(quote, version),
        kit=version.plan.get("standard_kit", {}).get("code", ""),
        kit_change=f"{'+' * (price.kit_cents > 0)}{money(price.kit_cents)}" if price.kit_cents else "",
    )


def kit_label(number: str) -> KitLabel:
    """The label of a quote's kit; raises Unknown."""
    quote, version, house = _found(number)
    build = builds.build_of(version.spec)
    goods = _goods(version.plan)
    kg = version.plan["figures"].get("shipping_kg")
    return KitLabel(
        number=quote.number,
        kit=filling.title(build),
        enclosure=_enclosure(version.plan, build),
        shop=house.name,
        town=house.town,
        date=_day(version, house),
        customer="" if quote.customer is None else quote.customer.name,
        mass="" if kg is None else f"about {amounts.mass(kg, 'us')} without packing",
        address=page_address(quote.number),
        contents=tuple(f"{line['quantity']} x {line['name']}" for line in version.plan["lines"]),
        marks=_marks(care.needed(goods, units=build.units)),
    )


def kit_calendar(number: str) -> KitCalendar:
    """The upkeep of a quote's kit, counted from the day that the last of it was handed over; raises Unknown.

    Before that it counts from the day that the quote's version was written.
    """
    quote, version, house = _found(number)
    handed_over = order_selector.handed_over_at(quote)
    return KitCalendar(
        number=quote.number,
        version=version.version,
        title=filling.title(builds.build_of(version.spec)),
        shop=house.name,
        begins=shop_day(handed_over or version.created_at, zone=house.timezone),
        upkeep=tuple(
            Upkeep(r["what"], r["every_days"], r["role"], r.get("month", 0)) for r in version.plan["calendar"]
        ),
        is_handed_over=handed_over is not None,
    )


def shelf_label(code: str) -> ShelfLabel:
    """The shelf label of an item; raises Unknown."""
    item = Item.objects.select_related("place").filter(code=code).first()
    if item is None:
        raise Unknown("item", code)
    house = House.current()
    return ShelfLabel(
        code=item.code,
        name=item.name,
        price=f"{item.price} {house.currency}" if item.price else "",  # what is not sold has none
        unit=item.unit_name or item.base_unit,
        shop=house.name,
        content=_content(item),
        place="" if item.place is None else item.place.code,
    )


def page_address(number: str) -> str:
    """The customer's page of a kit, only where the shop has a public HTTPS address for it."""
    pattern = settings.CUSTOMER_PAGE
    return pattern.replace("{number}", number) if pattern.startswith("https://") else ""


def _found(number: str) -> tuple[Quote, QuoteVersion, House]:
    quote = quote_selector.find(number)
    return quote, quote_selector.current_version(quote), House.current()


def _heading(quote: Quote, version: QuoteVersion, house: House) -> Heading:
    customer = "" if quote.customer is None else quote.customer.name
    return Heading(
        house.name, house.town, quote.number, version.version, _day(version, house), customer, quote.note
    )


def _day(version: QuoteVersion, house: House) -> str:
    return shop_day(version.created_at, zone=house.timezone).isoformat()


def _moment(quote: Quote, house: House) -> str:
    assert quote.hold_until is not None  # asked only of a held quote
    return timezone.localtime(quote.hold_until, ZoneInfo(house.timezone)).strftime("%Y-%m-%d %H:%M")


def _is_held(quote: Quote) -> bool:
    return quote.hold_until is not None and quote.hold_until > timezone.now()


def _quote_lines(plan: dict[str, Any]) -> tuple[QuoteLine, ...]:
    return tuple(
        QuoteLine(
            number, line["item"], line["name"], line["quantity"], line["unit"], line["each"], line["total"]
        )
        for number, line in enumerate(plan["lines"], start=1)
    )


def _taxes(price: agreed_calc.Agreed, house: House) -> tuple[TaxRow, ...]:
    pairs = [(line.total_cents, line.tax_rate_pct) for line in price.lines]
    basis: money_calc.Basis = "line" if house.tax_basis == House.TaxBasis.LINE else "total"
    sums = money_calc.sums(pairs, basis=basis, inclusive=house.prices_include_tax)
    bases: dict[str, int] = {}
    for line in price.lines:
        rate = _rate(line.tax_rate_pct)
        bases[rate] = bases.get(rate, 0) + line.total_cents
    taxes = {_rate(str(rate)): cents for rate, cents in sums.tax_by_rate.items()}
    return tuple(TaxRow(rate, money(bases[rate]), money(cents)) for rate, cents in taxes.items())


def _rate(rate_pct: str) -> str:
    return f"{float(rate_pct):g}"


def _cautions(plan: dict[str, Any]) -> tuple[CautionRow, ...]:
    told = [c for c in plan["cautions"] if c["level"] != "note"]
    return tuple(CautionRow(c["level"], c["about"], c["text"]) for c in told)


def _missing(quote: Quote, version: QuoteVersion) -> tuple[str, ...]:
    """What is not on the shelf for an open quote right now, and what nothing here can do."""
    if quote.state != Quote.State.OPEN:
        return ()
    free = stock.free_by_code(items_named(version.plan), leaving_out=quote.demand_ref)
    fresh = with_free(version.plan, free)
    short = [line for line in fresh["lines"] if line["missing"]]
    lines = [
        f"Not on the shelf today: {line['missing']} of {line['quantity']} x {line['name']}." for line in short
    ]
    return (*lines, *(f"Not in the kit: {unmet['because']}" for unmet in version.plan["unmet"]))


def _enclosure(plan: dict[str, Any], build: Build) -> str:
    named = [line["name"] for line in plan["lines"] if line["role"] == "enclosure"]
    box = build.box
    inside = f"inside {box.width_mm:.0f} x {box.depth_mm:.0f} x {box.height_mm:.0f} mm"
    return f"{named[0]}, {inside}" if named else f"the customer's own, {inside}"


def _goods(plan: dict[str, Any]) -> list[care.Goods]:
    codes = {line["item"] for line in plan["lines"]}
    rows = Item.objects.filter(code__in=codes).order_by("code")
    columns = ("live", "fragile", "liquid", "keep_min_c", "keep_max_c")
    return [care.Goods(*row) for row in rows.values_list(*columns)]


def _marks(needed: Sequence[care.Care]) -> tuple[CareMark, ...]:
    return tuple(CareMark(mark.kind, mark.words, low=mark.low, high=mark.high) for mark in needed)


def _content(item: Item) -> str:
    if item.liquid and item.content_unit == "mL" and item.content_quantity:
        return volume_in_both(item.content_quantity, quart="liquid")
    words = CONTENT_WORDS.get(item.content_unit)
    return words(item.content_quantity) if words and item.content_quantity else ""


def known_quotes(numbers: Iterable[str]) -> set[str]:
    """Which of these quotes there are."""
    return set(Quote.objects.filter(number__in=list(numbers)).values_list("number", flat=True))


def known_items(codes: Iterable[str]) -> set[str]:
    """Which of these items there are."""
    return set(Item.objects.filter(code__in=list(codes)).values_list("code", flat=True))
