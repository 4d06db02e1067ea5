"""Which attribute of a role a label means, and what else the label says: a unit, a method, a condition."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from functools import cached_property

from specgen.intake.datasheet.grammar import MARK, CellContents, contents
from specgen.intake.values import SHEET_THICKNESS
from specgen.practice.datasheet_names import AttributeNames, DatasheetNames, plain_name
from specgen.practice.entries import Field, Vocabulary
from specgen.practice.named_methods import without_methods
from specgen.units.quantity import dimensions, parse

LONGEST_LABEL = 90  # characters: longer is a sentence
_BRACKET = re.compile(r"\(([^()]*)\)|\[([^\[\]]*)\]")


@dataclass(frozen=True)
class Label:
    """An attribute that a label means."""

    names: AttributeNames
    field: Field
    text: str
    exact: bool  # it is one of the names and nothing else but a unit, a method or a condition
    contents: CellContents


class Labels:
    """The labels of one role."""

    def __init__(self, role: str, names: DatasheetNames, vocabulary: Vocabulary) -> None:
        self.role, self.names = role, names
        fields = vocabulary.roles[role].fields
        self.attributes = tuple((one, fields[one.attribute]) for one in names.of_role(role, vocabulary))

    def of(self, text: str) -> Label | None:
        """The attribute a label means; None where it means none of the role."""
        text = " ".join(text.split())
        if not text or len(text) > LONGEST_LABEL:
            return None
        for candidate in _readings(text):
            found = self._exact.get(plain_name(candidate))
            if found is not None:
                names, field = found
                rest = text.replace(candidate, " ", 1) if candidate in text else text
                return _label(names, field, text, rest, candidate)
        return self._within(text)

    @cached_property
    def _exact(self) -> dict[str, tuple[AttributeNames, Field]]:
        return {name: (one, field) for one, field in self.attributes for name in one.names}

    def _within(self, text: str) -> Label | None:
        """A label that holds one of the names among other words."""
        plain_text = f" {plain_name(text)} "
        best: tuple[int, AttributeNames, Field] | None = None
        for one, field in self.attributes:
            if any(f" {name} " in plain_text for name in one.other):
                continue
            length = max((len(name) for name in one.names if f" {name} " in plain_text), default=0)
            if length > (best[0] if best else 3):
                best = (length, one, field)
        if best is None:
            return None
        return Label(best[1], best[2], text, False, _extras(text, best[2]))

    def column(self, text: str) -> str:
        """What stands below the head of a column, by the table of names; "" where the head says nothing of that."""
        whole = plain_name(MARK.sub(" ", text))
        short = plain_name(_BRACKET.sub(" ", MARK.sub(" ", text)).partition(",")[0])
        for name in (whole, short):
            for key, words in self.names.columns.items():
                if name in words:
                    return key
        return ""


def wanted_dimensions(field: Field) -> frozenset[str]:
    """The dimensions in which a value of a field is read; empty for words.

    >>> wanted_dimensions(Field("slope", "slope", "slope"))
    frozenset({'slope'})
    """
    if field.type == "sheet thickness":
        return SHEET_THICKNESS
    return frozenset({field.type} & set(dimensions()))


def condition_dimension(field: Field) -> str:
    """The dimension of the test condition of a field, "" where it has none."""
    return parse(field.at).dimension if field.at else ""


def _readings(text: str) -> Iterable[str]:
    """The label whole, and without what is not a name: marks, brackets, methods, what follows a comma."""
    bare = MARK.sub(" ", text).strip(" :•·*-–.")
    yield bare
    without = without_methods(bare)
    yield without.strip(" :,-–")
    plain_brackets = _BRACKET.sub(" ", without)
    yield plain_brackets.strip(" :,-–")
    cut = re.split(r"\s[-–@]\s|[,:]| @| at ", plain_brackets)[0]
    yield cut.strip(" :,-–")


def _label(names: AttributeNames, field: Field, text: str, rest: str, candidate: str) -> Label:
    """The label with what its rest says; a rest that is not understood makes it another label."""
    if rest is text:
        # The name was found with something cut from its midst: read the whole and forget the words of the name.
        extras = _extras(text, field)
        known = set(plain_name(candidate).split())
        extras.left = [word for word in extras.left if not set(plain_name(word).split()) <= known]
    else:
        extras = _extras(rest, field)
    extras.left = [word for word in extras.left if plain_name(word)]
    spoken = plain_name(" ".join(extras.left))
    exact = not extras.left or spoken in names.names
    return Label(names, field, text, exact and not extras.amounts and not extras.bare, extras)


def _extras(text: str, field: Field) -> CellContents:
    condition = condition_dimension(field)
    dims: Collection[str] = wanted_dimensions(field)
    return contents(text, dims, units_alone=True, condition=condition)
