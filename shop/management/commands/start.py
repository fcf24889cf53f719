"""`start`: the whole house on one machine."""

from argparse import ArgumentTypeError
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandParser

from inventory.actors import SYSTEM
from shop.runtime.commands import say
from shop.runtime.supervisor import Order, Supervisor


def port_number(text: str) -> int:
    """Read a port."""
    if not text.isdigit() or not 1 <= int(text) <= 65535:
        raise ArgumentTypeError("the port is a whole number from 1 to 65535")
    return int(text)


class Command(BaseCommand):
    help = "Start database, broker, worker, beat and web; Ctrl-C stops them all."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--port", type=port_number, default=8000)
        parser.add_argument("--empty", action="store_true", help="start a new shop without the demo shop")

    def handle(self, *args: Any, **options: Any) -> None:
        order = Order(port=options["port"], empty=options["empty"])
        Supervisor(settings.DATA, order, say).run(lambda: self._welcome(order.port))

    def _welcome(self, port: int) -> None:
        found = first_password()
        if found:
            self.stdout.write(f"The owner signs in as {found[0]} with the one-time password {found[1]}")
        self.stdout.write(f"Kitwright is ready at http://127.0.0.1:{port}/")
        self.stdout.flush()


def first_password() -> tuple[str, str] | None:
    """A name and a one-time password for the owner while no owner can sign in; None afterwards."""
    from shop.models import StaffMember
    from shop.services import staff

    owners = list(StaffMember.objects.filter(staff_roles__role="owner").order_by("id"))
    if any(owner.has_usable_password() for owner in owners):
        return None
    name = owners[0].get_username() if owners else "owner"
    return name, staff.add(name, roles=["owner"], actor=SYSTEM) or staff.one_time_password(name, actor=SYSTEM)
