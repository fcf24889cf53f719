from django.db import migrations

from inventory.migrations_support import bumps_catalogue_version, runs_sql_file


class Migration(migrations.Migration):
    dependencies = [("inventory", "0001_tables")]

    operations = [
        runs_sql_file("guards"),
        bumps_catalogue_version("inventory_item"),
        bumps_catalogue_version("inventory_taxclass"),
    ]
