"""Prints of many documents at once."""

from django.db import models
from django.db.models import F, Q


class PrintJob(models.Model):
    """One print of many sheets or labels; `done` of its targets are drawn and kept as files."""

    class Document(models.TextChoices):
        BUILD_SHEET = "build_sheet"
        QUOTE = "quote"
        KIT_LABEL = "kit_label"
        SHELF_LABEL = "shelf_label"

    class State(models.TextChoices):
        QUEUED = "queued"
        RUNNING = "running"
        DONE = "done"
        CANCELLED = "cancelled"
        FAILED = "failed"

    document = models.CharField(max_length=12, choices=Document)
    targets = models.JSONField()  # quote numbers or item codes, in the order of printing
    total = models.PositiveIntegerField()
    done = models.PositiveIntegerField(default=0)
    paper = models.CharField(max_length=8, default="letter")
    dpi = models.PositiveSmallIntegerField(default=203)
    state = models.CharField(max_length=10, choices=State, default=State.QUEUED)
    problem = models.CharField(max_length=300, blank=True, default="")
    created_at = models.DateTimeField(auto_now_add=True)
    created_by = models.CharField(max_length=150)
    request_id = models.CharField(max_length=128, blank=True, default="")

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(document__in=["build_sheet", "quote", "kit_label", "shelf_label"]),
                name="print_document_known",
            ),
            models.CheckConstraint(
                condition=Q(state__in=["queued", "running", "done", "cancelled", "failed"]),
                name="print_state_known",
            ),
            models.CheckConstraint(condition=Q(done__lte=F("total")), name="print_done_within_total"),
        ]

    def __str__(self) -> str:
        return f"{self.document} x {self.total}"

    @property
    def is_under_way(self) -> bool:
        """Whether the worker has it before it, or in hand."""
        return self.state in {self.State.QUEUED, self.State.RUNNING}

    @property
    def can_go_on(self) -> bool:
        """Whether it stopped before all was drawn."""
        return self.state in {self.State.CANCELLED, self.State.FAILED}

    @property
    def can_be_taken(self) -> bool:
        """Whether something is drawn and nothing is being drawn."""
        return not self.is_under_way and self.done > 0
