"""Springtails and isopods that eat what falls to the ground."""

from collections.abc import Mapping

from kits.terms.build import Build
from kits.terms.conditions import growing_climate, yes
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, text
from kits.terms.rounding import rounded
from kits.terms.suitability import crew_suits

CODE = "cleanup_crew"
ORDER = 90
IN_SOIL = False
KINDS = ("springtail", "isopod")
MOST_CULTURES = 60


def needs(build: Build) -> tuple[Need, ...]:
    """A starter of each kind that any taxon of suits the build; none where none does."""
    if not yes(build.style, "cleanup") or build.layer_l("substrate") <= 0:
        return ()
    return tuple(need for kind in KINDS if (need := _need(build, kind)) is not None)


def _need(build: Build, kind: str) -> Need | None:
    climate, area = growing_climate(build), build.box.footprint_m2
    starters: dict[str, float] = {}
    refused: dict[str, str] = {}
    for code, taxon in build.cleanup.items():
        if taxon.text("type") != kind:
            continue
        reasons = crew_suits(taxon, climate, build.style)
        density = taxon.number("starter_per_m2_lo")
        if reasons or not density:
            refused[code] = " ".join(reasons) or "No starter density is known."
        else:
            starters[code] = density * area
    if not starters:
        return None
    because = (f"Starter for {rounded(area, 3)} m2 of ground.",)
    wanted = {"kind": kind, "starters": starters, "refused": refused}
    return Need(CODE, slot=kind, count=1, wanted=wanted, because=because)


def fit(need: Need, figures: Figures) -> Fit:
    """A culture of a taxon that suits; several where one is too small."""
    taxon, animals = text(figures, "taxon"), positive(figures, "animals")
    if animals is None:
        return missing("number of animals")
    starters, refused = need.wanted["starters"], need.wanted["refused"]
    assert isinstance(starters, Mapping)
    assert isinstance(refused, Mapping)
    if taxon not in starters:
        reason = refused.get(taxon) or f"It is no {need.wanted['kind']}."
        return Fit(refusal=str(reason))
    wanted = float(starters[taxon])
    cultures = max(1, -int(-wanted // animals))
    if cultures > MOST_CULTURES:
        return Fit(refusal=f"{cultures} cultures of {animals:g} would be needed, more than {MOST_CULTURES}.")
    return Fit(because=(f"The footprint asks for a starter of {rounded(wanted)}.",), each=1 / cultures)


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Live soil animals are regulated."""
    if figures is None:
        return ()
    text_ = (
        "Never release soil animals. Moving them between states can need a permit (USDA PPQ "
        "526); check locally."
    )
    return (Caution("note", CODE, text_),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Crews starve and drown."""
    return (Reminder("Look for the clean-up crew under litter and wood", 30, CODE),)
