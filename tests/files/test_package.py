"""A document type or entities in any part of an office file are refused, by every way in, whatever the part is called."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from specgen.files.marks import InputError
from specgen.files.package import PackageError, read_package
from specgen.intake.datasheet.tables import UnusableFileError, read_workbook
from specgen.intake.workbook import returned_book
from specgen.render.word_office import load_office_template
from specgen.render.word_template import base_parts
from specgen.render.word_text import hand_edits, paragraph_texts
from tests.chain.runs import CONFORMING, SUBMITTAL, contents, run

DTD = b'<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]><x>&a;</x>'
HEAD = b'<?xml version="1.0" encoding="%s"?>'
PARTS = {
    "xml": ("word/extra.xml", HEAD % b"UTF-8" + DTD),
    "rels": ("word/_rels/extra.xml.rels", DTD),
    "odd name": ("word/extra.bin", b"\xef\xbb\xbf \n" + HEAD % b"UTF-8" + DTD),
    "no ending": ("extra", DTD),
    "picture": ("word/media/image1.svg", HEAD % b"UTF-8" + DTD),
    "utf-16": ("word/extra.dat", (HEAD % b"UTF-16" + DTD).decode().encode("utf-16")),
    "utf-32": ("word/extra.dat", DTD.decode().encode("utf-32")),
    "utf-7": ("word/extra.xml", HEAD % b"UTF-7" + DTD.replace(b"<!", b"+ADwAIQ-")),
    "ebcdic": ("word/extra.xml", (HEAD % b"cp037" + DTD).decode().encode("cp037")),
    "lower case": ("word/extra.xml", DTD.replace(b"DOCTYPE", b"doctype")),
}


def with_part(package: bytes, name: str, data: bytes) -> bytes:
    out = io.BytesIO(package)
    with zipfile.ZipFile(out, "a") as archive:
        archive.writestr(name, data)
    return out.getvalue()


def word() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, data in base_parts().items():
            archive.writestr(name, data)
    return out.getvalue()


def excel() -> bytes:
    out = io.BytesIO()
    openpyxl.Workbook().save(out)
    return out.getvalue()


@pytest.mark.parametrize("which", PARTS)
def test_a_part_that_declares_something_is_refused(which: str) -> None:
    read_package(word())
    with pytest.raises(PackageError, match=r"declares (a document type|an encoding)"):
        read_package(with_part(word(), *PARTS[which]))


def test_a_part_that_is_no_xml_may_hold_any_bytes() -> None:
    name = "word/media/image1.png"
    assert read_package(with_part(word(), name, b"\x89PNG <!DOCTYPE"))[name] == b"\x89PNG <!DOCTYPE"


def _file(read: Callable[[Path], object]) -> Callable[[bytes, Path], object]:
    def by_path(data: bytes, folder: Path) -> object:
        path = folder / "given"
        path.write_bytes(data)
        return read(path)

    return by_path


WAYS = {
    "template": (word, _file(load_office_template)),
    "kept Word file": (word, lambda data, _: hand_edits(data, word())),
    "Word file of a text": (word, lambda data, _: paragraph_texts(data)),
    "register or merge copy": (excel, _file(returned_book)),
    "data sheet": (excel, lambda data, _: read_workbook(data)),
}


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("which", PARTS)
def test_by_every_way_in(tmp_path: Path, way: str, which: str) -> None:
    whole, read = WAYS[way]
    read(whole(), tmp_path)
    with pytest.raises(
        (PackageError, InputError, UnusableFileError), match=r"declares (a document type|an encoding)"
    ):
        read(with_part(whole(), *PARTS[which]), tmp_path)


def test_by_the_commands(tmp_path: Path) -> None:
    name, data = PARTS["odd name"]
    (tmp_path / "t.docx").write_bytes(with_part(word(), name, data))
    (tmp_path / "b.xlsx").write_bytes(with_part(excel(), name, data))
    out = tmp_path / "out"
    for words in (
        ("review", CONFORMING, SUBMITTAL, "-o", out, "--template", tmp_path / "t.docx"),
        ("register", CONFORMING, "-o", out, "--merge", tmp_path / "b.xlsx"),
        ("read", tmp_path / "b.xlsx", "--role", "barrier", "-o", tmp_path / "p.yaml"),
    ):
        done = run(*words)
        assert done.status == 2 and "declares a document type" in done.err, (words[0], done)
        assert not out.exists() and set(contents(tmp_path)) == {"t.docx", "b.xlsx"}
