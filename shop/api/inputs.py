"""Request bodies: what each deed may be told, checked before any service hears of it."""

from collections.abc import Mapping
from typing import Any

from rest_framework import serializers

from inventory.errors import BadInput, FieldError

LARGEST_QUANTITY = 1_000_000_000
MOST_LINES = 10_000
CODE_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9._-]*$"


class Input(serializers.Serializer[Any]):
    """A JSON object whose unknown keys are refused by name."""

    def to_internal_value(self, data: Any) -> Any:
        """The checked values; every unknown key is a fault of its own."""
        if isinstance(data, Mapping) and (unknown := set(data) - set(self.fields)):
            raise serializers.ValidationError(
                {key: ["This key is not known here."] for key in sorted(unknown)}
            )
        return super().to_internal_value(data)


class Nothing(Input):
    """An empty object, or no body at all."""


class StrictInteger(serializers.IntegerField):
    """A whole JSON number; neither "3" nor 3.0 nor true."""

    def to_internal_value(self, data: Any) -> int:
        """The number itself."""
        if not isinstance(data, int) or isinstance(data, bool):
            self.fail("invalid")
        return int(super().to_internal_value(data))


class StrictBoolean(serializers.BooleanField):
    """true or false; neither "yes" nor 1."""

    def to_internal_value(self, data: Any) -> bool:
        """The value itself."""
        if not isinstance(data, bool):
            self.fail("invalid", input=data)
        return data


class StrictText(serializers.CharField):
    """A JSON string; numbers are not quietly turned into text."""

    def to_internal_value(self, data: Any) -> str:
        """The text itself."""
        if not isinstance(data, str):
            self.fail("invalid")
        return str(super().to_internal_value(data))


def code(**kwargs: Any) -> serializers.CharField:
    """A code as it stands in addresses and on labels."""
    return StrictText(max_length=64, **kwargs)


def text(max_length: int, **kwargs: Any) -> serializers.CharField:
    """Free text of at most so many characters."""
    return StrictText(max_length=max_length, allow_blank=True, **kwargs)


def quantity(**kwargs: Any) -> serializers.IntegerField:
    """A whole quantity in the item's base unit, at least one."""
    return StrictInteger(min_value=1, max_value=LARGEST_QUANTITY, **kwargs)


def checked(serializer: type[Input], data: Any) -> dict[str, Any]:
    """The body as the serializer understands it; raises a ValidationError naming every fault."""
    made = serializer(data=_object(data))
    made.is_valid(raise_exception=True)
    return dict(made.validated_data)


def spec_object(data: Any, pointer: str = "") -> Mapping[str, Any]:
    """A build spec must at least be a JSON object; the rest is for the planner to say."""
    if not isinstance(data, Mapping):
        raise BadInput([FieldError(pointer, "The build spec must be a JSON object.")])
    return data


def _object(data: Any) -> Any:
    if not isinstance(data, Mapping):
        raise BadInput([FieldError("", "The body must be a JSON object.")])
    return data
