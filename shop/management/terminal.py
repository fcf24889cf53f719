"""What the commands of the counter share: who is acting, reading JSON, and refusing in one sentence."""

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

from inventory.actors import ABILITIES, Actor
from inventory.errors import BadInput, Refusal
from shop.calc import strict_json

BAD_INPUT = 2
OPERATOR = Actor(name="terminal", abilities=ABILITIES)


def or_refuse(do: Callable[[], Any]) -> Any:
    """What `do` returns; a refusal becomes its sentence on standard error and exit status 2."""
    try:
        return do()
    except Refusal as refusal:
        refuse(first_sentence(refusal))


def first_sentence(refusal: Refusal) -> str:
    """One sentence; of several faults the first, and how many more there are."""
    if not isinstance(refusal, BadInput) or len(refusal.errors) == 1:
        return refusal.sentence
    more = len(refusal.errors) - 1
    return f"{refusal.errors[0].detail} ({more} more {'fault' if more == 1 else 'faults'} after it.)"


def refuse(sentence: str) -> NoReturn:
    """Say why on standard error and leave with status 2."""
    sys.stderr.write(f"{' '.join(sentence.split())}\n")
    raise SystemExit(BAD_INPUT)


def read_json(name: str) -> Any:
    """The JSON in a file, or on standard input for `-`."""
    try:
        raw = sys.stdin.buffer.read() if name == "-" else Path(name).read_bytes()
        return strict_json.loads(raw)
    except OSError as error:
        refuse(f"The file {name} cannot be read: {error.strerror}.")
    except ValueError as error:
        refuse(f"{'Standard input' if name == '-' else f'The file {name}'} is not usable JSON. {error}")


def as_json(value: Any) -> str:
    """The value as indented JSON; money is text already and every number is finite."""
    return json.dumps(value, indent=2, ensure_ascii=False, allow_nan=False)
