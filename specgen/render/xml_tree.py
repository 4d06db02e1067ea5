"""XML of formats for other programs: elements with what people wrote in them, and nothing that XML may not hold."""

from __future__ import annotations

from lxml import etree

from specgen.drawing.lettering import printable


def under(above: etree._Element, name: str, words: str = "", /, **attributes: str) -> etree._Element:
    """An element below another one.

    Args:
        above: the element above.
        name: of the new one, with its namespace.
        words: what stands in it.
        attributes: of it.
    """
    clean = {key: printable(value) for key, value in attributes.items()}
    made = etree.SubElement(above, name, clean)
    if words:
        made.text = printable(words)
    return made


def written(root: etree._Element) -> bytes:
    """A whole file, indented."""
    etree.indent(root)
    data: bytes = etree.tostring(root, xml_declaration=True, encoding="UTF-8")
    return data + b"\n"
