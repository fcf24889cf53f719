"""`prepare`: what the first command on a new database does, alone: for servers that start part by part."""

from typing import Any

from django.core.management.base import BaseCommand

from shop.management.commands.start import first_password


class Command(BaseCommand):
    help = "Make the database ready for work and print the owner's one-time password on a first run."

    def handle(self, *args: Any, **options: Any) -> None:
        found = first_password()
        if found:
            self.stdout.write(f"The owner signs in as {found[0]} with the one-time password {found[1]}")
