"""A thing as the key of what is worked out of it once."""


class Itself:
    """One thing, equal to nothing but itself, however alike another one may be.

    Facts are read once and never changed, and are too large to be compared; whoever keeps this keeps the
    thing too, so that no other can come to stand in its place.

    Example:
        >>> one, other = {"a": 1}, {"a": 1}
        >>> Itself(one) == Itself(one), Itself(one) == Itself(other)
        (True, False)
    """

    __slots__ = ("thing",)

    def __init__(self, thing: object) -> None:
        self.thing = thing

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Itself) and self.thing is other.thing

    def __hash__(self) -> int:
        return id(self.thing)
