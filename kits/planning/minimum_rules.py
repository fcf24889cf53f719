"""The published minimum-size rules as data: multiples of body length, floors by length, land and basin."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Animals:
    """How many animals there are and how many the rule's own words cover."""

    count: int
    covers: int

    @property
    def beyond(self) -> int:
        """Animals beyond those covered; minimums hold for fewer animals too."""
        return max(0, self.count - self.covers)


@dataclass(frozen=True, slots=True)
class Further:
    """What each further animal adds: the first, the second ...; the last repeats where the rule goes on."""

    each: tuple[float, ...] = ()
    goes_on: bool = False


NO_FURTHER = Further()


@dataclass(frozen=True, slots=True)
class Multiples:
    """Sides as multiples of body length; further animals add shares of the base floor or of the volume."""

    width: float
    depth: float
    height: float | None
    basis: str  # TL total, SVL snout to vent, SCL straight shell
    covers: int
    source: str
    mark: str
    further: Further = NO_FURTHER
    further_volume: bool = False
    height_cap_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Area:
    """A floor and perhaps a height; further animals add square metres or shares of the base floor."""

    floor_m2: float
    height_mm: float | None
    covers: int
    source: str
    mark: str
    further: Further = NO_FURTHER
    further_share: bool = False
    shortest_side_lengths: float = 0.0


@dataclass(frozen=True, slots=True)
class AreaBands:
    """A floor by body length: the first band whose limit is not below the length."""

    basis: str
    bands: tuple[tuple[float, Area], ...]


@dataclass(frozen=True, slots=True)
class LandAndBasin:
    """Land and water as multiples of the squared body length, both growing with each further animal."""

    land: float
    land_each: float
    basin: float
    basin_each: float
    basin_depth: float
    height: float
    height_cap_mm: float
    covers: int
    source: str
    mark: str


Rule = Multiples | Area | AreaBands | LandAndBasin

VET = "[VETMULT] veterinary multiples: 3 x 2 total length, height 3 x (arboreal) or 1.5 x (terrestrial)"
VET_SNAKE = "[TW] veterinary multiples: length 1 x, depth 2/3, height 3/4 of total length"
BARNARD = "[VETMULT] Barnard 1996: 3/4 x 1/3 of total length, height 1 x (arboreal)"
VET_TORTOISE = "[SCV] veterinary multiples: at least 10 x 5 body lengths"
RSPCA = "RSPCA: full length of the snake, width and height at least one third"
DE97 = "[DE97] German expert report of 10 January 1997, restated"
AUSTRIA = "[AT] Austrian ordinance BGBl. II 486/2004, annex 3"
AUSTRIA_AMPHIBIANS = "[AT-AM] Austrian ordinance BGBl. II 486/2004, annex 4"
SWISS = "[CH6] Swiss animal protection ordinance, annex 2 table 6, tree frogs"
FOR_EVER = float("inf")


def _each(share: float) -> Further:
    return Further((share,), goes_on=True)


def _snakes(rows: tuple[tuple[float, float, float, float], ...]) -> AreaBands:
    """Rows of length limit (mm), floor (m2), height (mm), square metres for each further animal."""
    return AreaBands(
        "TL",
        tuple(
            (limit, Area(floor, height, 2, AUSTRIA, "A", _each(extra)))
            for limit, floor, height, extra in rows
        ),
    )


GROUND_SNAKES = (
    (200, 0.1, 200, 0.015),
    (500, 0.2, 300, 0.05),
    (1000, 0.5, 400, 0.15),
    (1500, 0.9, 600, 0.2),
    (2000, 1.2, 800, 0.4),
    (FOR_EVER, 1.5, 1200, 0.6),
)
CLIMBING_SNAKES = (
    (500, 0.2, 400, 0.05),
    (1000, 0.5, 600, 0.15),
    (1500, 0.9, 1000, 0.2),
    (2000, 1.2, 1500, 0.4),
    (FOR_EVER, 1.5, 1800, 0.6),
)
SALAMANDERS = ((100, 0.1), (200, 0.4), (300, 0.9))

