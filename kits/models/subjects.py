"""What facts are known about, and each published figure."""

from django.core.validators import RegexValidator
from django.db import models

CODE = RegexValidator(r"^[a-z0-9][a-z0-9-]*$", "Use lower-case letters, digits and hyphens.")


class SubjectKind(models.TextChoices):
    """The things that facts are known about."""

    ANIMAL = "animal"
    PLANT = "plant"
    CLEANUP = "cleanup", "clean-up crew"
    ENCLOSURE = "enclosure"
    STYLE = "style"
    MEDIUM = "medium", "growing medium"
    MIX = "mix"


class Mark(models.TextChoices):
    """How well a figure is backed."""

    SEEN = "A", "A: veterinary, law, government or reviewed"
    GENERAL = "B", "B: general page"
    MEMORY = "M", "M: from memory or common practice"


class Subject(models.Model):
    """One animal, plant, clean-up taxon, enclosure size, build style, growing medium or mix, by its code."""

    kind = models.CharField(max_length=16, choices=SubjectKind)
    code = models.CharField(max_length=64, validators=[CODE])
    name = models.CharField(max_length=200)
    english_name = models.CharField(max_length=200, blank=True, db_default="")

    class Meta:
        ordering = ["kind", "code"]
        constraints = [
            models.UniqueConstraint(fields=["kind", "code"], name="one_subject_per_kind_and_code"),
            models.CheckConstraint(
                condition=models.Q(kind__in=SubjectKind.values), name="subject_kind_is_known"
            ),
            models.CheckConstraint(
                condition=~models.Q(code="") & ~models.Q(name=""), name="subject_is_named"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.code}"


class Figure(models.Model):
    """One published figure with its mark and source; written by `load_facts` alone."""

    subject = models.ForeignKey(Subject, on_delete=models.CASCADE, related_name="figures")
    field = models.CharField(max_length=64)
    value = models.JSONField()
    unit = models.CharField(max_length=32)
    mark = models.CharField(max_length=1, choices=Mark)
    source = models.TextField()

    class Meta:
        ordering = ["subject", "field"]
        constraints = [
            models.UniqueConstraint(fields=["subject", "field"], name="one_figure_per_subject_and_field"),
            models.CheckConstraint(condition=models.Q(mark__in=Mark.values), name="figure_mark_is_known"),
            models.CheckConstraint(condition=~models.Q(source=""), name="figure_has_a_source"),
        ]

    def __str__(self) -> str:
        return f"{self.subject} {self.field}"


class FigureOverride(models.Model):
    """The shop's own figure for one field; it wins over the published one and survives upgrades."""

    subject = models.ForeignKey(Subject, on_delete=models.PROTECT, related_name="overrides")
    field = models.CharField(max_length=64)
    value = models.JSONField()
    why = models.TextField()
    by = models.CharField(max_length=150)
    at = models.DateTimeField()

    class Meta:
        ordering = ["subject", "field"]
        constraints = [
            models.UniqueConstraint(fields=["subject", "field"], name="one_override_per_subject_and_field"),
            models.CheckConstraint(condition=~models.Q(why="") & ~models.Q(by=""), name="override_says_why"),
        ]

    def __str__(self) -> str:
        return f"{self.subject} {self.field}"
