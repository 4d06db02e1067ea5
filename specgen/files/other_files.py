"""What a file is that is no text: a Word document, a PDF or an archive saved or named as a YAML file."""

from __future__ import annotations

import io
import zipfile

# The first bytes of a file, by the people who made the format.
_STARTS = (
    (b"%PDF", "a PDF document"),
    (b"\x89PNG", "a picture (PNG)"),
    (b"\xff\xd8\xff", "a picture (JPEG)"),
    (b"GIF8", "a picture (GIF)"),
    (b"\xd0\xcf\x11\xe0", "an older Word or Excel document"),
    (b"\x1f\x8b", "a packed file (gzip)"),
    (b"7z\xbc\xaf", "an archive (7z)"),
    (b"{\\rtf", "a document in rich text (RTF)"),
)
_ZIP_STARTS = (b"PK\x03\x04", b"PK\x05\x06")
_IN_ZIP = (
    ("word/", "a Word document (.docx)"),
    ("xl/", "an Excel workbook (.xlsx)"),
    ("ppt/", "a presentation (.pptx)"),
    ("content.xml", "a document of an office program"),
)


def other_kind(data: bytes) -> str:
    """What the bytes of a file are, in words, or "" if they may be text.

    >>> other_kind(b"%PDF-1.7"), other_kind(b"project:")
    ('a PDF document', '')
    """
    if data.startswith(_ZIP_STARTS):
        return _of_archive(data)
    return next((what for start, what in _STARTS if data.startswith(start)), "")


def what_to_give(what: str) -> str:
    """What to do about it.

    >>> what_to_give("a zip archive")
    'unpack it, and name the YAML file that was in it'
    """
    if "zip" in what or "7z" in what:
        return "unpack it, and name the YAML file that was in it"
    return "name the YAML file, plain text such as project.yaml, and not the document"


def _of_archive(data: bytes) -> str:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            names = archive.namelist()
    except (zipfile.BadZipFile, OSError, ValueError):
        names = []
    found = (what for start, what in _IN_ZIP if any(name.startswith(start) for name in names))
    return next(found, "a zip archive")
