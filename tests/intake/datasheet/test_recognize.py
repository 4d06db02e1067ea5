"""Pages that are pictures: tesseract's table of words, and a page read where it is installed."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner
from reportlab.pdfgen import canvas

from specgen.commands import main
from specgen.intake.datasheet import recognize
from specgen.intake.datasheet.pdf import read_pages
from tests.intake.sheets.hostile import one_page

HEAD = "level\tpage_num\tblock_num\tpar_num\tline_num\tword_num\tleft\ttop\twidth\theight\tconf\ttext\n"


def test_the_words_of_a_line_share_its_baseline_and_a_doubtful_one_is_marked() -> None:
    rows = (
        "4\t1\t1\t1\t1\t0\t0\t0\t0\t0\t-1\t",
        "5\t1\t1\t1\t1\t1\t100\t50\t80\t20\t96.5\tVapor",
        "5\t1\t1\t1\t1\t2\t190\t50\t90\t26\t91\tperms",
        "5\t1\t1\t1\t1\t3\t300\t50\t20\t20\t55\t14",
        "5\t1\t1\t1\t1\t4\t330\t50\t20\t20\t12\tx",
        "a broken line",
    )
    words = recognize.words_of(HEAD + "\n".join(rows), 2.0)
    assert [word[0] for word in words] == ["Vapor", "perms", "14□"]
    assert {word[8] for word in words} == {35.0}
    assert words[0][1:5] == [50.0, 25.0, 90.0, 35.0]


def test_without_the_program_the_page_stays_blank(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(recognize, "available", lambda: None)
    (page,) = read_pages(one_page(b""), recognize=True)
    assert page["words"] == []
    assert "tesseract is not installed" in page["unreadable"]


@pytest.mark.skipif(recognize.available() is None, reason="tesseract is not installed")
def test_a_picture_is_read_and_never_taken(tmp_path: Path) -> None:
    drawn = one_page(b"BT /F 14 Tf 60 700 Td (Dry film thickness: 40 mils) Tj ET")
    picture = pypdfium2.PdfDocument(drawn)[0].render(scale=3).to_pil().convert("L")
    out = io.BytesIO()
    page = canvas.Canvas(out, pagesize=(612, 792), invariant=1)
    page.drawInlineImage(picture, 0, 0, 612, 792)
    page.save()
    (tmp_path / "scan.pdf").write_bytes(out.getvalue())
    arguments = ["read", str(tmp_path / "scan.pdf"), "--role", "barrier", "--format", "json", "--recognize"]
    done = CliRunner().invoke(main, [*arguments, "-o", str(tmp_path / "p.yaml")])
    value = next(one for one in json.loads(done.stdout)["values"] if one["attribute"] == "thickness")
    assert (value["standing"], value["value"]) == ("confirm", "40 mils")
    assert "recognized from a picture" in value["confirm"]
