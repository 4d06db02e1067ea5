"""What an unquoted YAML word means here: a short strict rule in place of YAML 1.1's long one.

`true false yes no` are booleans; `null`, `~` and nothing at all are None; decimal integers without a leading
zero and decimal floats without an exponent are numbers; YYYY-MM-DD is a date. All else is text, so section
numbers (`07 27 00`), ratios (`1:48`), fractions (`3/16 in`) and `on` stay as written.
"""

from __future__ import annotations

import contextlib
import datetime
import re
from decimal import Decimal

_WORDS: dict[str, bool | None] = {
    "true": True,
    "yes": True,
    "false": False,
    "no": False,
    "null": None,
    "~": None,
    "": None,
}
_INTEGER = re.compile(r"[-+]?(?:0|[1-9][0-9]*)\Z")
_FLOAT = re.compile(r"[-+]?(?:0|[1-9][0-9]*)?\.[0-9]+\Z")
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}\Z")
_NUMBER_START = frozenset("0123456789+-.")
# Python refuses to convert integers of some thousands of digits, and a float of some hundreds is infinite.
_LONGEST_NUMBER = 100

type_names: dict[type, str] = {
    bool: "true or false",
    type(None): "empty",
    int: "a number",
    float: "a number",
    datetime.date: "a date",
}


def plain_value(text: str) -> str | bool | int | float | datetime.date | None:
    """The value of an unquoted scalar.

    Raises:
        ValueError: if a date or number by form cannot be one; the message is for the user.

    >>> [plain_value(t) for t in ("yes", "~", "12", "-0.5", "010", "07 27 00", "1e3", "on")]
    [True, None, 12, -0.5, '010', '07 27 00', '1e3', 'on']
    """
    if text[:1] not in _NUMBER_START:
        return _WORDS.get(text, text)
    integer = _INTEGER.match(text)
    if integer or _FLOAT.match(text):
        if len(text) > _LONGEST_NUMBER:
            raise ValueError(f"number of {len(text)} characters, limit {_LONGEST_NUMBER}")
        return int(text) if integer else float(text)
    if _DATE.match(text):
        try:
            return datetime.date.fromisoformat(text)
        except ValueError:
            raise ValueError(f"there is no date {text}") from None
    return text


_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ./%@-]*[A-Za-z0-9./%])?|[A-Za-z0-9][A-Za-z0-9_]*")


def text_as_written(words: str) -> str:
    """A text as it stands in a file: in quotes where it would mean something else without them.

    >>> text_as_written("wall barrier"), text_as_written("7"), text_as_written('a "b": c')
    ('wall barrier', '"7"', '"a \\\\"b\\\\": c"')
    """
    if _PLAIN.fullmatch(words):
        with contextlib.suppress(ValueError):
            if isinstance(plain_value(words), str):
                return words
    escaped = "".join(_ESCAPED.get(one, one) for one in words)
    return f'"{escaped}"'


_ESCAPED = {
    "\\": "\\\\",
    '"': '\\"',
    "\n": "\\n",
    "\r": "\\r",
    "\t": "\\t",
    "\x85": "\\N",
    "\u2028": "\\L",
    "\u2029": "\\P",
    "\ufeff": "\\uFEFF",
}


def as_written(value: object) -> str:
    """Plain data as they stand in a file, on one line: maps and lists in brackets.

    >>> as_written({"role": "coping", "slope": "1/2 in/ft", "sizes": [1, 2.5], "seam": True, "why": None})
    '{role: coping, slope: 1/2 in/ft, sizes: [1, 2.5], seam: yes, why: ~}'
    """
    match value:
        case str():
            return text_as_written(value)
        case dict():
            return (
                f"{{{', '.join(f'{text_as_written(key)}: {as_written(one)}' for key, one in value.items())}}}"
            )
        case list() | tuple():
            return f"[{', '.join(map(as_written, value))}]"
        case bool():
            return "yes" if value else "no"
        case None:
            return "~"
        case float():
            return format(Decimal(repr(value)), "f") if value % 1 else f"{value:.1f}"
        case _:
            return str(value)


# What turns the reading direction or cannot be seen: one name could pass for another in print.
_HIDDEN = "\u061c\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\ufff9-\ufffb\U000e0000-\U000e007f"
_BAD = re.compile(f"[{_HIDDEN}]|[^\t\n\r -~\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
_TURNS = frozenset((0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A)))


def bad_characters(text: str) -> str:
    """The code of the first character of `text` that no document can hold, or "".

    Those are control characters, half a pair, and what turns the reading direction or cannot be seen.

    >>> bad_characters("a\\x00b"), bad_characters("height")
    ('U+0000', '')
    """
    found = _BAD.search(text)
    return f"U+{ord(found.group()):04X}" if found else ""


def why_bad(code: str) -> str:
    """Why a character named by its code is refused.

    >>> why_bad("U+202E"), why_bad("U+200B"), why_bad("U+0007")
    ('it turns the reading direction', 'it cannot be seen', 'it cannot be printed')
    """
    number = int(code[2:], 16)
    if number in _TURNS:
        return "it turns the reading direction"
    return "it cannot be seen" if number in (0x200B, *range(0x2060, 0x2066)) else "it cannot be printed"
