from django.db import migrations

from inventory.migrations_support import runs_sql_file


class Migration(migrations.Migration):
    dependencies = [("inventory", "0002_guards")]

    operations = [runs_sql_file("holds")]
