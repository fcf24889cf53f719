from django.db import migrations

from inventory.migrations_support import bumps_catalogue_version


class Migration(migrations.Migration):
    dependencies = [("inventory", "0003_holds")]

    operations = [
        bumps_catalogue_version("inventory_mix"),
        bumps_catalogue_version("inventory_mixpart"),
    ]
