from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("shop", "0002_guards")]

    operations = [
        migrations.AddField(
            model_name="quote",
            name="proposal",
            field=models.JSONField(blank=True, null=True),
        ),
    ]
