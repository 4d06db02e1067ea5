"""Every scalar of a project file with its place and its field, and the slips that a hand makes of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import yaml

from specgen.intake.records import REASONS
from specgen.practice.entries import Field
from specgen.units.quantity import NUMBER, QuantityError, parse
from tests.rules.mutations.sweep import RECORDS as MUTATED
from tests.rules.mutations.sweep import VOCABULARY

RECORDS = {**MUTATED, "answers": "answer"}
PARTS = ("build_up", "top")
OWN_TYPES = {
    "role": "role",
    "kind": "kind",
    "id": "component",
    "between": "component",
    "changes": "component",
}
OWN_TYPES |= {"upper": "component", "tape": "component", "through": "component", "type": "type of parapet"}
NO_NUMBER = ("text", "word", "words", "yes or no", "date", "family", "families", "", *OWN_TYPES.values())
FACTORS = {"sign changed": -1.0, "x1000": 1000.0, "x25.4": 25.4, "/25.4": 1 / 25.4}
KINDS = ("zero", *FACTORS, "unit removed", "neighbor's value", "another project's value")
_NUMBERS = re.compile(NUMBER)


@dataclass(frozen=True)
class Scalar:
    """One value as it stands in a file."""

    what: str  # its role or record, "" of what stands above both
    kind: str  # of the component, "" of a record
    name: str  # of the field
    type: str  # of the field: two values of one type can be taken for each other
    text: str
    line: int  # counted from 1
    start: int
    end: int

    @property
    def field(self) -> str:
        """What the table of reasons calls it: ``coping.outer_drip``."""
        return f"{self.what}.{self.name}" if self.what else self.name


@dataclass(frozen=True)
class Slip:
    """One value changed."""

    scalar: Scalar
    change: str  # one of KINDS
    text: str

    def of(self, file: str) -> str:
        """The file with this one value changed."""
        return file[: self.scalar.start] + self.text + file[self.scalar.end :]

    @property
    def id(self) -> str:
        """Line, field, change and what then stands there."""
        return f"{self.scalar.line} {self.scalar.field} {self.scalar.text} {self.change}: {self.text}"


def scalars(file: str) -> tuple[Scalar, ...]:
    """Every scalar of a project file, in its order."""
    root = yaml.compose(file, Loader=yaml.CSafeLoader)
    parts = dict(_parts(root))
    return tuple(_walk(root, "", "", {}, "", file, parts))


def _walk(
    node: Any,
    what: str,
    kind: str,
    fields: Mapping[str, Field],
    name: str,
    file: str,
    parts: Mapping[str, Any],
) -> Iterator[Scalar]:
    if isinstance(node, yaml.ScalarNode):
        field = fields.get(name)
        type_ = OWN_TYPES.get(name) or (field.type if field else "")
        if type_ == "word" and field:
            type_ = f"word {field.choices}"
        start, end = node.start_mark, node.end_mark
        text = file[start.index : end.index].rstrip()
        yield Scalar(what, kind, name, type_, text, start.line + 1, start.index, start.index + len(text))
    elif isinstance(node, yaml.SequenceNode):
        for one in node.value:
            if name in PARTS:
                role, its = _value(one, "role"), _value(one, "kind")
                yield from _walk(one, role, its, VOCABULARY.roles[role].fields, name, file, parts)
            elif name in RECORDS:
                record = RECORDS[name]
                yield from _walk(one, record, "", VOCABULARY.records[record].fields, name, file, parts)
            else:
                yield from _walk(one, what, kind, fields, name, file, parts)
    else:
        for key, below in node.value:
            own = str(key.value)
            if name == "changes" and own in parts:
                role, its = parts[own]
                yield from _walk(below, role, its, VOCABULARY.roles[role].fields, own, file, parts)
            elif name == "types":
                yield from _walk(below, "parapet", "", VOCABULARY.records["parapet"].fields, own, file, parts)
            elif own in VOCABULARY.records and own not in fields:
                yield from _walk(below, own, "", VOCABULARY.records[own].fields, own, file, parts)
            elif own in REASONS:  # reasons are texts of their own, whatever value they are for
                for of, reason in below.value:
                    yield from _walk(reason, f"{what}.{own}", kind, fields, str(of.value), file, parts)
            else:
                yield from _walk(below, what, kind, fields, own, file, parts)


def _parts(node: Any) -> Iterator[tuple[str, tuple[str, str]]]:
    """Role and kind of every component by its id."""
    if isinstance(node, yaml.SequenceNode):
        for one in node.value:
            yield from _parts(one)
    elif isinstance(node, yaml.MappingNode):
        for key, below in node.value:
            if key.value in PARTS:
                for one in below.value:
                    role = _value(one, "role")
                    yield _value(one, "id") or role, (role, _value(one, "kind"))
            yield from _parts(below)


def _value(node: Any, name: str) -> str:
    return next((str(value.value) for key, value in node.value if key.value == name), "")


def slips(own: tuple[Scalar, ...], others: tuple[Scalar, ...]) -> Iterator[Slip]:
    """Every slip of every value of a file.

    Args:
        own: the values of the file.
        others: those of other projects, the next project first.
    """
    for number, scalar in enumerate(own):
        if scalar.type not in NO_NUMBER and not scalar.type.startswith("word"):
            yield from _of_a_number(scalar)
        elif scalar.name.endswith("_months"):
            yield from _of_numbers(scalar)
        after = (*own[number + 1 :], *own[:number])
        next_one = next((one.text for one in after if _alike(one, scalar) and one.text != scalar.text), None)
        if next_one is not None:
            yield Slip(scalar, "neighbor's value", next_one)
        same = (one for one in others if (one.what, one.name) == (scalar.what, scalar.name))
        other = next((one.text for one in same if one.text != scalar.text), None)
        if other is not None:
            yield Slip(scalar, "another project's value", other)


def _alike(one: Scalar, other: Scalar) -> bool:
    """Whether two values are of one kind of quantity, so that one can stand where the other belongs."""
    return bool(one.type) and one.type == other.type


def _of_a_number(scalar: Scalar) -> Iterator[Slip]:
    quote = scalar.text[0] if scalar.text[0] in "\"'" else ""
    bare = scalar.text.strip(quote) if quote else scalar.text
    found = _NUMBERS.match(bare)
    if not found:
        return
    try:
        number = parse(f"{found[0]} in", ("length",)).number
    except QuantityError:
        return
    rest = bare[found.end() :]
    for change, factor in {"zero": 0.0, **FACTORS}.items():
        if number * factor != number:
            yield Slip(scalar, change, f"{quote}{number * factor:.12g}{rest}{quote}")
    if rest.strip():
        yield Slip(scalar, "unit removed", f"{quote}{found[0]}{quote}")


def _of_numbers(scalar: Scalar) -> Iterator[Slip]:
    """A list of numbers with one unit, each changed."""

    def scaled(factor: float) -> str:
        return _NUMBERS.sub(lambda one: f"{float(one[0]) * factor:.12g}", scalar.text)

    for change, factor in {"zero": 0.0, **FACTORS}.items():
        yield Slip(scalar, change, scaled(factor))
    yield Slip(scalar, "unit removed", re.sub(r"[ a-zA-Z%]+(?=\"?$)", "", scalar.text))
