"""WordprocessingML as text: one string for a whole body is the fastest way to it."""

from __future__ import annotations

import html
import re

_NAMESPACE = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
_ILLEGAL = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOT_PLAIN = re.compile("[^\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_BREAKS = re.compile("(\t|\r\n|\n|\r)")
_MARKS = {"\t": "<w:tab/>", "\n": "<w:br/>", "\r\n": "<w:br/>", "\r": "<w:br/>"}
_SHOWN = 40  # characters of the offending text quoted in an error


def qualified(name: str) -> str:
    """The tag or attribute ``name`` in the WordprocessingML namespace.

    >>> qualified("p")
    '{http://schemas.openxmlformats.org/wordprocessingml/2006/main}p'
    """
    return f"{{{_NAMESPACE}}}{name}"


VAL = qualified("val")
XML_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'


def legal(words: str) -> str:
    """The words, if XML can hold every character of them.

    Raises:
        ValueError: a control character, a lone surrogate or U+FFFE/U+FFFF.

    >>> legal("6 mil \\x07")
    Traceback (most recent call last):
    ...
    ValueError: character U+0007 at position 7 of '6 mil \\x07' cannot stand in a Word file: delete it
    """
    found = _ILLEGAL.search(words)
    if found is None:
        return words
    start = max(0, found.start() - _SHOWN)
    raise ValueError(
        f"character U+{ord(found[0]):04X} at position {found.start() + 1} of "
        f"{words[start : found.end()]!r} cannot stand in a Word file: delete it"
    )


def attribute(words: str) -> str:
    """Words as the value of an attribute, without the quotes; line ends become spaces.

    Raises:
        ValueError: see :func:`legal`.

    >>> attribute('6" & wider')
    '6&quot; &amp; wider'
    """
    return html.escape(legal(words).replace("\n", " ").replace("\r", " ").replace("\t", " "))


def run(words: str, style_id: str = "") -> str:
    """A run of words, in a character style if one is given; a tab and a line end become Word's own marks.

    Raises:
        ValueError: see :func:`legal`.

    >>> run("1/2 in. < t")
    '<w:r><w:t>1/2 in. &lt; t</w:t></w:r>'
    """
    look = f'<w:rPr><w:rStyle w:val="{style_id}"/></w:rPr>' if style_id else ""
    if _NOT_PLAIN.search(words) is None:
        return f"<w:r>{look}{_text(words)}</w:r>"
    pieces = _BREAKS.split(legal(words))
    return f"<w:r>{look}{''.join([_MARKS.get(piece) or _text(piece) for piece in pieces if piece])}</w:r>"


def _text(piece: str) -> str:
    # Word drops blanks at the ends of a text that does not ask for them.
    space = "" if piece == piece.strip() else ' xml:space="preserve"'
    return f"<w:t{space}>{html.escape(piece, quote=False)}</w:t>"


FIELD_END = '<w:r><w:fldChar w:fldCharType="end"/></w:r>'


def field_start(instruction: str) -> str:
    """The runs of a complex field up to where what it shows begins."""
    return (
        '<w:r><w:fldChar w:fldCharType="begin"/></w:r>'
        f'<w:r><w:instrText xml:space="preserve"> {html.escape(instruction, quote=False)} </w:instrText></w:r>'
        '<w:r><w:fldChar w:fldCharType="separate"/></w:r>'
    )


def field(instruction: str, shown: str) -> str:
    """The runs of a complex field that shows ``shown`` until Word updates it."""
    return f"{field_start(instruction)}{run(shown)}{FIELD_END}"
