"""Writing down who asked."""

from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.db import transaction

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError, Unknown
from shop.models import Customer
from shop.services import changes


@dataclass(frozen=True, slots=True)
class Contact:
    """What somebody told us about themselves; only the name is required."""

    name: str
    email: str = ""
    phone: str = ""
    note: str = ""


@transaction.atomic
def add(contact: Contact, *, actor: Actor) -> Customer:
    """Write down a customer; refuses an empty name or a broken e-mail address with BadInput."""
    actor.must("quote")
    customer = Customer()
    _save(customer, contact)
    changes.record(f"customer {customer.pk}", what="added", actor=actor)
    return customer


def get(customer_id: int) -> Customer:
    """The customer of this number; raises Unknown."""
    found = Customer.objects.filter(pk=customer_id).first() if 0 < customer_id < 2**63 else None
    if found is None:
        raise Unknown("customer", str(customer_id))
    return found


@transaction.atomic
def change(customer_id: int, *, contact: Contact, actor: Actor) -> Customer:
    """Correct what is known of a customer; refuses as `add` does, and an unknown customer."""
    actor.must("quote")
    customer = Customer.objects.select_for_update().filter(pk=customer_id).first()
    if customer is None:
        raise Unknown("customer", str(customer_id))
    _save(customer, contact)
    changes.record(f"customer {customer.pk}", what="changed", actor=actor)
    return customer


def _save(customer: Customer, contact: Contact) -> None:
    customer.name, customer.email = contact.name.strip(), contact.email.strip()
    customer.phone, customer.note = contact.phone.strip(), contact.note
    try:
        customer.full_clean()
    except ValidationError as error:
        raise BadInput(
            [
                FieldError(f"/{name}", f"{name}: {sentence}")
                for name, sentences in error.message_dict.items()
                for sentence in sentences
            ]
        ) from None
    customer.save()
