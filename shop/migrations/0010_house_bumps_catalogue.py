from django.db import migrations

from inventory.migrations_support import bumps_catalogue_version


class Migration(migrations.Migration):
    dependencies = [("shop", "0009_draft_base_note"), ("inventory", "0002_guards")]

    operations = [bumps_catalogue_version("shop_house")]
