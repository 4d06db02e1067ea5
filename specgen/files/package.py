"""The zip package of a Word or Excel file: read with limits, refused where a part declares a document type."""

from __future__ import annotations

import re
import stat
import zipfile
import zlib
from dataclasses import dataclass
from io import BytesIO

from specgen.files.names import check_name

_CHUNK = 1 << 16
_OLDER = b"\xd0\xcf\x11\xe0"
_DECLARATIONS = (b"<!DOCTYPE", b"<!ENTITY")
_BEFORE = b"\xef\xbb\xbf\xfe\xff \t\r\n"  # marks of the order of bytes, and white space
_START = 1 << 12
_EBCDIC = b"\x4c\x6f\xa7\x94"  # "<?xm" in it
_ENCODING = re.compile(rb"""<\?XML[^>]*?\bENCODING\s*=\s*["']([^"']*)""")
_ENCODINGS = (b"UTF-8", b"UTF8", b"UTF-16", b"US-ASCII", b"ASCII")


class PackageError(Exception):
    """An office file that cannot be used; the message is one line, ``fix`` says what to do."""

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(message)
        self.fix = fix


@dataclass(frozen=True, slots=True)
class PackageLimits:
    """How much of a package is read [byte]."""

    file: int = 20_000_000  # packed
    whole: int = 100_000_000  # unpacked
    part: int = 30_000_000  # unpacked
    parts: int = 1000


WORD = PackageLimits()
KINDS = {"Word": "a Word", "Excel": "an Excel"}


def read_package(
    data: bytes, limits: PackageLimits = WORD, kind: str = "Word", ending: str = "docx"
) -> dict[str, bytes]:
    """The parts of a package by name.

    Args:
        data: the file.
        limits: the most that is read.
        kind: the program whose file is wanted.
        ending: of the name of such a file.

    Raises:
        PackageError: not such a file, one with a password, one larger than the limits, or one with a part that
            declares a document type or entities.
    """
    again = f"save it from {kind} as .{ending}"
    if len(data) > limits.file:
        raise PackageError(
            f"the file has {len(data):,} bytes, more than {limits.file:,}", "take pictures out"
        )
    if data.startswith(_OLDER):
        raise PackageError(
            f"the file has a password or is of the old .{ending[:-1]} kind",
            f"save it as .{ending}, no password",
        )
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            return _parts(archive, limits, f"save it anew from {kind}")
    except (zipfile.BadZipFile, NotImplementedError, EOFError, RuntimeError, ValueError, OSError) as error:
        raise PackageError(f"the file is not {KINDS[kind]} file: {error}", again) from None
    except zlib.error as error:
        raise PackageError(f"the file is damaged: {error}", again) from None


def _parts(archive: zipfile.ZipFile, limits: PackageLimits, again: str) -> dict[str, bytes]:
    entries = [entry for entry in archive.infolist() if not entry.is_dir()]
    if len(entries) > limits.parts:
        raise PackageError(f"the file has {len(entries)} parts, more than {limits.parts}", again)
    parts: dict[str, bytes] = {}
    left = limits.whole
    for entry in entries:
        name = check_name(entry.filename)
        if entry.flag_bits & 1 or stat.S_ISLNK(entry.external_attr >> 16) or name in parts:
            raise PackageError(f"part {name!r} is locked, a link, or there twice", again)
        parts[name] = _unpacked(archive, entry, min(left, limits.part))
        left -= len(parts[name])
        if wrong := _declares(name, parts[name]):
            raise PackageError(f"part {name!r} declares {wrong}", again)
    return parts


def _declares(name: str, part: bytes) -> str:
    """What a part of XML, whatever its name, declares that no part of an office file may; "" if nothing."""
    start = part[:_START].replace(b"\0", b"").lstrip(_BEFORE)
    if not name.lower().endswith((".xml", ".rels", ".vml")) and not start.startswith((b"<", _EBCDIC)):
        return ""
    flat = part.replace(b"\0", b"").upper()  # UTF-16 has a zero in every ASCII letter
    if any(word in flat for word in _DECLARATIONS):
        return "a document type or entities"
    encoding = _ENCODING.match(flat.lstrip(_BEFORE))
    if start.startswith(_EBCDIC) or (encoding and encoding[1] not in _ENCODINGS):
        return "an encoding other than UTF-8 and UTF-16"  # in which a declaration could hide
    return ""


def _unpacked(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, limit: int) -> bytes:
    # The sizes in the zip's own list may lie: what comes out is counted.
    out = bytearray()
    with archive.open(entry) as stream:
        while chunk := stream.read(_CHUNK):
            out += chunk
            if len(out) > limit:
                raise PackageError(
                    f"part {entry.filename!r} unpacks to more than {limit:,} bytes", "take pictures out"
                )
    return bytes(out)
