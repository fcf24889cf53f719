"""`staff add`, `staff token`, `staff password`: who works here."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from shop.management.terminal import OPERATOR, or_refuse
from shop.models import StaffRole
from shop.services import staff


class Command(BaseCommand):
    help = "Add a person with a role, print an API token, or give a fresh one-time password."

    def add_arguments(self, parser: ArgumentParser) -> None:
        actions = parser.add_subparsers(dest="action", required=True)
        add = actions.add_parser(
            "add", help="add a person, or a role to a person; prints a one-time password"
        )
        add.add_argument("name", metavar="NAME")
        add.add_argument("--role", required=True, action="append", choices=StaffRole.Role.values)
        for action, about in (
            ("token", "print an API token"),
            ("password", "give a fresh one-time password"),
        ):
            actions.add_parser(action, help=about).add_argument("name", metavar="NAME")

    def handle(self, *args: Any, action: str, name: str, **options: Any) -> None:
        if action == "add":
            self.stdout.write(self._added(name, options["role"]))
        elif action == "token":
            key = or_refuse(lambda: staff.token(name, actor=OPERATOR))
            self.stdout.write(f"API token of {name}: {key}")
        else:
            password = or_refuse(lambda: staff.one_time_password(name, actor=OPERATOR))
            self.stdout.write(f"One-time password of {name}: {password}")

    def _added(self, name: str, roles: list[str]) -> str:
        password = or_refuse(lambda: staff.add(name, roles=roles, actor=OPERATOR))
        if password:
            return f"One-time password of {name}: {password}"
        return f"{name} was here already and now also has: {', '.join(roles)}. The password is unchanged."
