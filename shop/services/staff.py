"""People, their roles, their passwords and their tokens."""

import secrets
from collections.abc import Sequence

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from rest_framework.authtoken.models import Token

from inventory.actors import Actor
from inventory.errors import BadInput, Conflict, FieldError, Unknown
from shop.models import StaffMember, StaffRole
from shop.services import changes

_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"  # nothing that is misread from a screen


@transaction.atomic
def add(name: str, *, roles: Sequence[str], actor: Actor) -> str:
    """A person with these roles exists; returns a one-time password, empty when they were here already.

    Adding somebody again adds the roles they do not hold yet and leaves their password alone; somebody who
    had left begins anew.
    """
    actor.must("staff")
    _check_roles(roles)
    user, is_new = _find_or_make(name)
    StaffRole.objects.bulk_create(
        (StaffRole(user=user, role=role) for role in dict.fromkeys(roles)), ignore_conflicts=True
    )
    _open_admin_to_owners(user)
    changes.record(f"staff {name}", what="roles", actor=actor, why=", ".join(roles))
    return one_time_password(name, actor=actor) if is_new else ""


@transaction.atomic
def drop_role(name: str, *, role: str, actor: Actor) -> StaffMember:
    """The person does not hold the role any more. Refuses with Conflict what leaves the house no owner."""
    actor.must("staff")
    _check_roles([role])
    user = _member(name)
    if role == StaffRole.Role.OWNER:
        _refuse_no_owner_left(user)
    if not user.staff_roles.filter(role=role).delete()[0]:
        raise Conflict(f"{name} does not hold the role {role}.")
    _open_admin_to_owners(user)
    changes.record(f"staff {name}", what="role taken away", actor=actor, why=role)
    return user


@transaction.atomic
def end(name: str, *, actor: Actor) -> StaffMember:
    """The person has left: no role, no token, no password, and signed in nowhere; what they did stays theirs.

    Twice is the same as once. Refuses with Conflict to let the last owner go.
    """
    actor.must("staff")
    user = _member(name)
    _refuse_no_owner_left(user)
    user.staff_roles.all().delete()
    Token.objects.filter(user=user).delete()
    user.is_active = user.is_staff = user.is_superuser = user.must_change_password = False
    user.set_unusable_password()
    user.save()
    changes.record(f"staff {name}", what="left", actor=actor)
    return user


@transaction.atomic
def one_time_password(name: str, *, actor: Actor) -> str:
    """Give a person a fresh password that lets them in only as far as choosing their own."""
    actor.must("staff")
    user = _working(name)
    password = "-".join("".join(secrets.choice(_LETTERS) for _ in range(5)) for _ in range(4))
    user.set_password(password)
    user.must_change_password = True
    user.save(update_fields=["password", "must_change_password"])
    _open_admin_to_owners(user)
    changes.record(f"staff {name}", what="one-time password", actor=actor)
    return password


@transaction.atomic
def change_password(name: str, *, old: str, new: str, actor: Actor) -> StaffMember:
    """A person's password is the one they chose; refuses a wrong old one and a weak new one with BadInput."""
    user = _member(name)
    if not user.check_password(old):
        raise BadInput([FieldError("/old", "old is not the present password.")])
    if old == new:
        raise BadInput([FieldError("/new", "new is the same as the present password.")])
    try:
        validate_password(new, user)
    except ValidationError as error:
        raise BadInput([FieldError("/new", f"new: {sentence}") for sentence in error.messages]) from None
    user.set_password(new)
    user.must_change_password = False
    user.save(update_fields=["password", "must_change_password"])
    _open_admin_to_owners(user)
    changes.record(f"staff {name}", what="password changed", actor=actor)
    return user


@transaction.atomic
def token(name: str, *, actor: Actor) -> str:
    """The person's API token, made on first asking."""
    actor.must("staff")
    made, is_new = Token.objects.get_or_create(user=_working(name))
    if is_new:
        changes.record(f"staff {name}", what="token", actor=actor)
    return str(made.key)


def _member(name: str) -> StaffMember:
    user = StaffMember.objects.select_for_update().filter(username=name).first()
    if user is None:
        raise Unknown("staff member", name)
    return user


def _working(name: str) -> StaffMember:
    user = _member(name)
    if not user.is_active:
        raise Conflict(f"{name} has left; add them again first.")
    return user


def _refuse_no_owner_left(user: StaffMember) -> None:
    """Lock the owners, so that two of them cannot let each other go at the same moment."""
    owners = StaffRole.objects.select_for_update().filter(role=StaffRole.Role.OWNER, user__is_active=True)
    names = [row.user_id for row in owners.order_by("id")]
    if names == [user.pk]:
        raise Conflict(f"{user.get_username()} is the only owner; add another owner first.")


def _open_admin_to_owners(user: StaffMember) -> None:
    """The admin pages know no one-time passwords, so they open only after an owner has chosen their own."""
    is_owner = user.staff_roles.filter(role=StaffRole.Role.OWNER).exists()
    user.is_staff = user.is_superuser = is_owner and not user.must_change_password
    user.save(update_fields=["is_staff", "is_superuser"])


def _find_or_make(name: str) -> tuple[StaffMember, bool]:
    user = StaffMember.objects.filter(username=name).first()
    if user is not None:
        was_here, user.is_active = user.is_active, True
        user.save(update_fields=["is_active"])
        return user, not was_here
    user = StaffMember(username=name)
    user.set_unusable_password()
    try:
        user.full_clean(exclude=["password"])
    except ValidationError as error:
        sentences = [sentence for found in error.message_dict.values() for sentence in found]
        raise BadInput([FieldError("/name", f"name: {sentence}") for sentence in sentences]) from None
    user.save()
    return user, True


def _check_roles(roles: Sequence[str]) -> None:
    known = set(StaffRole.Role.values)
    if unknown := [role for role in roles if role not in known]:
        raise BadInput(
            [FieldError("/role", f"role {role!r} is none of {', '.join(sorted(known))}.") for role in unknown]
        )
