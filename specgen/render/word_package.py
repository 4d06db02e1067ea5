"""The zip package of a Word file: read with limits, since an office's file comes from outside; written alike."""

from __future__ import annotations

import posixpath
import stat
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from io import BytesIO

from lxml import etree

from specgen.files.names import check_name
from specgen.files.writing import zip_deterministic
from specgen.render.word_xml import XML_HEAD

LARGEST_FILE = 20_000_000  # [byte] packed
LARGEST_WHOLE = 100_000_000  # [byte] unpacked
LARGEST_PART = 30_000_000  # [byte] unpacked
MOST_PARTS = 1000
_CHUNK = 1 << 16
_TYPES = "[Content_Types].xml"
_TYPES_NAMESPACE = "http://schemas.openxmlformats.org/package/2006/content-types"
_RELATIONS_NAMESPACE = "http://schemas.openxmlformats.org/package/2006/relationships"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_WORD = "application/vnd.openxmlformats-officedocument.wordprocessingml."
_OVERRIDES = {
    "document": f"{_WORD}document.main+xml",
    "styles": f"{_WORD}styles+xml",
    "numbering": f"{_WORD}numbering+xml",
    "settings": f"{_WORD}settings+xml",
    "fontTable": f"{_WORD}fontTable+xml",
    "header": f"{_WORD}header+xml",
    "footer": f"{_WORD}footer+xml",
    "theme": "application/vnd.openxmlformats-officedocument.theme+xml",
    "core": "application/vnd.openxmlformats-package.core-properties+xml",
    "app": "application/vnd.openxmlformats-officedocument.extended-properties+xml",
}
PICTURE_TYPES = {"png": "image/png", "jpeg": "image/jpeg", "jpg": "image/jpeg", "gif": "image/gif"}
_DEFAULTS = {
    "rels": "application/vnd.openxmlformats-package.relationships+xml",
    "xml": "application/xml",
    "svg": "image/svg+xml",
    **PICTURE_TYPES,
}


class PackageError(Exception):
    """A file that cannot be used as a Word file; the message is one line, ``fix`` says what to do."""

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(message)
        self.fix = fix


@dataclass(frozen=True, slots=True)
class Relation:
    """One part that another refers to; ``target`` is the part's name, or an address if it is external."""

    id: str
    kind: str  # the last word of its type
    target: str
    external: bool


def read_package(data: bytes) -> dict[str, bytes]:
    """The parts of a package by name.

    Raises:
        PackageError: not a zip file, one with a password, or one larger than the limits above once unpacked.
    """
    if len(data) > LARGEST_FILE:
        raise PackageError(
            f"the file has {len(data):,} bytes, more than {LARGEST_FILE:,}", "take pictures out"
        )
    if data.startswith(b"\xd0\xcf\x11\xe0"):
        raise PackageError(
            "the file has a password or is of the old .doc kind", "save it as .docx, no password"
        )
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            return _parts(archive)
    except (zipfile.BadZipFile, NotImplementedError, EOFError, RuntimeError, ValueError, OSError) as error:
        raise PackageError(f"the file is not a Word file: {error}", "save it from Word as .docx") from None
    except zlib.error as error:
        raise PackageError(f"the file is damaged: {error}", "save it from Word as .docx") from None


def _parts(archive: zipfile.ZipFile) -> dict[str, bytes]:
    entries = [entry for entry in archive.infolist() if not entry.is_dir()]
    if len(entries) > MOST_PARTS:
        raise PackageError(
            f"the file has {len(entries)} parts, more than {MOST_PARTS}", "save it anew from Word"
        )
    parts: dict[str, bytes] = {}
    left = LARGEST_WHOLE
    for entry in entries:
        name = check_name(entry.filename)
        if entry.flag_bits & 1 or stat.S_ISLNK(entry.external_attr >> 16) or name in parts:
            raise PackageError(f"part {name!r} is locked, a link, or there twice", "save it anew from Word")
        parts[name] = _unpacked(archive, entry, min(left, LARGEST_PART))
        left -= len(parts[name])
    return parts


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


def xml_part(parts: Mapping[str, bytes], name: str) -> etree._Element:
    """One part as XML, without comments and without the blanks between elements.

    Raises:
        PackageError: the part is missing, not well formed, or declares a document type or entities.
    """
    if name not in parts:
        raise PackageError(f"part {name!r} is missing", "save it from Word as .docx")
    parser = etree.XMLParser(
        resolve_entities=False, no_network=True, huge_tree=False, remove_comments=True, remove_pis=True,
        load_dtd=False, remove_blank_text=True,
    )  # fmt: skip
    try:
        root = etree.fromstring(parts[name], parser)
    except (etree.XMLSyntaxError, ValueError) as error:
        raise PackageError(f"part {name!r} is not XML: {error}", "save it anew from Word") from None
    if root.getroottree().docinfo.doctype:  # type: ignore[union-attr]
        raise PackageError(f"part {name!r} declares a document type", "save it anew from Word")
    return root


def relations(parts: Mapping[str, bytes], name: str) -> tuple[Relation, ...]:
    """What the part ``name`` refers to; none if it has no list. ``""`` is the package itself."""
    folder, _, last = name.rpartition("/")
    listed = posixpath.join(folder, "_rels", f"{last}.rels")
    if listed not in parts:
        return ()
    out = []
    for entry in xml_part(parts, listed).iterchildren(f"{{{_RELATIONS_NAMESPACE}}}Relationship"):
        external = entry.get("TargetMode", "Internal") == "External"
        target = str(entry.get("Target", ""))
        if not external:
            target = posixpath.normpath(posixpath.join("/", folder, target)).lstrip("/")
        kind = str(entry.get("Type", "")).rpartition("/")[2]
        out.append(Relation(str(entry.get("Id", "")), kind, target, external))
    return tuple(out)


def relations_part(entries: Mapping[str, tuple[str, str]]) -> bytes:
    """A list of relations: id → kind and target, as written beside the part that has them."""
    written = "".join(
        f'<Relationship Id="{one}" Type="{_kind_address(kind)}" Target="{target}"/>'
        for one, (kind, target) in entries.items()
    )
    return f'{XML_HEAD}<Relationships xmlns="{_RELATIONS_NAMESPACE}">{written}</Relationships>'.encode()


def _kind_address(kind: str) -> str:
    if kind == "core-properties":
        return "http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties"
    return f"{OFFICE}/{kind}"


def write_package(parts: Mapping[str, bytes]) -> bytes:
    """The parts as the bytes of a file, with the list of their types in front.

    The kind of a part is the letters of its name: ``word/header2.xml`` is a header.
    """
    endings = sorted({name.rpartition(".")[2] for name in parts} | {"rels", "xml"})
    defaults = "".join(f'<Default Extension="{end}" ContentType="{_DEFAULTS[end]}"/>' for end in endings)
    named = {
        name: posixpath.basename(name).removesuffix(".xml").rstrip("0123456789")
        for name in parts
        if name.endswith(".xml")
    }
    overrides = "".join(
        f'<Override PartName="/{name}" ContentType="{_OVERRIDES[kind]}"/>' for name, kind in named.items()
    )
    types = f'{XML_HEAD}<Types xmlns="{_TYPES_NAMESPACE}">{defaults}{overrides}</Types>'
    return zip_deterministic({_TYPES: types.encode(), **parts})
