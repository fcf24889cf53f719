"""What just happened, said once, with the deed that undoes it."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field

from django.contrib import messages
from django.http import HttpRequest


@dataclass(frozen=True, slots=True)
class Undo:
    """The deed that takes back what was done: an address and the fields to post there."""

    address: str
    fields: Mapping[str, str] = field(default_factory=dict)


def tell(request: HttpRequest, sentence: str, *, undo: Undo | None = None) -> None:
    """Show a sentence on the next answer, with a way back."""
    messages.success(request, sentence, extra_tags=json.dumps(asdict(undo)) if undo else "")
