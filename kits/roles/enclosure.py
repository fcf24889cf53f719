"""The enclosure itself: bought by catalogue size, unless its owner measured it."""

from kits.terms.build import Build
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import text

CODE = "enclosure"
ORDER = 10
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """One of the size that was asked for; none for a measured box, which its owner has."""
    size = build.box.size_code
    if not size:
        return ()
    return (Need(CODE, count=1, wanted={"size": size}, because=(f"The build is for the size {size}.",)),)


def fit(need: Need, figures: Figures) -> Fit:
    """Only the very size will do: everything else was worked out for it."""
    size, wanted = text(figures, "size"), need.wanted["size"]
    if size != wanted:
        return Fit(refusal=f"Its size is {size or 'not recorded'}, the build is for {wanted}.")
    return Fit(because=(f"It is the size {size}.",))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Nothing that the weights do not say already."""
    return ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Locks and seals wear."""
    return (Reminder("Check doors, locks, vents and cable passages for gaps", 90, CODE),)
