"""The tables of this app."""

from kits.models.profiles import Profile
from kits.models.standard_kits import StandardKit
from kits.models.subjects import Figure, FigureOverride, Mark, Subject, SubjectKind

__all__ = ["Figure", "FigureOverride", "Mark", "Profile", "StandardKit", "Subject", "SubjectKind"]
