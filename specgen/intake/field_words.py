"""A value that a file may state, in words: what to write, an example, its ranges, what the trade calls it."""

from __future__ import annotations

from specgen.intake.values import SHEET_THICKNESS
from specgen.intake.worked import written_values
from specgen.practice.entries import Field, Practice
from specgen.practice.ranges import EXPECTED, Range
from specgen.practice.trade_names import names_of
from specgen.units.errors import how_to_write
from specgen.units.quantity import Quantity
from specgen.wall.plausible import FAMILIES

_EXAMPLES = {"text": '"in words"', "yes or no": "yes", "date": "2026-11-02", "number": "1.0"}
PLAIN = ("text", "word", "words", "family", "families", "yes or no", "date", "count")
_SHORT = {
    "word": "choose one",
    "words": "write a list of those that hold",
    "families": "write a list of material families",
    "text": "write it in words",
    "yes or no": "write yes or no",
    "date": "write a date",
    "count": "write a whole number",
}


def dimensions_of(field: Field) -> frozenset[str]:
    """The dimensions of a field that is a quantity; none for words, texts and flags."""
    if field.type == "sheet thickness":
        return SHEET_THICKNESS
    return frozenset() if field.type in PLAIN else frozenset({field.type})


def accepted(field: Field) -> str:
    """What may be written: the choices, or the dimension with its usual units."""
    if field.choices:
        return f"{'some' if field.type == 'words' else 'one'} of {', '.join(field.choices)}"
    if field.type in ("family", "families"):
        return "a material family" if field.type == "family" else "material families"
    if field.type in PLAIN:
        return "whole number" if field.type == "count" else field.type
    return how_to_write(dimensions_of(field)).removeprefix("write ")


def example(practice: Practice, what: str, field: Field) -> str:
    """A value as it may be written: that of a worked example, else one that is expected, or a choice."""
    if (what, field.name) in written_values():
        return written_values()[what, field.name]
    if field.type in ("word", "words"):
        choice = field.choices[0]
        written = f'"{choice}"' if choice.isdecimal() else choice
        return f"[{written}]" if field.type == "words" else written
    if field.type in ("family", "families"):
        rows = practice.table(FAMILIES).where(role=what)
        family = str(rows[0]["family"]) if rows else "galvanized steel"
        return f"[{family}]" if field.type == "families" else family
    rows = practice.table(EXPECTED).where(role=what, attribute=field.name)
    expected = [*map(Range.of, rows), *([field.expected] if field.expected else [])]
    found = _least(expected) or _least([field.possible] if field.possible else [])
    return _EXAMPLES[field.type] if found is None else found.text


def _least(ranges: list[Range]) -> Quantity | None:
    """The end of some ranges that lies nearest to zero, and is not zero."""
    ends = [end for one in ranges for end in (one.least, one.most) if end is not None and end.value != 0]
    return min(ends, key=lambda end: abs(end.value), default=None)


def described_field(field: Field, of: str = "") -> str:
    """What an editor shows beside a key: its meaning, what to write, method, ranges, other names.

    Args:
        field: the value.
        of: the role or record that it belongs to, if any.

    >>> from specgen.practice.load import load_practice
    >>> coping = load_practice().vocabulary.roles["coping"]
    >>> described_field(coping.fields["piece_length"], "coping").split(". ")[0]
    'Length of each piece; write a length: in, ft, mm, m'
    """
    dimensions = dimensions_of(field)
    how = how_to_write(dimensions) if dimensions else _SHORT.get(field.type, f"write {accepted(field)}")
    sentences = [f"{field.title}; {how}", field.note, f"Test method: {field.method}" if field.method else ""]
    sentences += [f"Can be {field.possible.words()}"] if field.possible else []
    sentences += [f"Expected: {field.expected.words()}"] if field.expected else []
    if also := names_of(of, field.name):
        sentences.append(f"Also called {', '.join(also)}")
    return " ".join(f"{sentence(one)}." for one in sentences if one)


def sentence(text: str) -> str:
    """The text with a capital letter at its head."""
    return text[:1].upper() + text[1:]
