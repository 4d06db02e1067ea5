"""One label with what stands beside it to one candidate: the value, and all that speaks against taking it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from specgen.intake.datasheet.grammar import MARK, Amount, CellContents, contents
from specgen.intake.datasheet.labels import Label, condition_dimension, wanted_dimensions
from specgen.intake.values import UnusableValueError, convert
from specgen.model.datasheet import Candidate, Cell, Evidence
from specgen.practice.datasheet_names import plain_name
from specgen.practice.entries import Vocabulary
from specgen.practice.methods import MAKERS_WORD, designation, same_method
from specgen.practice.named_methods import without_methods
from specgen.units.compare import computed_at_most
from specgen.units.quantity import Quantity, parse

AGREE = 0.05  # of the value: rounding can part two statements in two systems of units by no more
AGREE_DEGREES = 1.0  # K, the same for temperatures
SAME_CONDITION = 0.01  # as the review holds it
DOUBT_COSTS = 0.3
ROOM_TEMPERATURE = (19.0, 26.0)  # degC: a test at that says nothing against a value
PUNCTUATION = ".,;:!()[]{}/|•·-–—'\"“”’ "


@dataclass
class Beside:
    """What stands beside a label: its value cell, and what other cells and notes add."""

    value: Cell
    label: Cell
    extra: list[Cell] = field(default_factory=list)  # cells and notes that name a method or a condition
    notes: list[Cell] = field(default_factory=list)  # of footnotes: prose
    unit: str = ""
    variant: str = ""
    doubts: list[str] = field(default_factory=list)
    confidence: float = 1.0


@dataclass
class _Draft:
    """A candidate in the making."""

    value: str = ""
    low: float = 0.0
    high: float = 0.0
    doubts: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def doubt(self, words: str) -> None:
        if words not in self.doubts:
            self.doubts.append(words)


def candidate(label: Label, beside: Beside, evidence: Evidence, vocabulary: Vocabulary) -> Candidate:
    """The value beside a label.

    Args:
        label: the attribute meant.
        beside: the cells that belong to it.
        evidence: where they stand.
        vocabulary: for the type of the value.

    Returns:
        A candidate; one without doubts may be taken as it is.
    """
    draft = _Draft(doubts=list(beside.doubts))
    if not label.exact:
        draft.doubt(f"the label reads `{_short(label.text)}`")
    if any(cell.faint for cell in (beside.value, beside.label, *beside.extra)):
        draft.doubt("a part of it is not visible on the page")
    if any(cell.struck for cell in (beside.value, beside.label, *beside.extra)):
        draft.doubt("a part of it is crossed out, or a remark lies over it")
    parts = _understood(draft, label, beside)
    _condition(draft, label, parts)
    method = _method(draft, label, parts)
    _usable(draft, label, vocabulary)
    confidence = max(beside.confidence - DOUBT_COSTS * len(draft.doubts), 0.0)
    return Candidate(
        label.names.attribute,
        draft.value,
        draft.low,
        draft.high,
        method,
        beside.variant,
        tuple(draft.doubts),
        tuple(draft.notes),
        round(confidence, 2),
        evidence,
    )


def _understood(draft: _Draft, label: Label, beside: Beside) -> list[CellContents]:
    """The value, and everything that its cell, its label, its row and its notes say."""
    dims, condition = wanted_dimensions(label.field), condition_dimension(label.field)
    main = contents(beside.value.text, dims, beside.unit or label.contents.unit, condition=condition)
    around = [contents(cell.text, dims, condition=condition, units_alone=True) for cell in beside.extra]
    prose = [contents(_prose(cell.text), dims, condition=condition) for cell in beside.notes]
    if any(_BREAKS_OFF.search(cell.text) for cell in (beside.value, *beside.extra)):
        draft.doubt("the text of a cell breaks off")
    if beside.value.text.count("(") != beside.value.text.count(")"):
        draft.doubt("brackets do not match: a part of the value may be missing")
    for one in (main, *around):
        for words in one.spelled:
            draft.doubt(words)
    if dims:
        compared = next((one.compared for one in (main, label.contents, *around) if one.compared), "")
        _quantity(draft, label, main, compared)
        _left(draft, main.left, "beside the value")
    elif label.field.type == "count":
        _count(draft, main)
    else:
        _word(draft, label, beside.value)
    for one in around:
        _left(draft, one.left, "in the row")
        if one.amounts or one.bare:
            draft.doubt("another value stands in the row")
    for one, cell in zip(prose, beside.notes, strict=True):
        if one.left or one.amounts or one.bare:
            draft.doubt(f"its note says: {_short(cell.text)}")
    return [main, label.contents, *around, *prose]


def _short(text: str) -> str:
    flat = " ".join(text.replace("{^", "(").replace("}", ")").split())
    return flat if len(flat) <= 80 else flat[:79] + "…"


_BREAKS_OFF = re.compile(
    r"(?:[,(/@+&-]|\b(?:and|or|at|by|per|of|to|with|for)|(?<![0-9/])(?<![0-9] )\bin)\s*$", re.IGNORECASE
)
_PROSE = re.compile(
    r"\b(?:tested|testing|results?|values?|measured|determined|obtained|in accordance with|using|according to|as|air|"
    r"static|and|all|are|was|were|this|reported|properties|property|per|by)\b",
    re.IGNORECASE,
)


def _prose(text: str) -> str:
    """A note without the words that say nothing of the value."""
    return " ".join(_PROSE.sub(" ", text).split()).rstrip(".")


def _left(draft: _Draft, left: Sequence[str], where: str) -> None:
    words = [word for word in left if word.strip(PUNCTUATION)]
    if words:
        draft.doubt(f"words {where} are not understood: `{_short(' '.join(words))}`")


def _quantity(draft: _Draft, label: Label, main: CellContents, compared: str) -> None:
    if label.names.attribute == "thickness" and "wet" in (word.casefold() for word in main.left):
        draft.doubt("the thickness of a wet film is stated")
        return
    if main.bare:
        draft.doubt(f"a number stands without a unit that is known: {', '.join(main.bare[:3])}")
    if not main.amounts:
        draft.doubt("no value with a unit was understood")
        return
    if main.amounts[0].bracketed:
        draft.doubt("the value stands in brackets: what stands before it may be missing")
    first, second = _two_systems(draft, main.amounts)
    if second is not None and not agree(first, second):
        draft.doubt(f"{_words(first)} and {_words(second)} do not agree")
    _bounds(draft, label, first, compared)
    draft.low, draft.high = first.low, first.high


def _two_systems(draft: _Draft, amounts: Sequence[Amount]) -> tuple[Amount, Amount | None]:
    """The value, and the same in the other system of units; more than that is a doubt."""
    first = amounts[0]
    others = amounts[1:]
    if len(others) == 1 and (others[0].system != first.system or others[0].dimension != first.dimension):
        if others[0].compared and not first.compared:
            first = replace(first, compared=others[0].compared)
        return first, others[0]
    if others:
        draft.doubt("several values stand together: " + ", ".join(_words(one) for one in amounts[:4]))
    return first, None


def _words(amount: Amount) -> str:
    return f"{amount.low_text} to {amount.high_text}" if amount.ranged else amount.low_text


def agree(one: Amount, other: Amount) -> bool:
    """Whether two statements of one value can be the same but for rounding."""
    if one.dimension != other.dimension:
        return False

    def near(a: float, b: float) -> bool:
        if one.dimension == "temperature":
            return computed_at_most(abs(a - b), AGREE_DEGREES, of=a)
        room = min(one.half, AGREE * abs(a)) + min(other.half, AGREE * abs(b)) + 1e-3 * abs(a)
        return abs(a - b) <= room

    return near(one.low, other.low) and near(one.high, other.high)


def _bounds(draft: _Draft, label: Label, amount: Amount, compared_by_label: str) -> None:
    """Which number of a range or a bound is the value, and whether it speaks for the product."""
    end, bound = label.names.end, label.names.bound
    compared = amount.compared or compared_by_label
    draft.value = amount.high_text if end == "high" else amount.low_text
    if amount.ranged:
        if not end:
            draft.doubt(f"a range is stated: {_words(amount)}")
        else:
            draft.notes.append(
                f"of the range {_words(amount)} the {'upper' if end == 'high' else 'lower'} end counts"
            )
        if compared:
            draft.doubt("a range and a comparator stand together")
    elif compared == "about":
        draft.doubt("the value is stated as typical, nominal or approximate")
    elif compared:
        speaks = {"at least": ("low", "lower"), "at most": ("high", "upper")}[compared]
        if end == speaks[0] or bound == speaks[1]:
            draft.notes.append(f"stated as {compared} {amount.low_text}")
        else:
            draft.doubt(f"only a bound is stated: {compared} {amount.low_text}")


def _count(draft: _Draft, main: CellContents) -> None:
    numbers = main.bare
    if len(numbers) == 1 and numbers[0].isascii() and numbers[0].isdecimal() and not main.left:
        draft.value = numbers[0]
        draft.low = draft.high = float(numbers[0])
    else:
        draft.doubt("no single whole number was understood")


def _word(draft: _Draft, label: Label, value: Cell) -> None:
    stated = plain_name(without_methods(MARK.sub(" ", value.text)))
    exact = [
        word for word, spellings in label.names.words.items() if stated in (*spellings, plain_name(word))
    ]
    if len(exact) == 1:
        draft.value = exact[0]
    else:
        draft.doubt(f"`{_short(value.text)}` is none of the words known here")


def _condition(draft: _Draft, label: Label, parts: Iterable[CellContents]) -> None:
    wanted_text = label.field.at
    if not draft.value:
        return
    wanted = parse(wanted_text) if wanted_text else None
    every = [one for part in parts for one in part.conditions]
    for one in every:
        usual = (
            one.dimension == "temperature"
            and ROOM_TEMPERATURE[0] <= one.low <= one.high <= ROOM_TEMPERATURE[1]
        )
        if not usual and (wanted is None or one.dimension != wanted.dimension):
            draft.doubt(f"stated at {_words(one)}")
    if wanted is None:
        return
    stated = [one for one in every if one.dimension == wanted.dimension]
    if not stated:
        draft.doubt(f"stated without its test condition; {wanted_text} is wanted")
        return
    room = SAME_CONDITION * wanted.value
    off = [one for one in stated if max(abs(one.low - wanted.value), abs(one.high - wanted.value)) > room]
    if off:
        draft.doubt(f"stated at {_words(off[0])}; {wanted_text} is wanted")
    # The text of the wanted unit is written where both systems are stated.
    chosen = off[0] if off else min(stated, key=lambda one: abs(one.low - wanted.value))
    draft.value = f"{draft.value} @ {chosen.low_text}"


def _method(draft: _Draft, label: Label, parts: Iterable[CellContents]) -> str:
    wanted = label.field.method
    by_name: dict[str, str] = {}
    for part in parts:
        for name in part.methods:
            by_name.setdefault(designation(name), name)
    fuller = {
        one for one in by_name if not any(other != one and other.startswith(f"{one} ") for other in by_name)
    }
    names = [name for key, name in by_name.items() if key in fuller]
    stated = ", ".join(names)
    if not wanted or wanted == MAKERS_WORD:
        return stated
    if not names:
        draft.doubt(f"stated without its test method; {wanted} is wanted")
    elif len(names) > 1:
        draft.doubt(f"several methods are named: {stated}; {wanted} is wanted")
    elif not same_method(stated, (wanted, *label.field.methods_accepted)):
        draft.doubt(f"measured by {stated}; {wanted} is wanted")
    return stated


def _usable(draft: _Draft, label: Label, vocabulary: Vocabulary) -> None:
    """A value that a submittal file would refuse is not written."""
    if not draft.value:
        return
    written: object = draft.value
    if label.field.type == "count":
        written = int(draft.value)
    elif label.field.type == "yes or no":
        written = draft.value == "yes"
    try:
        typed = convert(label.field, written, vocabulary)
    except UnusableValueError as error:
        draft.doubt(error.message)
        draft.value = ""
        return
    if isinstance(typed, Quantity) and not typed.value > 0 and typed.dimension != "temperature":
        draft.doubt("the value is nought")
