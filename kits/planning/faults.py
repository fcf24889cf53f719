"""Reading untrusted JSON: every fault is collected with a JSON pointer and one sentence naming the field."""

import math
import re
from collections.abc import Collection, Iterator, Mapping
from difflib import get_close_matches

from inventory.errors import FieldError

MOST_FAULTS = 100
FEW = 12  # so many names are listed when another one was given
LONGEST_NAME = 80
NEAR = 0.7  # as difflib counts: a letter left out or swapped, not another word
SHORTEST_PART = 3  # of a name, for a suggestion of the whole
ITEM_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._~-]{0,63}", re.ASCII)


class Faults:
    """Collects what is wrong; a reader that returns None has said why."""

    def __init__(self) -> None:
        self.found: list[FieldError] = []

    def add(self, pointer: str, predicate: str) -> None:
        """Note a fault: the predicate follows the name of the field."""
        if len(self.found) < MOST_FAULTS:
            self.found.append(FieldError(pointer, f"{field_name(pointer)} {predicate}"))

    def number(
        self, value: object, pointer: str, low: float, high: float, *, above: bool = False
    ) -> float | None:
        """A finite number from low to high; with `above`, low itself is refused."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.add(pointer, f"must be a number, not {shown(value)}.")
            return None
        if isinstance(value, float) and not math.isfinite(value):
            self.add(pointer, "must be a finite number.")
            return None
        if value < low or value > high or (above and value == low):
            start = f"above {low:g} and at most" if above else f"from {low:g} to"
            self.add(pointer, f"must be {start} {high:g}, not {shown(value)}.")
            return None
        return float(value)

    def whole(self, value: object, pointer: str, low: int, high: int) -> int | None:
        """A whole number from low to high."""
        number = self.number(value, pointer, low, high)
        if number is None:
            return None
        if number != int(number):
            self.add(pointer, f"must be a whole number, not {shown(value)}.")
            return None
        return int(number)

    def word(self, value: object, pointer: str, known: Collection[str], what: str) -> str | None:
        """One of the known names; the nearest one is suggested."""
        if not isinstance(value, str):
            self.add(pointer, f"must be {what}, not {shown(value)}.")
            return None
        if value not in known:
            named = f" Known are {', '.join(sorted(known))}." if len(known) <= FEW else ""
            self.add(pointer, f"is not {what} known here: {shown(value)}.{named}{nearest(value, known)}")
            return None
        return value

    def item(self, value: object, pointer: str) -> str | None:
        """Text that can be an item code."""
        if not isinstance(value, str) or not ITEM_CODE.fullmatch(value):
            self.add(pointer, f"must be an item code of at most 64 letters and digits, not {shown(value)}.")
            return None
        return value

    def mapping(self, value: object, pointer: str, keys: Collection[str]) -> Mapping[str, object]:
        """An object with none but the given keys; unknown ones are faults and left out."""
        if not isinstance(value, Mapping):
            self.add(pointer, f"must be an object, not {shown(value)}.")
            return {}
        for key in value:
            if key not in keys:
                self.add(joined(pointer, key), f"is not a field known here.{nearest(str(key), keys)}")
        return {key: entry for key, entry in value.items() if key in keys}

    def listing(self, value: object, pointer: str, longest: int) -> Iterator[tuple[str, object]]:
        """The entries of a list with their pointers."""
        if not isinstance(value, list | tuple):
            self.add(pointer, f"must be a list, not {shown(value)}.")
            return
        if len(value) > longest:
            self.add(pointer, f"may hold at most {longest} entries, not {len(value)}.")
            return
        for index, entry in enumerate(value):
            yield f"{pointer}/{index}", entry


def shown(value: object) -> str:
    """A value as a short phrase; never its whole text, never its depth."""
    if isinstance(value, str):
        return repr(value if len(value) <= LONGEST_NAME else value[:LONGEST_NAME] + "...")
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, int | float):
        return f"{value:g}" if abs(value) < 1e15 else "a number beyond all measure"
    return "an object" if isinstance(value, Mapping) else "a list"


def joined(pointer: str, key: object) -> str:
    """The pointer to an entry of an object, escaped as RFC 6901 asks."""
    text = str(key)[:LONGEST_NAME].encode("ascii", "backslashreplace").decode()
    return f"{pointer}/{text.replace('~', '~0').replace('/', '~1')}"


def field_name(pointer: str) -> str:
    """The pointer as people write it: /animals/0/count -> animals[0].count."""
    if not pointer:
        return "The build spec"
    parts = [part.replace("~1", "/").replace("~0", "~") for part in pointer.split("/")[1:]]
    name = "".join(f"[{part}]" if part.isdecimal() else f".{part}" for part in parts)
    return name.removeprefix(".")


def nearest(name: str, known: Collection[str]) -> str:
    """A suggestion as a sentence of its own, empty when nothing is near."""
    name = name[:LONGEST_NAME]
    close = get_close_matches(name, sorted(known), n=1, cutoff=NEAR)
    if not close and len(name) >= SHORTEST_PART:
        close = [whole for whole in sorted(known) if name in whole]
    return f" Did you mean {close[0]}?" if close else ""
