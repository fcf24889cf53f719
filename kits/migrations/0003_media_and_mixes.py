from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("kits", "0002_catalogue_version")]

    operations = [
        migrations.RemoveConstraint(model_name="subject", name="subject_kind_is_known"),
        migrations.AlterField(
            model_name="subject",
            name="kind",
            field=models.CharField(
                choices=[
                    ("animal", "Animal"),
                    ("plant", "Plant"),
                    ("cleanup", "clean-up crew"),
                    ("enclosure", "Enclosure"),
                    ("style", "Style"),
                    ("medium", "growing medium"),
                    ("mix", "Mix"),
                ],
                max_length=16,
            ),
        ),
        migrations.AddConstraint(
            model_name="subject",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("kind__in", ["animal", "plant", "cleanup", "enclosure", "style", "medium", "mix"])
                ),
                name="subject_kind_is_known",
            ),
        ),
    ]
