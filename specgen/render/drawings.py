"""The drawing files of an issue: SVG always, DXF and PDF where their packages are installed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from importlib.util import find_spec

from specgen.assessment import Assessment
from specgen.drawing.sheets import sheets
from specgen.render.svg import svg_bytes
from specgen.sections.build import SectionText

PACKAGES = {"DXF": "ezdxf", "PDF": "reportlab"}  # by the name of the format


def drawings(assessment: Assessment, sections: Iterable[SectionText]) -> Mapping[str, bytes]:
    """Every drawing of a project by its file name: an SVG and a DXF a sheet, and one PDF of all sheets.

    Args:
        assessment: the project with its requirements.
        sections: as written of it; the notes name their paragraphs.

    Returns:
        Names and content. DXF and PDF are left out where their package is not installed: see :func:`left_out`.
    """
    drawn = sheets(assessment, sections)
    named = dict(zip(_stems([one.name for one in drawn]), drawn, strict=True))
    files = {f"{stem}.svg": svg_bytes(drawing) for stem, drawing in named.items()}
    if _has("DXF"):
        from specgen.render.dxf import dxf_bytes

        files |= {f"{stem}.dxf": dxf_bytes(drawing) for stem, drawing in named.items()}
    if _has("PDF") and drawn:
        from specgen.render.pdf_drawing import pdf_bytes

        files["drawings.pdf"] = pdf_bytes(drawn, assessment.project.title)
    return files


def left_out() -> str:
    """One line for the user where a format is left out; empty if none is."""
    missing = [name for name in PACKAGES if not _has(name)]
    if not missing:
        return ""
    return f"Drawings without {' and '.join(missing)}: pip install 'specgen[drawings]' adds what they need."


def _stems(names: Iterable[str]) -> list[str]:
    """File names without ending; names that differ only in what no file name holds are told apart by a number."""
    stems: list[str] = []
    for name in names:
        plain = "drawing-" + re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:80]
        stem, number = plain, 2
        while stem in stems:
            stem, number = f"{plain}-{number}", number + 1
        stems.append(stem)
    return stems


def _has(name: str) -> bool:
    return find_spec(PACKAGES[name]) is not None
