"""Refusals: each says why in one plain sentence; the API and the screens translate them in one place."""

from collections.abc import Sequence
from dataclasses import dataclass, field


class Refusal(Exception):
    """Something that was asked for cannot be done; nothing has changed."""

    code = "refused"

    @property
    def sentence(self) -> str:
        """The reason in one plain sentence."""
        return str(self)


class NotAllowed(Refusal):
    """The actor's roles do not include this ability."""

    code = "not_allowed"

    def __init__(self, name: str, ability: str) -> None:
        self.name, self.ability = name, ability
        super().__init__(f"{name} may not do this: it needs the right to {ability.replace('_', ' ')}.")


class Unknown(Refusal):
    """A name that nothing here answers to."""

    code = "unknown"

    def __init__(self, what: str, name: str) -> None:
        self.what, self.name = what, name
        super().__init__(f"There is no {what} {name!r}.")


class Conflict(Refusal):
    """The thing is not in a state that allows this."""

    code = "conflict"


@dataclass(frozen=True, slots=True)
class Short:
    """What was wanted of an item and what is free."""

    item: str
    wanted: int
    free: int
    name: str = field(default="", compare=False)  # how people know it


MOST_TOLD = 5  # of many faults or items in one sentence; all of them stand beside it, one by one


class NotEnoughStock(Refusal):
    """Some of what is wanted is not free; nothing was held."""

    code = "not_enough_stock"

    def __init__(self, short: Sequence[Short]) -> None:
        self.short = tuple(short)
        told = [f"{s.name or s.item} (wanted {s.wanted}, free {s.free})" for s in self.short[:MOST_TOLD]]
        more = len(self.short) - len(told)
        names = ", ".join(told) + (f" and {more} more" if more else "")
        super().__init__(f"Not enough is free of {names}; nothing was held.")


@dataclass(frozen=True, slots=True)
class FieldError:
    """One thing wrong with the input: a JSON pointer and a sentence naming the field."""

    pointer: str
    detail: str


class BadInput(Refusal):
    """The input cannot be used as it stands; every fault is named."""

    code = "bad_input"

    def __init__(self, errors: Sequence[FieldError]) -> None:
        self.errors = tuple(errors)
        super().__init__(summary(self.errors))


def summary(errors: Sequence[FieldError]) -> str:
    """The first few faults in words, and how many more there are.

    >>> summary([FieldError("/note", "note must be text.")] * 7).split("text. ")[-1]
    'There are 2 more faults.'
    """
    told = " ".join(error.detail for error in errors[:MOST_TOLD])
    more = len(errors) - MOST_TOLD
    if more < 1:
        return told
    return f"{told} There {'is 1 more fault' if more == 1 else f'are {more} more faults'}."
