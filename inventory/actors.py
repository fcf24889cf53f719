"""Who is acting: a name, what they may do, and the request they do it in."""

from dataclasses import dataclass

from inventory.errors import NotAllowed

ABILITIES = frozenset(
    {
        "quote", "hold", "accept", "cancel", "discount", "discount_large", "price", "see_cost", "hand_over",
        "return", "receive", "adjust", "count", "move", "mix", "release_batch", "quarantine", "restock",
        "catalogue", "override_fact", "print", "staff", "backup",
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Actor:
    """A person or program at work; services ask it before they change anything."""

    name: str
    abilities: frozenset[str]
    request_id: str = ""

    def may(self, ability: str) -> bool:
        """Whether this actor may do the named thing."""
        return ability in self.abilities

    def must(self, ability: str) -> None:
        """Refuse with NotAllowed unless this actor may do the named thing."""
        if ability not in self.abilities:
            raise NotAllowed(self.name, ability)


SYSTEM = Actor(name="system", abilities=ABILITIES)
