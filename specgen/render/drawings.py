"""The drawing files of an issue: an SVG and a DXF a sheet, one PDF of all sheets."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial

from specgen.drawing.shapes import Drawing
from specgen.render.dxf import dxf_bytes
from specgen.render.pdf_drawing import pdf_bytes
from specgen.render.svg import svg_bytes

PDF = "drawings.pdf"


def drawings(drawn: Sequence[Drawing], title: str, author: str = "") -> Mapping[str, bytes]:
    """Every drawing of a project by its file name: an SVG and a DXF a sheet, and one PDF of all sheets.

    Args:
        drawn: what :func:`specgen.drawing.sheets.sheets` made of a project.
        title: of the project.
        author: the office that issues them; "" where none is named.

    Returns:
        Names and content.
    """
    return {name: make() for name, make in drawing_files(drawn, title, author).items()}


def drawing_files(
    drawn: Sequence[Drawing], title: str, author: str = ""
) -> Mapping[str, Callable[[], bytes]]:
    """The same files, each made when it is asked for."""
    named = named_sheets(drawn)
    files: dict[str, Callable[[], bytes]] = {}
    files |= {f"{stem}.svg": partial(svg_bytes, drawing) for stem, drawing in named.items()}
    files |= {f"{stem}.dxf": partial(dxf_bytes, drawing) for stem, drawing in named.items()}
    if drawn:
        files[PDF] = partial(pdf_bytes, drawn, title, author)
    return files


def named_sheets(drawn: Sequence[Drawing]) -> Mapping[str, Drawing]:
    """The sheets by the names of their files without ending."""
    return dict(zip(_stems([one.name for one in drawn]), drawn, strict=True))


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
