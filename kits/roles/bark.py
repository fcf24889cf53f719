"""Flat bark on the ground: shelter for the clean-up crew."""

from kits.terms.build import Build
from kits.terms.conditions import yes
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, wanted_number, words
from kits.terms.rounding import rounded

CODE = "bark"
ORDER = 80
IN_SOIL = False
SHARE_OF_FLOOR = 0.10
MOST_PIECES = 24


def needs(build: Build) -> tuple[Need, ...]:
    """Pieces for a tenth of the floor: common practice, no source."""
    if not yes(build.style, CODE):
        return ()
    area = build.box.footprint_m2 * SHARE_OF_FLOOR
    longest = max(build.box.width_mm, build.box.depth_mm)
    because = (f"A tenth of the floor, {rounded(area * 1e4)} cm2, is covered for shelter (common practice).",)
    wanted = {"area_m2": area, "longest_mm": longest, "style": build.style.code}
    return (Need(CODE, count=1, wanted=wanted, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """Pieces that lie flat in the box."""
    length, width = positive(figures, "length_mm"), positive(figures, "width_mm")
    if length is None or width is None:
        return missing("length or width")
    longest, area = (wanted_number(need, key) for key in ("longest_mm", "area_m2"))
    styles, style = words(figures, "styles"), need.wanted["style"]
    if styles and style not in styles:
        return Fit(refusal=f"It is listed for {', '.join(styles)}, not for {style}.")
    if length > longest:
        return Fit(refusal=f"Its length of {length:g} mm is more than the {longest:g} mm of the floor.")
    pieces = max(1, -int(-area // (length * width / 1e6)))
    if pieces > MOST_PIECES:
        return Fit(
            refusal=f"{pieces} pieces of {length:g} x {width:g} mm would be needed, more than {MOST_PIECES}."
        )
    return Fit(because=(f"{pieces} of {length:g} x {width:g} mm do.",), each=1 / pieces)


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Nothing to warn of."""
    return ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Nothing to look after."""
    return ()
