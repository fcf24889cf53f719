"""What a build needs of the shelf, what the shelf offers, and how well one does the other."""

from collections.abc import Mapping
from dataclasses import dataclass, field

Figures = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Need:
    """One job to be done in the build. `slot` tells several needs of one role apart."""

    role: str
    slot: str = ""
    count: int = 0  # pieces wanted, when the job is counted
    litres: float = 0.0  # poured litres wanted, when the job is a volume
    wanted: Figures = field(default_factory=dict)  # the numbers that an item is measured against
    because: tuple[str, ...] = ()
    distinct: bool = False  # slots of this role prefer different products
    serves: str = ""  # the role that cannot be had without this one, as a lamp without its fixture

    @property
    def by_volume(self) -> bool:
        """Whether whole packs must cover a volume."""
        return self.litres > 0


@dataclass(frozen=True, slots=True)
class Fit:
    """How one set of figures does one job: `refusal` is empty when it does."""

    refusal: str = ""
    because: tuple[str, ...] = ()
    figures: Figures = field(default_factory=dict)
    each: float = 1.0  # how much of the need one piece does: pieces, or litres
    rank: int = 0  # suitability beyond passing, 0 the best there is; before house preference and price
    asks: tuple["Tie", ...] = ()  # what the item asks of others to do this very job, besides its coupling
    stops: bool = False  # whether the plan would carry a stop with it: last choice, and no substitute

    @property
    def passes(self) -> bool:
        """Whether the item does the job."""
        return not self.refusal


@dataclass(frozen=True, slots=True)
class Ware:
    """The facts of one stocked item that a plan needs; money in cents of the shop's currency."""

    item: str
    name: str
    unit: str
    price_cents: int
    tax_rate_pct: str = "0"
    preference: int = 100
    family: str = ""
    mass_g: int = 0
    watts: float = 0.0
    electrical: bool = False
    live: str = ""


@dataclass(frozen=True, slots=True)
class Offer:
    """One item standing in one role, with the figures that let it be measured there."""

    ware: Ware
    role: str
    figures: Figures


@dataclass(frozen=True, slots=True)
class Tie:
    """Something that one item asks of another in the kit: a socket, a control, up to an amount (W)."""

    kind: str
    key: str = ""
    amount: float = 0.0


@dataclass(frozen=True, slots=True)
class Coupling:
    """How an item depends on others: ties it asks for and offers, and shared room that it takes."""

    asks: tuple[Tie, ...] = ()
    offers: tuple[Tie, ...] = ()
    takes: Mapping[str, float] = field(default_factory=dict)  # e.g. {"top_depth_mm": 90}


@dataclass(frozen=True, slots=True)
class Pick:
    """What selection settled on for one need: pieces of one or several offers, and alternatives."""

    need: Need
    offers: tuple[tuple[Offer, int], ...]
    fit: Fit
    refusal: str = ""  # set when nothing passes; `offers` is then empty
