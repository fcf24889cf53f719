"""From a plan to a build sheet: what is said, in which words and units."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from kits.documents import amounts
from kits.documents.content import (
    BuildSheet,
    CautionRow,
    Fact,
    Heading,
    LayerRow,
    PartRow,
    Sums,
    UpkeepRow,
)
from kits.documents.first_days import steps
from kits.documents.settings import settings
from kits.terms.build import Build
from kits.terms.facts import Subject
from kits.terms.rounding import rounded
from kits.terms.typesetting import typeset

LAYER_WORDS = {"drainage": "Drainage", "substrate": "Soil", "litter": "Leaf litter"}
MATERIALS, PLANTINGS = {"pvc": "PVC"}, {"none": "no"}
INSECTS = ("insects", "flies", "crickets")
SAID_BELOW = "figures"  # that they are estimates ends every sheet, with a sign
Plan = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Told:
    """What the counter adds to a plan: whose it is, and what it comes to after a discount."""

    heading: Heading
    sums: Sums | None = None


def fill(plan: Plan, build: Build, told: Told) -> BuildSheet:
    """The build sheet of a plan (in the shape of the published interface) and its build."""
    figures, units = plan["figures"], build.units
    roles = frozenset(line["role"] for line in plan["lines"]) | frozenset(build.owned)
    installed = _mass(figures, "installed_kg", units)
    return BuildSheet(
        heading=told.heading,
        title=title(build),
        wanted=_wanted(plan, build),
        layers=_layers(plan, build),
        parts=_parts(plan["lines"]),
        unmet=tuple(f"{_words(unmet['role'])}: {typeset(unmet['because'])}" for unmet in plan["unmet"]),
        sums=told.sums or _sums(plan["totals"]),
        settings=settings(build, roles, figures),
        weights=_weights(figures, units, plan["totals"]["currency"]),
        steps=steps(
            roles, installed=installed, has_animals=bool(build.occupants), eats_insects=_insects(build)
        ),
        cautions=tuple(
            CautionRow(c["level"], c["about"], c["text"])
            for c in plan["cautions"]
            if c["about"] != SAID_BELOW
        ),
        upkeep=_upkeep(plan["calendar"]),
        width_mm=build.box.width_mm,
        depth_mm=build.box.depth_mm,
        height_mm=build.box.height_mm,
    )


def _insects(build: Build) -> bool:
    """Whether live insects are among the food of an animal here."""
    return any(word in o.subject.text("diet") for o in build.occupants for word in INSECTS)


def title(build: Build) -> str:
    """What the kit is for, in a few words."""
    animals = [f"{_count(o.count)}{o.subject.english_name or o.subject.name}" for o in build.occupants]
    style = _words(build.style.code)
    return f"{_sentence(', '.join(animals))}, {style}" if animals else _sentence(style)


def every(days: int) -> str:
    """An interval in words.

    >>> every(1), every(7), every(30), every(120), every(365)
    ('every day', 'every week', 'every 30 days', 'every 120 days', 'every year')
    """
    named = {1: "every day", 7: "every week", 14: "every 2 weeks", 365: "every year"}
    return named.get(days, f"every {days} days")


def _wanted(plan: Plan, build: Build) -> tuple[Fact, ...]:
    box, room = build.box, build.room
    inside = amounts.size(box.width_mm, box.depth_mm, box.height_mm, build.units)
    by_day = amounts.temperature(room.temperature_c, room.temperature_c, build.units)
    at_night = amounts.temperature(room.night_temperature_c, room.night_temperature_c, build.units)
    animals = "; ".join(_animal(o.count, _known_as(o.subject), o.stage, o.sex) for o in build.occupants)
    own = ", ".join(_words(role) for role in build.owned)
    return tuple(
        fact
        for fact in (
            Fact("animals", animals or "none"),
            Fact(
                "enclosure, inside",
                f"{inside}, {MATERIALS.get(box.wall_material, box.wall_material)}, {box.top_kind} top",
            ),
            Fact(
                "room",
                f"{by_day}{_warmest(build)}, at night {at_night}, "
                f"{rounded(room.relative_humidity_pct)} % humid",
            ),
            Fact(
                "style and planting",
                f"{_words(build.style.code)}, {PLANTINGS.get(build.planting, build.planting)} planting",
            ),
            Fact("customer has", own),
        )
        if fact.value
    )


def _known_as(subject: Subject) -> str:
    """An animal by the name that the customer knows, with the one that a vet asks for."""
    return f"{subject.english_name} ({subject.name})" if subject.english_name else subject.name


def _warmest(build: Build) -> str:
    """The room's warmest day, where the customer told it."""
    most = build.room.warmest_day_c
    return "" if most is None else f", at most {amounts.temperature(most, most, build.units)}"


