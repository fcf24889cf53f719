"""All that is known of one animal, plant or other subject, each figure with its mark and where it is from."""

from dataclasses import dataclass
from typing import Any

from django.db.models import Q, QuerySet

from inventory.errors import Unknown
from kits.models import FigureOverride, Mark, Profile, Subject, SubjectKind
from kits.selectors.sources import Source, sources_in
from kits.terms.figure_words import place

OWN = "own"
KINDS: tuple[str, ...] = tuple(SubjectKind.values)
# Roles whose items are a subject, with the figure that names it.
SUBJECTS = {
    "plant": ("plant", "species"),
    "cleanup_crew": ("cleanup", "taxon"),
    "enclosure": ("enclosure", "size"),
}
MARKS: dict[str, str] = {**dict(Mark.choices), OWN: "own: the shop's own figure"}


@dataclass(frozen=True, slots=True)
class KnownFigure:
    """One figure as it counts; where the shop's own stands, `published` is what it stands in for."""

    field: str
    value: Any
    unit: str
    mark: str
    source: str
    read_in: tuple[Source, ...] = ()
    published: Any = None

    def as_json(self) -> dict[str, Any]:
        """The published shape."""
        shown = {"field": self.field, "value": self.value, "unit": self.unit, "mark": self.mark}
        shown |= {"source": self.source, "read_in": [_shown(source) for source in self.read_in]}
        return shown if self.mark != OWN else {**shown, "published": self.published}


@dataclass(frozen=True, slots=True)
class FactSheet:
    """A subject with its figures in the order in which they are read."""

    kind: str
    code: str
    name: str
    english_name: str
    figures: tuple[KnownFigure, ...]

    def as_json(self) -> dict[str, Any]:
        """The published shape."""
        return {**_named(self), "figures": [figure.as_json() for figure in self.figures]}


def listed(kind: str, *, search: str = "") -> list[dict[str, Any]]:
    """The subjects of a kind by code, those whose code or name holds the text; raises Unknown. One query."""
    if kind not in KINDS:
        raise Unknown("kind of fact", kind)
    subjects: QuerySet[Subject] = Subject.objects.filter(kind=kind).order_by("code")
    return [_named(subject) for subject in (_searched(subjects, search) if search else subjects)]


def found(search: str, *, limit: int) -> list[dict[str, Any]]:
    """Subjects of any kind whose code or name holds the text, animals first; one query."""
    return [_named(subject) for subject in _searched(Subject.objects.all(), search)[:limit]]


def _searched(subjects: QuerySet[Subject], search: str) -> QuerySet[Subject]:
    in_names = Q(name__icontains=search) | Q(english_name__icontains=search)
    return subjects.filter(Q(code__icontains=search) | in_names)


def of_item(code: str) -> list[tuple[str, str]]:
    """Kind and code of what is known of the plant, crew or box that an item is; one query."""
    rows = Profile.objects.filter(item__code=code, role__in=SUBJECTS).order_by("role")
    named = [(SUBJECTS[role], figures) for role, figures in rows.values_list("role", "figures")]
    return [(kind, figures[key]) for (kind, key), figures in named if figures.get(key)]


def sheet(kind: str, code: str) -> FactSheet:
    """One subject with all its figures; raises Unknown. Three queries."""
    subject = Subject.objects.filter(kind=kind, code=code).first()
    if subject is None:
        raise Unknown(kind if kind in KINDS else "kind of fact", code if kind in KINDS else kind)
    known = {
        row.field: KnownFigure(row.field, row.value, row.unit, row.mark, row.source, sources_in(row.source))
        for row in subject.figures.all()
    }
    for own in subject.overrides.all():
        known[own.field] = _own(own, known.get(own.field))
    figures = tuple(known[field] for field in sorted(known, key=place))
    return FactSheet(kind, subject.code, subject.name, subject.english_name, figures)


def _own(own: FigureOverride, published: KnownFigure | None) -> KnownFigure:
    return KnownFigure(
        field=own.field,
        value=own.value,
        unit=published.unit if published else "",
        mark=OWN,
        source=f"{own.why} ({own.by}, {own.at:%Y-%m-%d})",
        published=published.value if published else None,
    )


def _named(of: Subject | FactSheet) -> dict[str, Any]:
    return {"kind": of.kind, "code": of.code, "name": of.name, "english_name": of.english_name}


def _shown(source: Source) -> dict[str, str]:
    return {"tag": source.tag, "words": source.words, "address": source.address}
