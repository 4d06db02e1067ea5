"""The parts of a Word file: their XML and how they refer to each other; the package is written here."""

from __future__ import annotations

import posixpath
from collections.abc import Mapping
from dataclasses import dataclass

from lxml import etree

from specgen.files.archive import zip_deterministic
from specgen.files.package import PackageError
from specgen.render.word_xml import XML_HEAD, qualified

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
    "comments": f"{_WORD}comments+xml",
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


@dataclass(frozen=True, slots=True)
class Relation:
    """One part that another refers to; ``target`` is the part's name, or an address if it is external."""

    id: str
    kind: str  # the last word of its type
    target: str
    external: bool


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


def main_part(parts: Mapping[str, bytes]) -> tuple[str, etree._Element]:
    """The name of a package's document and its XML.

    Raises:
        PackageError: the package holds no Word document.
    """
    name = next((one.target for one in relations(parts, "") if one.kind == "officeDocument"), "")
    document = xml_part(parts, name)
    if document.tag != qualified("document"):
        raise PackageError(
            "the file is not a Word document of the usual kind", "save it as Word Document (.docx)"
        )
    return name, document


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
