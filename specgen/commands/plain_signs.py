"""Signs that the encoding of a stream does not have, written in the letters it has: α as alpha, ≤ as <=, 10⁻⁵ as 10^-5.

A console of Windows in code page 1252, or a file that output is sent into there, has no Greek letters and few signs of
calculation. What is printed keeps its meaning; a sign that no table knows stands as its escape, so that nothing is lost.
"""

from __future__ import annotations

import codecs
import io
import unicodedata
from itertools import groupby
from typing import TextIO

NAME = "specgen-plain-signs"
_GREEK = "GREEK "
_PLAIN = {
    "≤": "<=", "≥": ">=", "≠": "!=", "≈": "~", "±": "+/-", "√": "sqrt ", "∞": "infinity", "∑": "sum ", "∫": "integral ",
    "×": "x", "·": "*", "÷": "/", "−": "-", "–": "-", "—": "-", "…": "...", "→": "->", "←": "<-", "↑": "up", "↓": "down",
    "“": '"', "”": '"', "„": '"', "‘": "'", "’": "'", "′": "'", "″": '"', "°": "deg", "•": "*", "µ": "mu",
}  # fmt: skip
_RAISED, _LOWERED = "<super>", "<sub>"


def plain_signs(text: str) -> str:
    """A text of signs that cannot be encoded, in letters that can.

    >>> plain_signs("α"), plain_signs("ΔT ≤ 7"), plain_signs("10⁻⁵ m²"), plain_signs("Δλ"), plain_signs("寸")
    ('alpha', 'DeltaT <= 7', '10^-5 m^2', 'Deltalambda', '\\\\u5bf8')
    """
    parts = []
    for kind, signs in groupby(text, _raised_or_lowered):
        words = "".join(map(_plain, signs))
        parts.append({_RAISED: "^", _LOWERED: "_"}.get(kind, "") + words)
    return "".join(parts)


def _raised_or_lowered(sign: str) -> str:
    kind = unicodedata.decomposition(sign).partition(" ")[0]
    return kind if kind in (_RAISED, _LOWERED) else ""


def _plain(sign: str) -> str:
    if sign.isascii():
        return sign
    if sign in _PLAIN:
        return _PLAIN[sign]
    name = unicodedata.name(sign, "")
    if name.startswith(_GREEK) and " LETTER " in name and " WITH " not in name:
        word = name.rpartition(" LETTER ")[2].replace("LAMDA", "LAMBDA")
        return word.capitalize() if " CAPITAL " in name else word.lower()
    base = "".join(one for one in unicodedata.normalize("NFKD", sign) if not unicodedata.combining(one))
    base = "".join(_PLAIN.get(one, "/" if one == "⁄" else one) for one in base)
    return base if base and base.isascii() else sign.encode("ascii", "backslashreplace").decode()


def _cannot_encode(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return plain_signs(error.object[error.start : error.end]), error.end


codecs.register_error(NAME, _cannot_encode)


def write_plainly(stream: TextIO) -> None:
    """Let a stream write in plain letters what its encoding does not have; half a character of a file name too."""
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(errors=NAME)


def as_written(text: str, stream: TextIO) -> str:
    """A text as a stream will write it."""
    encoding = getattr(stream, "encoding", None) or "utf-8"
    return text.encode(encoding, NAME).decode(encoding)
