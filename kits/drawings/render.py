"""One drawing for paper and screen: a Drawing is a flowable as it is; here are its own PDF and its SVG."""

from io import BytesIO

from reportlab.graphics.shapes import Drawing
from reportlab.pdfgen.canvas import Canvas

from inventory.documents.typeface import register
from kits.drawings import on_paper
from kits.drawings.svg import svg

__all__ = ["pdf", "svg"]


def pdf(drawing: Drawing, *, title: str, language: str = "en") -> bytes:
    """The drawing as a PDF page of its own size; equal drawings give equal bytes."""
    register()
    out = BytesIO()
    canvas = Canvas(out, pagesize=(drawing.width, drawing.height), invariant=1, lang=language)
    canvas.setTitle(title)
    on_paper.draw(drawing, canvas, 0, 0)
    canvas.showPage()
    canvas.save()
    return out.getvalue()
