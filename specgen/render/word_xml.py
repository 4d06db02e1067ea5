"""Elements of WordprocessingML and text that is safe to put into them."""

from __future__ import annotations

import re

from lxml import etree

_NAMESPACE = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_SPACE = "{http://www.w3.org/XML/1998/namespace}space"
_ILLEGAL = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_BREAKS = re.compile("(\t|\r\n|\n|\r)")
_SHOWN = 40  # characters of the offending text quoted in an error


def qualified(name: str) -> str:
    """The tag or attribute ``name`` in the WordprocessingML namespace.

    >>> qualified("p")
    '{http://schemas.openxmlformats.org/wordprocessingml/2006/main}p'
    """
    return _NAMESPACE + name


VAL = qualified("val")
P, P_PR, P_STYLE = qualified("p"), qualified("pPr"), qualified("pStyle")
R, R_PR, R_STYLE = qualified("r"), qualified("rPr"), qualified("rStyle")
T, TAB, BREAK = qualified("t"), qualified("tab"), qualified("br")


def add(parent: etree._Element, name: str, /, **attributes: str) -> etree._Element:
    """Append an element ``name`` with WordprocessingML attributes and return it."""
    child = etree.SubElement(parent, qualified(name))
    for key, value in attributes.items():
        child.set(qualified(key), value)
    return child


def legal(words: str) -> str:
    """The words, if XML can hold every character of them.

    Raises:
        ValueError: a control character, a lone surrogate or U+FFFE/U+FFFF.

    >>> legal("6 mil \\x07")
    Traceback (most recent call last):
    ...
    ValueError: character U+0007 at position 7 of '6 mil \\x07' cannot stand in a Word file: delete it from the text
    """
    found = _ILLEGAL.search(words)
    if found is None:
        return words
    start = max(0, found.start() - _SHOWN)
    raise ValueError(
        f"character U+{ord(found[0]):04X} at position {found.start() + 1} of "
        f"{words[start : found.end()]!r} cannot stand in a Word file: delete it from the text"
    )


def add_text(run: etree._Element, words: str) -> None:
    """Append words to a run; a tab and a line end become Word's own marks.

    Raises:
        ValueError: see :func:`legal`.
    """
    for piece in _BREAKS.split(legal(words)):
        if piece == "\t":
            etree.SubElement(run, TAB)
        elif piece in ("\n", "\r\n", "\r"):
            etree.SubElement(run, BREAK)
        elif piece:
            holder = etree.SubElement(run, T)
            holder.text = piece
            if piece != piece.strip():
                holder.set(_SPACE, "preserve")


def add_run(paragraph: etree._Element, words: str, style_id: str = "") -> None:
    """Append a run of words, in a character style if one is given."""
    run = etree.SubElement(paragraph, R)
    if style_id:
        etree.SubElement(etree.SubElement(run, R_PR), R_STYLE).set(VAL, style_id)
    add_text(run, words)


def add_field(paragraph: etree._Element, instruction: str, shown: str) -> None:
    """Append a complex field that shows ``shown`` until Word updates it."""
    _mark(paragraph, "begin")
    code = etree.SubElement(etree.SubElement(paragraph, R), qualified("instrText"))
    code.text = f" {instruction} "
    code.set(_SPACE, "preserve")
    _mark(paragraph, "separate")
    add_run(paragraph, shown)
    _mark(paragraph, "end")


def _mark(paragraph: etree._Element, kind: str) -> None:
    add(etree.SubElement(paragraph, R), "fldChar", fldCharType=kind)
