"""Documents over HTTP: bytes with their type and name; errors stay problem documents."""

from django.http import HttpResponse
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request

from inventory.errors import BadInput, FieldError

PDF, CALENDAR = "application/pdf", "text/calendar"
PAPER, DPI = "letter", 203


class PdfAsked(JSONRenderer):
    """Lets a caller ask for a PDF; only problems are rendered by it, as the JSON that they are."""

    media_type = PDF
    format = "pdf"


class CalendarAsked(JSONRenderer):
    """Lets a caller ask for a calendar file; only problems are rendered by it, as the JSON that they are."""

    media_type = CALENDAR
    format = "ics"


def answer(content: bytes, *, name: str, media_type: str = PDF) -> HttpResponse:
    """A document that a browser shows and saves under this name."""
    charset = "; charset=utf-8" if media_type == CALENDAR else ""
    kind = "attachment" if media_type == CALENDAR else "inline"
    headers = {"Content-Disposition": f'{kind}; filename="{name}"', "Cache-Control": "private, no-cache"}
    return HttpResponse(content, content_type=f"{media_type}{charset}", headers=headers)


def only(request: Request, *known: str) -> None:
    """Refuse with BadInput what is asked for under a name that this address does not know."""
    unknown = sorted(set(request.query_params) - set(known))
    if unknown:
        takes = f"only {' and '.join(known)} may be asked for" if known else "nothing may be asked for"
        raise BadInput([FieldError(f"/{unknown[0][:40]}", f"{unknown[0][:40]} is not known here; {takes}.")])


def paper_of(request: Request) -> str:
    """The paper asked for; what it may be is for the document to say."""
    only(request, "paper")
    return str(request.query_params.get("paper", PAPER))


def dpi_of(request: Request) -> int:
    """The printer's density asked for; raises BadInput naming `dpi` on what is not a whole number."""
    only(request, "dpi")
    asked = request.query_params.get("dpi", str(DPI))
    if not (asked.isascii() and asked.isdigit() and len(asked) <= 6):
        raise BadInput([FieldError("/dpi", f"dpi must be 203 or 300, not {asked[:40]!r}.")])
    return int(asked)
