from django.db import migrations

from inventory.migrations_support import bumps_catalogue_version


class Migration(migrations.Migration):
    dependencies = [("kits", "0003_media_and_mixes"), ("inventory", "0002_guards")]

    operations = [bumps_catalogue_version("kits_standardkit")]
