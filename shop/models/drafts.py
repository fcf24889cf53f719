"""Drafts: kits that somebody is working out, kept with every step."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.functional import cached_property

from shop.models.customers import Customer
from shop.models.quotes import Quote


class Draft(models.Model):
    """One kit on one person's worktable; `at` names the step that counts, `serial` the last change taken."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="drafts")
    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, null=True, blank=True, related_name="drafts")
    base_version = models.PositiveIntegerField(default=0)  # the version of the quote that this began with
    at = models.PositiveIntegerField(default=1)
    customer = models.CharField(max_length=200, blank=True, default="")
    known = models.ForeignKey(Customer, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    base_customer = models.ForeignKey(  # the quote's when the draft and the quote last agreed
        Customer, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    note = models.TextField(blank=True, default="", max_length=2000)
    base_note = models.TextField(blank=True, default="", max_length=2000)  # the quote's when they last agreed
    serial = models.BigIntegerField(default=0)
    created_at = models.DateTimeField(auto_now_add=True)
    updated_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["-updated_at", "-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["person", "quote"],
                condition=Q(quote__isnull=False),
                name="draft_quote_once_per_person",
            ),
            models.CheckConstraint(condition=Q(at__gte=1), name="draft_step_from_one"),
        ]
        indexes = [models.Index(fields=["person", "-updated_at"], name="draft_of_person")]

    def __str__(self) -> str:
        return f"draft {self.pk}"

    @cached_property
    def step(self) -> "DraftStep":
        """The step that counts, as it was when it was first asked for."""
        return self.steps.get(position=self.at)

    def forget_step(self) -> None:
        """The step is asked for again, since it was written without this draft."""
        self.__dict__.pop("step", None)

    @property
    def names_another(self) -> bool:
        """Whether it names another customer than its quote did when they last agreed."""
        is_new = self.known_id is None and bool(self.customer.strip())
        return is_new or self.known_id != self.base_customer_id

    @property
    def says_another(self) -> bool:
        """Whether its note is another than its quote had when they last agreed."""
        return self.note != self.base_note


class DraftStep(models.Model):
    """Spec and customer after one step; typing on in the field that `touched` names stays one step."""

    draft = models.ForeignKey(Draft, on_delete=models.CASCADE, related_name="steps")
    position = models.PositiveIntegerField()
    spec = models.JSONField()
    customer = models.CharField(max_length=200, blank=True, default="")
    known = models.ForeignKey(Customer, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    touched = models.CharField(max_length=80, blank=True, default="")

    class Meta:
        ordering = ["draft_id", "position"]
        constraints = [models.UniqueConstraint(fields=["draft", "position"], name="draft_step_once")]

    def __str__(self) -> str:
        return f"{self.draft_id}/{self.position}"
