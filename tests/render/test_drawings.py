"""The drawing files of an issue."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.drawing.sheets import sheets
from specgen.files.names import check_name
from specgen.render import drawings as room
from specgen.render.drawings import drawings
from tests.drawing.jobs import DEMOS, demo


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_every_sheet_once_in_each_format(folder: Path) -> None:
    files = drawings(sheets(demo(folder)), "2601 Demo")
    assert [check_name(name) for name in files] == list(files)
    stems = {ending: [n[: -len(ending)] for n in files if n.endswith(ending)] for ending in (".svg", ".dxf")}
    assert stems[".svg"] == stems[".dxf"]
    assert "drawings.pdf" in files


def test_parapets_whose_names_differ_in_signs_alone_get_files_of_their_own() -> None:
    assert room._stems(["P-1 section", "P 1 section", "北 section", "section"]) == [
        "drawings/p-1-section",
        "drawings/p-1-section-2",
        "drawings/section",
        "drawings/section-2",
    ]
