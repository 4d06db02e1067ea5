"""What a file is that is no text; examples of the files room that have no other test."""

from __future__ import annotations

import io
import zipfile

import pytest

from specgen.files import other_files


def packed(*names: str) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        for name in names:
            archive.writestr(name, "")
    return stream.getvalue()


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (packed("word/document.xml"), "a Word document (.docx)"),
        (packed("xl/workbook.xml"), "an Excel workbook (.xlsx)"),
        (packed("ppt/presentation.xml"), "a presentation (.pptx)"),
        (packed("mimetype", "content.xml"), "a document of an office program"),
        (packed("project.yaml"), "a zip archive"),
        (packed(), "a zip archive"),
        (b"PK\x03\x04 cut off", "a zip archive"),
        (b"\xd0\xcf\x11\xe0", "an older Word or Excel document"),
        (b"PKI: text", ""),
        (b"", ""),
    ],
)
def test_by_the_first_bytes(content: bytes, what: str) -> None:
    assert other_files.other_kind(content) == what


def test_what_to_give_instead() -> None:
    assert other_files.what_to_give("an archive (7z)") == other_files.what_to_give("a zip archive")
    assert other_files.what_to_give("a zip archive").startswith("unpack it")
    assert other_files.what_to_give("a PDF document").startswith("name the YAML file, plain text")
