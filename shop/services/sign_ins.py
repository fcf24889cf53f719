"""What is kept of people signing in."""

from datetime import timedelta

from axes.models import AccessAttempt, AccessLog
from django.conf import settings
from django.utils import timezone

KEPT_DAYS = 90


def forget_old() -> int:
    """Failed tries that lock nobody out any more, and sign-ins of long ago, are gone; returns how many.

    A lock stands for AXES_COOLOFF_TIME after the last failed try, far less than the days kept.
    """
    assert timedelta(hours=settings.AXES_COOLOFF_TIME) < timedelta(days=KEPT_DAYS)
    before = timezone.now() - timedelta(days=KEPT_DAYS)
    tries, _ = AccessAttempt.objects.filter(attempt_time__lte=before).delete()
    signed_in, _ = AccessLog.objects.filter(attempt_time__lte=before).delete()
    return int(tries) + int(signed_in)