RULES: dict[str, Rule] = {
    "VETMULT-arboreal": Multiples(3, 2, 3, "TL", 1, VET, "A"),
    "VETMULT-terrestrial": Multiples(3, 2, 1.5, "TL", 1, VET, "A"),
    "VETMULT-snake": Multiples(1, 2 / 3, 3 / 4, "TL", 1, VET_SNAKE, "A"),
    "BARNARD-snake": Multiples(3 / 4, 1 / 3, 1, "TL", 1, BARNARD, "A"),
    "RSPCA-python": Multiples(1, 1 / 3, 1 / 3, "TL", 1, f"[RSPCA-RP] {RSPCA}", "A"),
    "RSPCA-kingsnake": Multiples(1, 1 / 3, 1 / 3, "TL", 1, f"[RSPCA-KS] {RSPCA}", "A"),
    "DE97-chameleon": Multiples(4, 2.5, 4, "SVL", 1, f"{DE97} [RST]", "A", Further((0.2,))),
    "DE97-chameleon-ground": Multiples(4, 4, 2.5, "SVL", 1, f"{DE97} [RST]", "A", Further((0.2,))),
    "DE97-phelsuma": Multiples(6, 6, 8, "SVL", 2, f"{DE97}, same in Swiss law", "B", height_cap_mm=2200),
    "DE97-eublepharis": Multiples(4, 3, 2, "SVL", 2, DE97, "B", _each(0.15)),
    "DE97-pogona": Multiples(5, 4, 3, "SVL", 2, DE97, "B", _each(0.15)),
    "DE97-iguana": Multiples(5, 3, 4, "SVL", 2, DE97, "B", _each(0.15)),
    "DE97-water-dragon": Multiples(4, 3, 5, "SVL", 2, f"{DE97} [WAW]", "B", _each(0.15)),
    "DE97-snake-climbing": Multiples(
        1,
        0.5,
        1,
        "TL",
        2,
        f"{DE97} [KRI] [KNN] [KAH]",
        "B",
        _each(0.2),
        further_volume=True,
        height_cap_mm=2000,
    ),
    "DE97-ball-python": Multiples(
        1, 0.5, 0.75, "TL", 2, DE97, "B", _each(0.2), further_volume=True, height_cap_mm=2000
    ),
    "DE97-ground-snake": Multiples(
        1, 0.5, 0.5, "TL", 2, DE97, "B", _each(0.2), further_volume=True, height_cap_mm=2000
    ),
    "DE97-tortoise": Multiples(
        8,
        4,
        None,
        "SCL",
        2,
        f"{DE97}, same in Swiss law [KUL] [SZP]",
        "B",
        Further((0.1, 0.1, 0.2), goes_on=True),
    ),
    "VET-tortoise-table": Multiples(
        10, 5, 1, "SCL", 1, "[SCV] veterinary multiples: at least 10 x 5 body lengths", "A"
    ),
    "AT-ground-snake": _snakes(GROUND_SNAKES),
    "AT-climbing-snake": _snakes(CLIMBING_SNAKES),
    "AT-python-regius": Area(0.9, 700, 2, AUSTRIA, "A", _each(0.2)),
    "AT-house-snake": Area(0.5, 400, 2, AUSTRIA, "A", _each(0.15)),
    "AT-water-dragon": Area(2.0, 2000, 2, AUSTRIA, "A", _each(1.0)),
    "AT-bearded-dragon": Area(1.0, 800, 2, f"{AUSTRIA} [BAH]", "A", _each(0.4)),
    "AT-salamander": AreaBands(
        "TL",
        tuple(
            (limit, Area(floor, None, 2, AUSTRIA_AMPHIBIANS, "A", _each(0.25), further_share=True))
            for limit, floor in SALAMANDERS
        ),
    ),
    "CH-tree-frog": LandAndBasin(50, 4, 2, 1, 2, 10, 2200, 2, SWISS, "A"),
    "NSW-bearded-dragon": Area(
        0.375,
        None,
        1,
        "[NSW] New South Wales reptile code of 2013",
        "B",
        Further((0.5, 0.2), goes_on=True),
        further_share=True,
        shortest_side_lengths=1.0,
    ),
}
