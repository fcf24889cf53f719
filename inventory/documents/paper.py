"""Paper that the house prints on, in points (72 to the inch), and how whole printer dots map onto it."""

from inventory.errors import BadInput, FieldError

POINTS_PER_INCH = 72.0
MM = POINTS_PER_INCH / 25.4
SHEETS = {"letter": (612.0, 792.0), "a4": (210 * MM, 297 * MM)}
DPI = (203, 300)


def sheet_size(name: str) -> tuple[float, float]:
    """Width and height of a sheet in points; raises BadInput naming `paper`.

    >>> sheet_size("letter")
    (612.0, 792.0)
    """
    if name not in SHEETS:
        raise BadInput(
            [FieldError("/paper", f"paper must be one of {' or '.join(SHEETS)}, not {name[:40]!r}.")]
        )
    return SHEETS[name]


def printer_dpi(dpi: int) -> int:
    """The density of a label printer; raises BadInput naming `dpi`.

    >>> printer_dpi(203)
    203
    """
    if dpi not in DPI:
        raise BadInput([FieldError("/dpi", f"dpi must be 203 or 300, not {dpi}.")])
    return dpi


def dots(count: int, *, dpi: int) -> float:
    """So many printer dots in points.

    >>> dots(300, dpi=300)
    72.0
    """
    return count / dpi * POINTS_PER_INCH
