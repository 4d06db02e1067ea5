"""The drawing files of an issue: an SVG and a DXF a sheet, one PDF of all sheets."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from specgen.assessment import Assessment
from specgen.drawing.sheets import sheets
from specgen.render.dxf import dxf_bytes
from specgen.render.pdf_drawing import pdf_bytes
from specgen.render.svg import svg_bytes
from specgen.sections.build import SectionText


def drawings(assessment: Assessment, sections: Iterable[SectionText]) -> Mapping[str, bytes]:
    """Every drawing of a project by its file name: an SVG and a DXF a sheet, and one PDF of all sheets.

    Args:
        assessment: the project with its requirements.
        sections: as written of it; the notes name their paragraphs.

    Returns:
        Names and content.
    """
    drawn = sheets(assessment, sections)
    named = dict(zip(_stems([one.name for one in drawn]), drawn, strict=True))
    files = {f"{stem}.svg": svg_bytes(drawing) for stem, drawing in named.items()}
    files |= {f"{stem}.dxf": dxf_bytes(drawing) for stem, drawing in named.items()}
    if drawn:
        files["drawings.pdf"] = pdf_bytes(drawn, assessment.project.title)
    return files


def _stems(names: Iterable[str]) -> list[str]:
    """File names without ending; names that differ only in what no file name holds are told apart by a number."""
    stems: list[str] = []
    for name in names:
        plain = "drawings/" + re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:80]
        stem, number = plain, 2
        while stem in stems:
            stem, number = f"{plain}-{number}", number + 1
        stems.append(stem)
    return stems
