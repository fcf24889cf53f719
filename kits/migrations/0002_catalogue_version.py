from django.db import migrations

from inventory.migrations_support import bumps_catalogue_version


class Migration(migrations.Migration):
    dependencies = [("kits", "0001_tables"), ("inventory", "0002_guards")]

    operations = [
        bumps_catalogue_version("kits_subject"),
        bumps_catalogue_version("kits_figure"),
        bumps_catalogue_version("kits_figureoverride"),
        bumps_catalogue_version("kits_profile"),
    ]
