"""The computed answer: lines, what is unmet, figures with their workings, cautions and totals."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

FREE, SHORT, NONE = "free", "short", "none"


@dataclass(frozen=True, slots=True)
class Substitute:
    """Another item or combination that does the job, proved by the same calculation."""

    items: tuple[tuple[str, int], ...]
    total_cents: int
    free: int  # how many times over it could be taken from what is free
    because: tuple[str, ...] = ()
    figures: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One item of the kit with its stock status."""

    role: str
    item: str
    name: str
    quantity: int
    unit: str
    each_cents: int
    total_cents: int
    status: str
    free: int
    missing: int
    because: tuple[str, ...] = ()
    substitutes: tuple[Substitute, ...] = ()
    figures: Mapping[str, object] = field(default_factory=dict)
    tax_rate_pct: str = "0"


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change of one value of the spec that was proved to fill an unmet role."""

    pointer: str  # into the spec
    value: object  # plain JSON
    text: str


@dataclass(frozen=True, slots=True)
class Unmet:
    """A role that no item known here can do."""

    role: str
    because: str
    remedies: tuple[Remedy, ...] = ()  # each alone would fill it


@dataclass(frozen=True, slots=True)
class Working:
    """How a figure was worked out."""

    figure: str
    formula: str
    inputs: Mapping[str, object]
    value: object
    unit: str
    source: str
    valid: bool = True
    note: str = ""
    calculation: str = ""  # the published calculation that anyone can try with these inputs


@dataclass(frozen=True, slots=True)
class Caution:
    """`stop` refuses hold and accept; `warning` must be read; `note` is good to know."""

    level: str
    about: str
    text: str


@dataclass(frozen=True, slots=True)
class Reminder:
    """One upkeep task of the finished enclosure."""

    what: str
    every_days: int
    role: str
    month: int = 0  # 1 to 12 for what is done once a year in this month


@dataclass(frozen=True, slots=True)
class Totals:
    """Money of the whole kit in cents."""

    net_cents: int
    tax_cents: int
    gross_cents: int
    currency: str


@dataclass(frozen=True, slots=True)
class Terms:
    """What the house decides and a plan depends on."""

    currency: str = "USD"
    tax_basis: str = "total"  # total or line
    prices_include_tax: bool = False
    electricity_per_kwh: float = 0.17
    breaker_a: float = 15.0
    volts: float = 120.0
    today: str = ""  # ISO date of the shop's day, for stock that expires


@dataclass(frozen=True, slots=True)
class Plan:
    """The computed answer to one build spec."""

    spec: Mapping[str, Any]
    lines: tuple[PlanLine, ...]
    unmet: tuple[Unmet, ...]
    figures: Mapping[str, object]
    workings: tuple[Working, ...]
    cautions: tuple[Caution, ...]
    totals: Totals
    calendar: tuple[Reminder, ...]
    scene: Mapping[str, object] = field(default_factory=dict)  # what kits.drawings draws, see its scene.py

    @property
    def complete(self) -> bool:
        """Every line is free and nothing is unmet."""
        return not self.unmet and all(line.status == FREE for line in self.lines)

    @property
    def stops(self) -> tuple[Caution, ...]:
        """The cautions that refuse hold and accept."""
        return tuple(caution for caution in self.cautions if caution.level == "stop")

    def as_json(self) -> dict[str, Any]:
        """The plan in the shape of the published interface: numbers for physics, strings for money."""
        return {
            "spec": dict(self.spec),
            "complete": self.complete,
            "lines": [_line(line) for line in self.lines],
            "unmet": [_unmet(unmet) for unmet in self.unmet],
            "figures": dict(self.figures),
            "workings": [_working(working) for working in self.workings],
            "cautions": [{"level": c.level, "about": c.about, "text": c.text} for c in self.cautions],
            "totals": {
                "net": money(self.totals.net_cents),
                "tax": money(self.totals.tax_cents),
                "gross": money(self.totals.gross_cents),
                "currency": self.totals.currency,
            },
            "calendar": [_reminder(reminder) for reminder in self.calendar],
            "scene": dict(self.scene),
        }


def money(cents: int) -> str:
    """Cents as a plain decimal string: 1450 -> '14.50'."""
    sign = "-" if cents < 0 else ""
    return f"{sign}{abs(cents) // 100}.{abs(cents) % 100:02d}"


def _unmet(unmet: Unmet) -> dict[str, Any]:
    remedies = [{"pointer": r.pointer, "value": r.value, "text": r.text} for r in unmet.remedies]
    return {"role": unmet.role, "because": unmet.because, **({"remedies": remedies} if remedies else {})}


def _reminder(reminder: Reminder) -> dict[str, Any]:
    shown = {"what": reminder.what, "every_days": reminder.every_days, "role": reminder.role}
    return {**shown, **({"month": reminder.month} if reminder.month else {})}


def _line(line: PlanLine) -> dict[str, Any]:
    return {
        "role": line.role,
        "item": line.item,
        "name": line.name,
        "quantity": line.quantity,
        "unit": line.unit,
        "each": money(line.each_cents),
        "total": money(line.total_cents),
        "tax_rate_pct": line.tax_rate_pct,
        "status": line.status,
        "free": line.free,
        "missing": line.missing,
        "because": list(line.because),
        "figures": dict(line.figures),
        "substitutes": [_substitute(substitute) for substitute in line.substitutes],
    }


def _substitute(substitute: Substitute) -> dict[str, Any]:
    return {
        "items": [{"item": item, "quantity": quantity} for item, quantity in substitute.items],
        "total": money(substitute.total_cents),
        "free": substitute.free,
        "because": list(substitute.because),
        "figures": dict(substitute.figures),
    }


def _working(working: Working) -> dict[str, Any]:
    return {
        "figure": working.figure,
        "formula": working.formula,
        "inputs": dict(working.inputs),
        "value": working.value,
        "unit": working.unit,
        "source": working.source,
        "valid": working.valid,
        **({"note": working.note} if working.note else {}),
        **({"calculation": working.calculation} if working.calculation else {}),
    }
