"""The kit as chosen: what figures, weights and cautions are worked out from."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from kits.planning.shelf import Shelf
from kits.terms.build import Build
from kits.terms.needs import Figures, Need, Pick, Ware
from kits.terms.plan import PlanLine, Terms
from kits.terms.reading import positive


@dataclass(frozen=True, slots=True)
class Kit:
    """A build with everything that was picked for it."""

    build: Build
    wanted: Mapping[str, tuple[Need, ...]]  # roles that the build wants, in parts list order
    picks: Sequence[Pick]
    lines: Sequence[PlanLine]
    shelf: Shelf
    terms: Terms

    def ware(self, line: PlanLine) -> Ware:
        """The item of a line."""
        return self.shelf.ware(line.item)

    def figures_of(self, line: PlanLine) -> Figures:
        """What the catalogue says of a line's item in its role."""
        offer = self.shelf.offer(line.role, line.item)
        return {} if offer is None else offer.figures

    def chosen(self, role: str) -> Iterator[tuple[Figures, int]]:
        """Figures and pieces of what was picked for a role."""
        for pick in self.picks:
            if pick.need.role == role:
                yield from ((offer.figures, pieces) for offer, pieces in pick.offers)

    def pieces(self, role: str) -> Iterator[Figures]:
        """The figures of every piece that fills a wanted role, bought or the customer's own."""
        chosen = list(self.chosen(role))
        for figures, pieces in chosen:
            yield from (figures for _ in range(pieces))
        own = self.build.owned.get(role)
        if not chosen and own is not None and role in self.wanted:
            yield own

    def filled(self, role: str) -> Figures | None:
        """Figures of the item that fills a role, bought or owned; None when nothing does."""
        first = next(self.chosen(role), None)
        if first is not None:
            return first[0]
        return self.build.owned.get(role)

    def at_work(self, role: str) -> Figures | None:
        """Figures of the item that fills a role; None as well where what it cannot be without is unmet."""
        partners = (pick for pick in self.picks if pick.need.serves == role)
        lacks = any(pick.refusal and not pick.offers for pick in partners)
        return None if lacks else self.filled(role)

    def rated_w(self, role: str) -> float | None:
        """Watts that all pieces filling a role carry together, None where a rating is not known."""
        chosen = [(positive(figures, "max_watts"), pieces) for figures, pieces in self.chosen(role)]
        if not chosen:
            return positive(self.build.owned.get(role, {}), "max_watts")
        return sum(watts * pieces for watts, pieces in chosen if watts is not None) or None

    def need_litres(self, role: str) -> float | None:
        """Settled litres that are bought for a volume role, None when nothing is bought for it."""
        for pick in self.picks:
            if pick.need.role == role:
                return positive(pick.need.wanted, "settled_l")
        return None

    def loads(self) -> Iterator[tuple[str, float]]:
        """Role and watts of everything that draws current, the customer's own things among them."""
        for line in self.lines:
            watts = self.ware(line).watts or positive(self.figures_of(line), "watts") or 0.0
            if watts > 0:
                yield line.role, watts * line.quantity
        for role, figures in self.build.owned.items():
            own = positive(figures, "watts")
            if own is not None and role in self.wanted:
                yield role, own
