"""Request bodies: what each deed may be told, checked before any service hears of it."""

from collections.abc import Mapping, Sequence
from typing import Any

from rest_framework import serializers

from inventory.errors import BadInput, FieldError

LARGEST_QUANTITY = 1_000_000_000
MOST_LINES = 10_000
CODE_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9._-]*$"
# What follows the name of the field, so that each fault is one plain sentence.
GIVEN: dict[str, Any] = {"required": "must be given.", "null": "must not be null."}
LISTS: dict[str, Any] = {
    "not_a_list": "must be a list.",
    "empty": "must not be empty.",
    "min_length": "must have at least {min_length} entries.",
    "max_length": "must have at most {max_length} entries.",
}
LIMITS = {"max_value": "must be at most {max_value}.", "min_value": "must be at least {min_value}."}


class Entries(serializers.ListSerializer[Any]):
    """A list of such objects."""

    default_error_messages = GIVEN | LISTS


class Input(serializers.Serializer[Any]):
    """A JSON object whose unknown keys are refused by name."""

    default_error_messages = GIVEN | {"invalid": "must be an object."}

    class Meta:
        list_serializer_class = Entries

    def to_internal_value(self, data: Any) -> Any:
        """The checked values; every unknown key is a fault of its own."""
        if isinstance(data, Mapping) and (unknown := set(data) - set(self.fields)):
            raise serializers.ValidationError({key: ["is not known here."] for key in sorted(unknown)})
        return super().to_internal_value(data)


class Nothing(Input):
    """An empty object, or no body at all."""


class StrictInteger(serializers.IntegerField):
    """A whole JSON number; neither "3" nor 3.0 nor true."""

    default_error_messages = GIVEN | LIMITS | {"invalid": "must be a whole number."}

    def to_internal_value(self, data: Any) -> int:
        """The number itself."""
        if not isinstance(data, int) or isinstance(data, bool):
            self.fail("invalid")
        return int(super().to_internal_value(data))


class StrictBoolean(serializers.BooleanField):
    """true or false; neither "yes" nor 1."""

    default_error_messages = GIVEN | {"invalid": "must be true or false."}

    def to_internal_value(self, data: Any) -> bool:
        """The value itself."""
        if not isinstance(data, bool):
            self.fail("invalid", input=data)
        return data


class StrictText(serializers.CharField):
    """A JSON string; numbers are not quietly turned into text."""

    default_error_messages = GIVEN | {
        "invalid": "must be text.",
        "blank": "must not be empty.",
        "max_length": "must be at most {max_length} characters.",
    }

    def to_internal_value(self, data: Any) -> str:
        """The text itself."""
        if not isinstance(data, str):
            self.fail("invalid")
        return str(super().to_internal_value(data))


class Exact(serializers.DecimalField):
    """An exact number, as text or as a JSON number."""

    default_error_messages = (
        GIVEN
        | LIMITS
        | {
            "invalid": "must be a number.",
            "max_digits": "must have at most {max_digits} digits.",
            "max_decimal_places": "must have at most {max_decimal_places} decimals.",
            "max_whole_digits": "must have at most {max_whole_digits} digits before the point.",
            "max_string_length": "is too long for a number.",
        }
    )


class Day(serializers.DateField):
    """A day of the calendar."""

    default_error_messages = GIVEN | {
        "invalid": "must be a day such as 2027-03-31.",
        "datetime": "must be a day without a time.",
    }


class OneOf(serializers.ChoiceField):
    """One of a few words."""

    default_error_messages = GIVEN

    def __init__(self, choices: Sequence[Any], **kwargs: Any) -> None:
        super().__init__(choices, **kwargs)
        self.error_messages["invalid_choice"] = f"must be one of {', '.join(map(str, self.choices))}."


class Several(serializers.ListField):
    """A list of the same kind of thing."""

    default_error_messages = GIVEN | LISTS


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
