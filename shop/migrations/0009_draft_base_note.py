from django.db import migrations, models
from django.db.models import F


def agree(apps, schema_editor):
    """What a draft of a quote says now is taken for what the quote said."""
    apps.get_model("shop", "Draft").objects.exclude(quote=None).update(base_note=F("note"))


class Migration(migrations.Migration):
    dependencies = [("shop", "0008_name_draft_customers")]

    operations = [
        migrations.AddField(
            model_name="draft",
            name="base_note",
            field=models.TextField(blank=True, default="", max_length=2000),
        ),
        migrations.RunPython(agree, migrations.RunPython.noop),
    ]
