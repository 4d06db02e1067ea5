"""The drawing files of an issue, with and without the optional packages."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.files.names import check_name
from specgen.render import drawings as room
from specgen.render.drawings import drawings, left_out
from tests.drawing.jobs import DEMOS, demo


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_every_sheet_once_in_each_format(folder: Path) -> None:
    pytest.importorskip("ezdxf")
    pytest.importorskip("reportlab")
    files = drawings(*demo(folder))
    assert [check_name(name) for name in files] == list(files)
    stems = {ending: [n[: -len(ending)] for n in files if n.endswith(ending)] for ending in (".svg", ".dxf")}
    assert stems[".svg"] == stems[".dxf"]
    assert "drawings.pdf" in files
    assert left_out() == ""


def test_without_the_packages_the_svg_files_remain_and_one_line_says_why(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(room, "find_spec", lambda name: None)
    files = drawings(*demo(DEMOS[0]))
    assert files
    assert all(name.endswith(".svg") for name in files)
    assert left_out() == "Drawings without DXF and PDF: pip install 'specgen[drawings]' adds what they need."


def test_parapets_whose_names_differ_in_signs_alone_get_files_of_their_own() -> None:
    assert room._stems(["P-1 section", "P 1 section", "北 section", "section"]) == [
        "drawing-p-1-section",
        "drawing-p-1-section-2",
        "drawing-section",
        "drawing-section-2",
    ]
