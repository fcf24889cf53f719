"""Never half a pair: a lamp whose fixture, holder or control cannot be had is not to be had either."""

from collections.abc import Collection, Iterable, Iterator, Sequence

from kits.terms.conditions import LOADS
from kits.terms.needs import Pick
from kits.terms.plan import Unmet

# Without one of these the rest has another job: fewer things to carry, a colder box, air that escapes.
FELT = LOADS | {"mesh_cover"}


def lacking(picks: Sequence[Pick], *, named: Collection[str] = ()) -> tuple[Unmet, ...]:
    """The lamps, heaters and covers that are given up, each once with its reason.

    What the spec names is kept, as everywhere; the gap then stands beside it.
    """
    of_their_own = [
        Unmet(pick.need.role, pick.refusal) for pick in picks if pick.need.role in FELT and not pick.offers
    ]
    for_their_partner = [
        Unmet(load.need.role, _without(load, partner))
        for partner in picks
        for load in picks
        if load.need.role == partner.need.serves
        and load.offers
        and not partner.offers
        and load.need.role not in named
    ]
    given_up: dict[str, Unmet] = {}
    for unmet in (*of_their_own, *for_their_partner):
        given_up.setdefault(unmet.role, unmet)
    return tuple(given_up.values())


def partners_of(given_up: Iterable[Unmet], picks: Sequence[Pick]) -> Iterator[Unmet]:
    """The partners that could not be had, for which a lamp that would do was given up."""
    would_do = {pick.need.role for pick in picks if pick.offers} & {unmet.role for unmet in given_up}
    for pick in picks:
        if pick.need.serves in would_do and not pick.offers:
            yield Unmet(pick.need.role, pick.refusal)


def _without(load: Pick, partner: Pick) -> str:
    """Why a lamp that would do is not listed; what its partner lacks is told of the partner."""
    name, what = load.offers[0][0].ware.name, partner.need.role.replace("_", " ")
    return f"{name} would do the job, but no {what} for it can be had."