def _layers(plan: Plan, build: Build) -> tuple[LayerRow, ...]:
    inputs = {working["figure"]: working["inputs"] for working in plan["workings"]}
    return tuple(
        _layer(name, inputs[f"{name}_l"], plan, build)
        for name in ("drainage", "substrate", "litter")
        if "front_m" in inputs.get(f"{name}_l", {})
    )


def _layer(name: str, inputs: Mapping[str, float], plan: Plan, build: Build) -> LayerRow:
    front, back, figures = inputs["front_m"] * 1000, inputs["back_m"] * 1000, plan["figures"]
    units = build.units
    is_level = abs(front - back) < 0.5
    depth = (
        amounts.length(front, units)
        if is_level
        else f"front {amounts.length(front, units)}\nback {amounts.length(back, units)}"
    )
    to_buy = figures.get(f"{name}_to_buy_l")
    bags = tuple(f"{line['quantity']} x {line['name']}" for line in plan["lines"] if line["role"] == name)
    return LayerRow(
        name=LAYER_WORDS[name],
        depth=depth,
        in_place=amounts.dry_volume(figures[f"{name}_l"], units),
        to_pour="" if to_buy is None else amounts.dry_volume(to_buy, units),
        bags=bags or (("the customer has it",) if name in build.owned else ()),
        front_mm=front,
        back_mm=back,
    )


def _parts(lines: Sequence[Mapping[str, Any]]) -> tuple[PartRow, ...]:
    return tuple(
        PartRow(
            number, line["item"], line["name"], line["quantity"], line["unit"], line["each"], line["total"],
            line["missing"],
        )
        for number, line in enumerate(lines, start=1)
    )  # fmt: skip


def _sums(totals: Mapping[str, str]) -> Sums:
    return Sums(totals["net"], totals["tax"], totals["gross"], totals["currency"])


def _weights(figures: Mapping[str, Any], units: str, currency: str) -> tuple[Fact, ...]:
    watts, cost = figures.get("power_w"), figures.get("running_cost_month")
    found = (
        Fact("Built and wet", _mass(figures, "installed_kg", units), "estimate"),
        Fact("To carry home, without packing", _mass(figures, "shipping_kg", units), ""),
        Fact("Lamps and devices", f"{rounded(watts)} W" if watts else "", "sum of ratings"),
        Fact(
            "Running cost a month", f"{cost} {currency}" if cost else "", "at full power, so an upper figure"
        ),
    )
    return tuple(fact for fact in found if fact.value)


def _mass(figures: Mapping[str, Any], name: str, units: str) -> str:
    kg = figures.get(name)
    return "" if kg is None else amounts.mass(kg, units)


def _upkeep(calendar: Iterable[Mapping[str, Any]]) -> tuple[UpkeepRow, ...]:
    by_interval: dict[int, list[str]] = {}
    # What belongs to a month stands among the settings.
    for reminder in (one for one in calendar if not one.get("month")):
        by_interval.setdefault(reminder["every_days"], []).append(reminder["what"])
    return tuple(UpkeepRow(every(days), tuple(tasks)) for days, tasks in sorted(by_interval.items()))


def _animal(count: int, name: str, stage: str, sex: str) -> str:
    known = "" if sex == "unknown" else f" {sex}"
    return f"{count} {stage}{known} {name}"


def _count(count: int) -> str:
    return f"{count} " if count > 1 else ""


def _words(code: str) -> str:
    return code.replace("_", " ").replace("-", " ").replace("uvb", "UVB")


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]
