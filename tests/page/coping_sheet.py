"""A data sheet of an invented coping, as a maker prints one."""

from __future__ import annotations

from io import BytesIO

from reportlab.lib import colors
from reportlab.lib.pagesizes import letter
from reportlab.lib.styles import getSampleStyleSheet
from reportlab.platypus import Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle

ROWS = (
    ("Property", "Value", "Test method"),
    ("Metal", "aluminum", ""),
    ("Metal thickness", "0.050 in", ""),
    ("Tested resistance of the face to outward load", "90 psf", "ANSI/SPRI/FM 4435/ES-1 RE-3"),
    ("Length of each piece", "10 ft", ""),
)


def coping_sheet() -> bytes:
    """The sheet as PDF."""
    out, styles = BytesIO(), getSampleStyleSheet()
    table = Table([*ROWS], hAlign="LEFT")
    table.setStyle(TableStyle([("GRID", (0, 0), (-1, -1), 0.5, colors.black)]))
    story = [
        Paragraph("Quoddle 4 Coping", styles["Title"]),
        Paragraph("Formed metal coping. Product data sheet.", styles["Normal"]),
        Paragraph("Manufacturer: Fallow Sheet Works", styles["Normal"]),
        Spacer(1, 12),
        table,
    ]
    SimpleDocTemplate(out, pagesize=letter, title="Quoddle 4 Coping").build(story)
    return out.getvalue()
