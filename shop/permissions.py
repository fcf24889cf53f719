"""Who may do what: the one table of roles and abilities, as data."""

from collections.abc import Iterable
from typing import Any

from inventory.actors import ABILITIES, Actor

ROLES: dict[str, frozenset[str]] = {
    "counter": frozenset(
        {"quote", "hold", "accept", "cancel", "discount", "hand_over", "return", "adjust", "count", "print"}
    ),
    "packer": frozenset({"hand_over", "receive", "adjust", "count", "move", "mix", "quarantine", "print"}),
    "owner": ABILITIES,
}

MEANINGS: dict[str, str] = {
    "quote": "work out kits and write quotes",
    "hold": "hold stock for a quote and release it",
    "accept": "turn a quote into an order",
    "cancel": "cancel an order",
    "discount": "give a discount up to the house's counter limit",
    "discount_large": "give a discount above that limit",
    "price": "change prices",
    "see_cost": "see what the shop paid",
    "hand_over": "let goods leave with the customer",
    "return": "take goods back",
    "receive": "receive deliveries",
    "adjust": "correct stock with a reason",
    "count": "count shelves",
    "move": "move stock between places",
    "mix": "mix substrate batches",
    "release_batch": "release or reject a batch",
    "quarantine": "quarantine a lot and lift the quarantine",
    "restock": "plan what to buy and mix",
    "catalogue": "change items and import the catalogue",
    "override_fact": "set a figure of the shop's own",
    "print": "print documents and labels",
    "staff": "add staff, roles and tokens",
    "backup": "back up and restore",
}


def abilities_of(roles: Iterable[str]) -> frozenset[str]:
    """Everything that any of these roles may do."""
    return frozenset().union(*(ROLES[role] for role in roles))


def actor_for(user: Any, request_id: str = "") -> Actor:
    """The signed-in person or program as the services know it; an inactive person may do nothing."""
    if not user.is_active:
        return Actor(name=user.get_username(), abilities=frozenset(), request_id=request_id)
    return Actor(name=user.get_username(), abilities=abilities_of(user.roles), request_id=request_id)


def matrix_markdown() -> str:
    """The permission matrix as it stands in DEVELOPERS.md."""
    head = f"| ability | meaning | {' | '.join(ROLES)} |"
    rule = "|---|---|" + "---|" * len(ROLES)
    return "\n".join([head, rule, *map(_row, MEANINGS)]) + "\n"


def _row(ability: str) -> str:
    marks = " | ".join("yes" if ability in may else "-" for may in ROLES.values())
    return f"| `{ability}` | {MEANINGS[ability]} | {marks} |"
