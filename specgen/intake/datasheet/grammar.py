"""What one cell of a data sheet says: quantities, comparators, methods, conditions, marks of footnotes.

A cell is understood as a whole or not at all: words that the grammar does not know are kept, and a value with such
words beside it is left to a person.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass, field, replace

from specgen.intake.datasheet.spelled import respelled
from specgen.practice.methods import designation
from specgen.practice.named_methods import BARE_METHOD, ES1, METHOD, PART
from specgen.units.compare import at_most
from specgen.units.quantity import FEET_AND_INCHES, NUMBER, QuantityError, parse, row_of
from specgen.units.spelling import candidates, plain

EXPONENT_BEFORE = re.compile(r"(?:^|[^A-Za-z])(?:ft|in|m|yd|mm|cm)$")
NUMBER_AT = re.compile(r"(?<![\w.,])[+-]?[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?(?![0-9,])|" + NUMBER)
COMMA_NUMBER = re.compile(r"[0-9],[0-9]")
CONDITION = re.compile(
    r"(?:@|\bat (?:an? )?(?:air )?(?:static )?(?:test )?(?:pressure)?(?: ?(?:difference|differential))?(?: of)?|"
    r"\bunder (?:a )?(?:pressure )?(?:difference|differential)?(?: of)?)\s*(?=[0-9.])",
    re.IGNORECASE,
)
_LEAST = (
    r"≥|>=|=>|>|\bnot less than\b|\bno less than\b|\bat least\b|\bminimum(?: of)?\b|\bmin\b\.?|"
    r"\bgreater than(?: or equal to)?\b|\bmore than\b|\bexceeds\b|\babove\b|\bover\b"
)
_MOST = (
    r"≤|<=|=<|<|\bnot more than\b|\bno more than\b|\bnot greater than\b|\bat most\b|\bmaximum(?: of)?\b|"
    r"\bmax\b\.?|\bless than(?: or equal to)?\b|\bup to\b|\bbelow\b|\bunder\b"
)
_ABOUT = (
    r"~|≈|\bapprox(?:imately|\.)?|\babout\b|\bnominal(?:ly)?\b|\bnom\b\.?|\btypical(?:ly)?\b|\baverage\b|"
    r"\bavg\b\.?|\bcirca\b|\bc\.(?= ?[0-9])"
)
COMPARATORS = (
    ("at least", re.compile(_LEAST, re.IGNORECASE)),
    ("at most", re.compile(_MOST, re.IGNORECASE)),
    ("about", re.compile(_ABOUT, re.IGNORECASE)),
)
MARK = re.compile(r"\{\^([^}]{1,6})\}|\((\d|[*†‡]|[a-e])\)|\[(\d|[a-e])\]|([*†‡]{1,3})|([¹²³⁴⁵⁶⁷⁸⁹]+)")
CLOSING = re.compile(r"\s*\)")
WORD = re.compile(r"[+-]?[0-9][0-9.,]*[^\s,;()]*|\S+?(?=[\s,;()]|$)|\S")
RANGE = re.compile(r"\s*(?:–|—|-|\bto\b|\bthrough\b|\band\b|…|\.\.)\s*", re.IGNORECASE)
PLUS_MINUS = re.compile(r"\s*(?:±|\+/-|\+/−|\+-)\s*")
FILLER = re.compile(
    r"[\s,;:()\[\]/|•·=]+|\b(?:or|the|of|from|between|is|a|per|by|when tested|tested|in accordance with|measured)\b",
    re.IGNORECASE,
)
SUPERSCRIPTS = str.maketrans("¹²³⁴⁵⁶⁷⁸⁹", "123456789")
NEXT_WORD = re.compile(
    r"\s*(?!(?:at|to|by|min|max|minimum|maximum|per|and|or|ASTM|when|tested|typical|nominal)\b)[A-Za-zµμ°%\"']",
    re.I,
)
FRACTIONS = frozenset({"length", "slope", "sheet thickness"})  # dimensions that the trade states in fractions
LONGEST_UNIT = 36


@dataclass(frozen=True)
class Amount:
    """A number, or a range of numbers, with its unit; ``text`` is what a submittal file writes."""

    low: float  # SI
    high: float
    low_text: str
    high_text: str
    dimension: str
    system: str
    half: float  # half of the last digit written, SI
    ranged: bool
    compared: str  # "", at least, at most, about
    bracketed: bool


@dataclass
class CellContents:
    """Everything found in one cell."""

    amounts: list[Amount] = field(default_factory=list)
    bare: list[str] = field(default_factory=list)  # numbers without a unit
    methods: list[str] = field(default_factory=list)
    conditions: list[Amount] = field(default_factory=list)
    marks: list[str] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    spelled: list[str] = field(default_factory=list)  # numbers whose spelling could be meant otherwise
    unit: str = ""  # a unit that stands alone
    compared: str = ""  # a comparator without a number: "Thickness, minimum"


def contents(
    text: str, dimensions: Collection[str], unit: str = "", units_alone: bool = False, condition: str = ""
) -> CellContents:
    """What a cell says.

    Args:
        text: the cell, raised marks as {^1}.
        dimensions: those in which a value is wanted.
        unit: of a number that stands without one: its column's or its label's.
        units_alone: whether a unit without a number is looked for, as in a label.
        condition: dimension of the test condition, which then needs no "at" before it.
    """
    return _Reader(text, frozenset(dimensions), unit, units_alone, condition).read()


class _Reader:
    def __init__(
        self, text: str, dimensions: frozenset[str], unit: str, units_alone: bool, condition: str
    ) -> None:
        self.contents = CellContents()
        self.dimensions = dimensions
        self.unit = unit
        self.units_alone = units_alone
        self.condition = frozenset({condition} if condition and condition not in dimensions else ())
        self.depth = 0
        self.compared = ""
        spelled, self.contents.spelled = respelled(text)
        self.text = self._without_marks(spelled)
        self.at = 0

    def _without_marks(self, text: str) -> str:
        """The text without marks of footnotes; a raised 2 or 3 behind a unit is its exponent."""

        def take(match: re.Match[str]) -> str:
            mark = next(group for group in match.groups() if group)
            if match[5]:
                before = EXPONENT_BEFORE.search(text[: match.start()])
                digits = mark.translate(SUPERSCRIPTS)
                if before and digits[0] in "23":
                    self.contents.marks += [digits[1:]] if digits[1:] else []
                    return digits[0]
                mark = digits
            self.contents.marks.append(mark)
            return " "

        return plain(MARK.sub(take, text).replace("—", "–").replace("–", "\u2013"))

    def read(self) -> CellContents:
        """All of the text, from left to right."""
        steps = (self._method, self._condition, self._amount, self._comparator, self._lone_unit, self._filler)
        while self.at < len(self.text):
            if not any(step() for step in steps):
                match = WORD.match(self.text, self.at)
                word = match[0] if match else self.text[self.at]
                self.contents.left.append(word)
                self.at += len(word)
        self.contents.compared = self.compared
        return self.contents

    def _method(self) -> bool:
        match = self._take(ES1) or self._take(METHOD) or self._take(BARE_METHOD)
        if match is None:
            return False
        name = match[0].strip()
        if part := self._take(PART):
            name += f" {part[1]}"
            if again := self._take(PART):  # "Procedure B (wet cup)": both must mean the same
                letters = {designation(f"ASTM E96 {one[1]}") for one in (part, again)}
                if "E96" not in name or len(letters) > 1:
                    self.contents.left.append(again[1])
        self.contents.methods.append(name)
        return True

    def _condition(self) -> bool:
        match = CONDITION.match(self.text, self.at)
        if match is None:
            return False
        found = self._quantity(match.end(), None)
        if found is None:
            return False
        amount, self.at = found
        self.contents.conditions.append(amount)
        more = re.compile(r"\s*[(/,]\s*").match(self.text, self.at)
        if more:
            again = self._quantity(more.end(), frozenset({amount.dimension}))
            if again:
                second, self.at = again
                self.contents.conditions.append(second)
                self._take(CLOSING)
        return True

    def _take(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        """What of a pattern stands here, read past; None where nothing does."""
        match = pattern.match(self.text, self.at)
        if match:
            self.at = match.end()
        return match

    def _amount(self) -> bool:
        found = self._quantity(self.at, self.dimensions)
        if found is not None:
            amount, self.at = found
            behind = self._behind()
            self.contents.amounts.append(replace(amount, compared=amount.compared or behind))
            return True
        stated = self._quantity(self.at, self.condition) if self.condition else None
        if stated is not None:
            amount, self.at = stated
            self.contents.conditions.append(amount)
            return True
        match = NUMBER_AT.match(self.text, self.at)
        if match is None or not self._free(match.end()) or COMMA_NUMBER.match(self.text, match.end() - 1):
            return False
        self.contents.bare.append(match[0])
        self.at = match.end()
        return True

    def _behind(self) -> str:
        """A comparator that follows its value: "14 perms min."."""
        for name, pattern in COMPARATORS:
            match = re.compile(r"[\s,(]*(?:" + pattern.pattern + r")\)?(?!\s*[0-9.])", re.I).match(
                self.text, self.at
            )
            if match and re.search(r"[A-Za-z]", match[0]):
                self.at = match.end()
                return name
        return ""

    def _free(self, end: int) -> bool:
        return end >= len(self.text) or not (self.text[end].isalnum() or self.text[end] in "%°")

    def _alone(self, end: int) -> bool:
        """Whether a number ends there and nothing follows that could be a unit of its own."""
        return self._free(end) and not NEXT_WORD.match(self.text, end)

    def _comparator(self) -> bool:
        for name, pattern in COMPARATORS:
            if match := self._take(pattern):
                if self.compared and self.compared != name:
                    self.contents.left.append(match[0])
                self.compared = name
                return True
        return False

    def _lone_unit(self) -> bool:
        wanted = self.units_alone and not self.contents.unit
        found = self._unit(self.at, self.dimensions) if wanted else None
        if found:
            self.contents.unit, self.at = found
        return found is not None

    def _filler(self) -> bool:
        match = self._take(FILLER)
        if match:
            self.depth += match[0].count("(") - match[0].count(")")
        return match is not None

    def _quantity(self, at: int, dimensions: frozenset[str] | None) -> tuple[Amount, int] | None:
        """A number or a range with its unit, at a place; None where none stands there."""
        feet = FEET_AND_INCHES.match(self.text, at)
        if feet and (dimensions is None or "length" in dimensions):
            return self._made(feet[0], "", feet[0], "", dimensions, feet.end(), ranged=False)
        first = NUMBER_AT.match(self.text, at)
        if first is None or (first.end() < len(self.text) and COMMA_NUMBER.match(self.text, first.end() - 1)):
            return None
        unit = self._unit(first.end(), dimensions)
        end = unit[1] if unit else first.end()
        for joint, spread in ((PLUS_MINUS, True), (RANGE, False)):
            between = joint.match(self.text, end)
            second = NUMBER_AT.match(self.text, between.end()) if between else None
            if between is None or second is None:
                continue
            other = self._unit(second.end(), dimensions)
            if other is None and unit is None and (not self.unit or dimensions != self.dimensions):
                continue
            last = other[0] if other else (unit[0] if unit else self.unit)
            stop = other[1] if other else second.end()
            if spread:
                return self._spread(first[0], second[0], unit[0] if unit else last, last, dimensions, stop)
            if other is None and unit is not None:
                continue  # "14 perms - 2": what the second number means is not said
            return self._made(
                first[0], unit[0] if unit else last, second[0], last, dimensions, stop, ranged=True
            )
        if unit is None:
            if not self.unit or dimensions != self.dimensions or not self._alone(first.end()):
                return None
            return self._made(first[0], self.unit, first[0], self.unit, dimensions, first.end(), ranged=False)
        return self._made(first[0], unit[0], first[0], unit[0], dimensions, end, ranged=False)

    def _spread(
        self,
        middle: str,
        spread: str,
        unit: str,
        spread_unit: str,
        dimensions: frozenset[str] | None,
        stop: int,
    ) -> tuple[Amount, int] | None:
        if unit != spread_unit or not (_is_float(middle) and _is_float(spread)):
            return None
        center, room = (float(one.replace(",", "")) for one in (middle, spread))
        low, high = f"{center - room:.10g}", f"{center + room:.10g}"
        return self._made(low, unit, high, unit, dimensions, stop, ranged=True)

    def _unit(self, at: int, dimensions: frozenset[str] | None) -> tuple[str, int] | None:
        """The longest unit that stands at a place, with its end."""
        start = at
        while start < len(self.text) and self.text[start] in " -" and start - at < 2:
            start += 1
        for end in range(min(len(self.text), start + LONGEST_UNIT), start, -1):
            spelling = self.text[start:end]
            if spelling != spelling.strip() or spelling[-1] in ",;:-" or spelling[0] in "(),;":
                continue
            if end < len(self.text) and self.text[end].isalnum() and self.text[end - 1] not in '"':
                continue
            if spelling.count("(") != spelling.count(")"):
                continue
            rows = candidates(spelling)
            if any(
                (dimensions is None or row.dimension in dimensions) and row.dimension != "number"
                for row in rows
            ):
                return spelling, end
        return None

    def _made(
        self,
        low: str,
        low_unit: str,
        high: str,
        high_unit: str,
        dimensions: frozenset[str] | None,
        end: int,
        ranged: bool,
    ) -> tuple[Amount, int] | None:
        by_rule = dimensions is None or bool(dimensions & FRACTIONS)
        if any("/" in one and not (by_rule and _plain_fraction(one)) for one in (low, high)):
            return None
        texts = [
            " ".join(f"{number.replace(',', '')} {unit}".split())
            for number, unit in ((low, low_unit), (high, high_unit))
        ]
        try:
            least, most = (parse(text, dimensions) for text in texts)
        except QuantityError:
            return None
        same = least.dimension == most.dimension != "number"
        if not same or not at_most(least, most):
            return None
        half = 0.5 * _step(max(low, high, key=len)) * abs(row_of(least).factor)
        compared, self.compared = self.compared, ""
        ends = (least.value, most.value, texts[0], texts[1], least.dimension, row_of(least).system)
        amount = Amount(*ends, half, ranged, compared, bracketed=self.depth > 0)
        return amount, end


def _plain_fraction(number: str) -> bool:
    """Whether a fraction is one of a rule's: "40/60" states two numbers.

    >>> _plain_fraction("1 3/16"), _plain_fraction("40/60"), _plain_fraction("14")
    (True, False, True)
    """
    match = re.search(r"([0-9]+) ?/ ?([0-9]+)", number)
    return match is None or (
        match[2] in ("2", "3", "4", "8", "16", "32", "64") and int(match[1]) < int(match[2])
    )


def _is_float(text: str) -> bool:
    return re.fullmatch(r"[+-]?[0-9]*\.?[0-9]+", text.replace(",", "")) is not None


def _step(number: str) -> float:
    """The place of the last digit that says something: of 800 a hundred, of 0.02 a hundredth.

    >>> _step("800"), _step("0.02"), _step("14"), _step("3/16")
    (100.0, 0.01, 1.0, 0.0625)
    """
    plain_number = number.replace(",", "").lstrip("+-")
    if "/" in plain_number:
        return 1 / float(plain_number.rpartition("/")[2])
    if "e" in plain_number.lower() or not _is_float(plain_number):
        return 0.0
    if "." in plain_number:
        return float(10.0 ** -len(plain_number.partition(".")[2]))
    zeros = len(plain_number) - len(plain_number.rstrip("0"))
    return float(10.0 ** min(zeros, 3)) if plain_number.strip("0") else 1.0
