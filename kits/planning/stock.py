"""What is free, read in few batches, remembered, and promised to one line at a time."""

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Mapping

ReadFree = Callable[[Collection[str]], Mapping[str, int]]


class Stock:
    """Free pieces by item for the length of one plan; itself a `ReadFree`, so that it can be passed on."""

    def __init__(self, read_free: ReadFree, *, taken: Mapping[str, int] | None = None) -> None:
        self._read = read_free
        self._free: dict[str, int] = {}
        self._taken = Counter(taken or {})
        self._expected: list[str] = []

    def __call__(self, items: Collection[str]) -> Mapping[str, int]:
        """Free pieces of these items before anything of this plan is taken."""
        self.know(items)
        return {item: self._free[item] for item in items}

    def know(self, items: Iterable[str]) -> None:
        """Read, in one batch, whatever of these is not known yet."""
        unknown = [item for item in dict.fromkeys(items) if item not in self._free]
        if not unknown:
            return
        wanted = list(dict.fromkeys(unknown + [item for item in self._expected if item not in self._free]))
        self._expected.clear()
        read = self._read(wanted)
        self._free.update((item, max(0, read.get(item, 0))) for item in wanted)

    def expect(self, items: Iterable[str]) -> None:
        """Read these together with whatever is read next, because they will be asked for later."""
        if isinstance(self._read, Stock):
            self._read.expect(items)
        else:
            self._expected.extend(items)

    def free(self, item: str) -> int:
        """Pieces that are free and not yet taken by this plan."""
        if item not in self._free:
            self.know([item])
        return max(0, self._free[item] - self._taken[item])

    def take(self, pieces: Mapping[str, int]) -> None:
        """Count pieces as promised to a line of this plan."""
        self._taken.update(pieces)

    def give_back(self, pieces: Mapping[str, int]) -> None:
        """Undo a `take`."""
        self._taken.subtract(pieces)

    def times(self, pieces: Mapping[str, int]) -> int:
        """How many times over these pieces could be taken together."""
        return min((self.free(item) // number for item, number in pieces.items() if number), default=0)

    def is_as(self, seen: Mapping[str, int]) -> bool:
        """Whether all these items are as free as they were seen to be."""
        self.know(seen)
        return all(self.free(item) == pieces for item, pieces in seen.items())


class Watched(Stock):
    """A stock that notes what was looked at, and how much of it was free."""

    def __init__(self, stock: Stock) -> None:
        super().__init__(stock)
        self._stock = stock
        self.seen: dict[str, int] = {}

    def know(self, items: Iterable[str]) -> None:
        """Read these in one batch, for the watched stock."""
        self._stock.know(items)

    def free(self, item: str) -> int:
        """Pieces that are free in the watched stock."""
        found = self.seen[item] = self._stock.free(item)
        return found
