"""A document type or entities in any part of an office file are refused, by every way in, whatever the part is called."""

from __future__ import annotations

import io
import stat
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from specgen.files.marks import InputError
from specgen.files.package import PackageError, PackageLimits, read_package
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


def zipped(*entries: tuple[str | zipfile.ZipInfo, bytes], how: int = zipfile.ZIP_STORED) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", how) as archive:
        for name, data in entries:
            archive.writestr(name, data)
    return out.getvalue()


def link() -> zipfile.ZipInfo:
    info = zipfile.ZipInfo("word/document.xml")
    info.create_system, info.external_attr = 3, (stat.S_IFLNK | 0o777) << 16
    return info


def locked_part() -> bytes:
    """A part that is marked as encrypted, in its own head and in the list of the zip."""
    data = bytearray(zipped(("word/document.xml", b"<x/>")))
    for signature, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        data[data.index(signature) + offset] |= 1
    return bytes(data)


def damaged_part() -> bytes:
    """A part whose packed bytes are none."""
    name = "word/document.xml"
    data = bytearray(zipped((name, b"<x/>" * 99), how=zipfile.ZIP_DEFLATED))
    start = data.index(name.encode()) + len(name)
    data[start : start + 4] = b"\xff" * 4
    return bytes(data)


SMALL = PackageLimits(file=2000, whole=300, part=200, parts=3)


@pytest.mark.parametrize(
    ("data", "message", "fix"),
    [
        (bytes(2001), r"the file has 2,001 bytes, more than 2,000", "take pictures out"),
        (b"\xd0\xcf\x11\xe0", r"has a password or is of the old \.doc kind", "save it as .docx, no password"),
        (zipped(*((f"{n}", b"") for n in range(4))), "has 4 parts, more than 3", "save it anew from Word"),
        (zipped((link(), b"elsewhere")), "is locked, a link, or there twice", "save it anew from Word"),
        (locked_part(), "is locked, a link, or there twice", "save it anew from Word"),
        (zipped(("a", bytes(201))), "part 'a' unpacks to more than 200 bytes", "take pictures out"),
        (zipped(("a", bytes(150)), ("b", bytes(151))), "part 'b' unpacks to more than 150 bytes", "take pictures out"),
        (damaged_part(), "the file is damaged", "save it from Word as .docx"),
        (b"PK\x03\x04", "the file is not a Word file", "save it from Word as .docx"),
        (zipped(("../a", b"")), "the file is not a Word file", "save it from Word as .docx"),
    ],
)  # fmt: skip
def test_a_package_that_cannot_be_used_is_one_line_with_a_fix(data: bytes, message: str, fix: str) -> None:
    with pytest.raises(PackageError, match=message) as caught:
        read_package(data, SMALL)
    assert caught.value.fix == fix and "\n" not in str(caught.value)


def test_a_package_at_its_limits_is_read() -> None:
    parts = [("a", bytes(200)), ("b/c", bytes(100)), ("d", b"")]
    assert read_package(zipped(*parts), SMALL) == dict(parts)


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_a_part_that_is_there_twice_is_refused() -> None:
    with pytest.raises(PackageError, match="part 'a' is locked, a link, or there twice"):
        read_package(zipped(("a", b"1"), ("a", b"2")))
