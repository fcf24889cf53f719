"""Lengths in words, drawing scales and scale bars."""

POINTS_PER_MM = 72 / 25.4
MM_PER_INCH = 25.4
EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
# Scales that a person with a ruler can work with.
SCALES = (
    1,
    1.5,
    2,
    2.5,
    3,
    4,
    5,
    6,
    7,
    8,
    9,
    10,
    11,
    12,
    13,
    14,
    15,
    16,
    18,
    20,
    22,
    25,
    28,
    30,
    35,
    40,
    45,
    50,
)
BAR_LENGTHS_MM = (20, 50, 100, 200, 500, 1000)
BAR_LENGTHS_IN = (1, 2, 4, 8, 20, 40)


def length_text(mm: float, units: str) -> str:
    """A length for a person: "60 mm", for US units "60 mm · 2⅜ in" to the nearest eighth.

    Example:
        >>> length_text(60, "us"), length_text(1200, "metric")
        ('60 mm · 2⅜ in', '1200 mm')
    """
    metric = f"{mm:.0f} mm"
    return metric if units != "us" else f"{metric} · {inch_text(mm)}"


def inch_text(mm: float) -> str:
    """A length in inches to the nearest eighth.

    Example:
        >>> inch_text(25.4), inch_text(3), inch_text(0)
        ('1 in', '⅛ in', '0 in')
    """
    whole, eighths = divmod(round(mm / MM_PER_INCH * 8), 8)
    return f"{whole or ('' if eighths else '0')}{EIGHTHS[eighths]} in"


def scale_for(width_mm: float, height_mm: float, *, width: float, height: float) -> float:
    """The largest drawing scale, as n of 1 : n, at which a thing fits into so many points."""
    least = max(width_mm * POINTS_PER_MM / max(width, 1.0), height_mm * POINTS_PER_MM / max(height, 1.0))
    return next((scale for scale in SCALES if scale >= least), least)


def scale_text(scale: float) -> str:
    """A scale as on a title block."""
    return f"scale 1 : {scale:.3g}"


def bar_mm(scale: float, *, longest: float = 90.0) -> tuple[float, int]:
    """The longest round length that makes a scale bar of so many points: millimetres and inches."""
    metric = [mm for mm in BAR_LENGTHS_MM if mm * POINTS_PER_MM / scale <= longest]
    inches = [inch for inch in BAR_LENGTHS_IN if inch * 72 / scale <= longest]
    return float(metric[-1] if metric else BAR_LENGTHS_MM[0]), inches[-1] if inches else 1
