"""Values of a submittal that were read from data sheets: how each stands, and what a person found who compared it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from specgen.files.atomic import write_together
from specgen.files.faults import OutputError
from specgen.files.foreign import foreign_text, refused
from specgen.files.lock import locked
from specgen.files.marks import InputError, InputProblem
from specgen.files.yaml_comments import comments
from specgen.files.yaml_edit import remove, set_value
from specgen.files.yaml_reader import Limits, MarkedList, MarkedMap, read_yaml_text
from specgen.intake.bounds import BOUND_KEYS
from specgen.intake.datasheet.write import quoted, scalar_of, value_words
from specgen.intake.start import scalar
from specgen.intake.submittal import CONFIRMED, NOT_THERE, submission_of
from specgen.model.datasheet import Reading, Standing
from specgen.model.project import Record
from specgen.practice.entries import Practice, Role

TAKEN, CORRECTED, OPEN = "taken as read", "corrected", "left to confirm"
FOUND = (TAKEN, CORRECTED, NOT_THERE, OPEN)  # what a person finds who compares a value with its sheet
STATED = "stated"  # by a submitter or by hand: nothing of it was read
BLANK = "not found"
LONGEST = 300  # characters of a value, a method, a name
_ALSO = "# also: "


@dataclass(frozen=True)
class SubmittedValue:
    """One value of a product as its file states it."""

    key: str
    title: str
    value: str
    method: str
    wanted: str  # the method and the condition that such a value is stated by
    evidence: tuple[str, ...]
    why: str  # what is to be confirmed
    standing: str  # one of FOUND, or STATED, or BLANK
    by: str = ""
    day: str = ""
    state: str = ""  # of what stands in the file, to see that somebody changed it
    choices: tuple[str, ...] = ()

    @property
    def open(self) -> bool:
        """Whether a person has still to compare it."""
        return self.standing == OPEN


@dataclass(frozen=True)
class SubmittedProduct:
    """One product of a submittal file with all that can be stated of it."""

    number: int  # counted from 0
    role: str
    title: str  # of the role
    name: str
    papers: tuple[str, ...]
    values: tuple[SubmittedValue, ...]


@dataclass(frozen=True)
class Confirmation:
    """What a person found who compared one value with its sheet."""

    found: str  # one of FOUND
    by: str
    day: date
    value: str = ""  # of a corrected one
    method: str = ""


def text_of(path: Path) -> str:
    """The text of a submittal file, with its line ends.

    Raises:
        InputError: it cannot be read.
    """
    return foreign_text(path, Limits().bytes, "a submittal")


def products_of(text: str, path: Path, practice: Practice) -> tuple[SubmittedProduct, ...]:
    """The products of a submittal, each with every value that can be stated of it.

    Args:
        text: of the file.
        path: of the file, for messages.
        practice: the vocabulary.

    Raises:
        InputError: the file cannot be used.
    """
    submission = submission_of(text, path, practice)
    nodes = read_yaml_text(text, str(path), want=dict)["products"]
    assert isinstance(nodes, MarkedList)
    lines = [(one.line, one.text.removeprefix(_ALSO)) for one in comments(text) if one.text.startswith(_ALSO)]
    found = []
    for number, (node, product) in enumerate(zip(nodes, submission.products, strict=True)):
        role = practice.vocabulary.roles[product.role]
        papers = tuple(str(one.stated.word("file") or "") for one in product.papers)
        values = _values(node, role, lines)
        found.append(SubmittedProduct(number, product.role, role.title, product.name, papers, tuple(values)))
    return tuple(found)


def _values(node: MarkedMap, role: Role, also: list[tuple[int, str]]) -> Iterator[SubmittedValue]:
    starts = sorted(mark.line for mark in node.keys_at.values())
    for key in ("kind", *(name for name, field in role.fields.items() if not field.project_only)):
        field = role.fields.get(key)
        written = node.get(key)
        more = written if isinstance(written, MarkedMap) else {}
        line = node.keys_at[key].line if key in node else 0
        end = next((start for start in starts if start > line), 10**9)
        others = tuple(text for at, text in also if line and line < at < end)
        evidence = tuple(filter(None, (_shown(more.get("evidence")), *others)))
        confirmed = more.get(CONFIRMED)
        about = confirmed if isinstance(confirmed, MarkedMap) else {}
        value = _value_of(written)
        wanted = f"{field.method or ''}{f' at {field.at}' if field.at else ''}" if field else ""
        yield SubmittedValue(
            key,
            field.title if field else "generic kind",
            value,
            _shown(more.get("method")),
            wanted.strip(),
            evidence,
            _shown(more.get("confirm")),
            OPEN if "confirm" in more else str(about.get("as") or (STATED if value else BLANK)),
            _shown(about.get("by")),
            _shown(about.get("date")),
            _state(written),
            tuple(role.kinds) if key == "kind" else tuple(field.choices or ()) if field else (),
        )


def _value_of(written: Any) -> str:
    if not isinstance(written, MarkedMap):
        return _shown(written)
    bounds = (
        f"{key.replace('_', ' ')} {_shown(written[key])}"
        for key in BOUND_KEYS
        if written.get(key) is not None
    )
    return _shown(written.get("value")) or ", ".join(bounds)


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)


def _state(written: Any) -> str:
    return hashlib.sha256(repr(written).encode("utf-8", "surrogatepass")).hexdigest()[:16]


def confirm(
    path: Path, practice: Practice, product: int, key: str, given: Confirmation, state: str = ""
) -> str:
    """Write what a person found on one value into its submittal file; everything else stays as it is written.

    Args:
        path: of the submittal file.
        practice: the vocabulary.
        product: its number, counted from 0.
        key: of the value.
        given: what the person found.
        state: of the value as the person saw it; "" where that is not known.

    Returns:
        What was written, in words.

    Raises:
        InputError: the value cannot be read, or somebody changed it meanwhile; nothing was written.
        OutputError: the file cannot be written.
    """
    _refuse_unusable(path, given)
    with locked(path.parent):
        text = text_of(path)
        products = products_of(text, path, practice)
        if not 0 <= product < len(products):
            raise refused(path, f"there is no product {product + 1} in it", "look at the submittal again")
        one = next((each for each in products[product].values if each.key == key), None)
        if one is None:
            raise refused(
                path, f"`{key}` is nothing that a data sheet states of it", "look at the submittal again"
            )
        if state and state != one.state:
            what = f"`{one.title}` was changed by somebody else meanwhile: it is {one.value or 'blank'} now"
            raise refused(path, what, "look at it again; nothing was written")
        new = _with_finding(text, path.name, products[product].role, one, product, given, practice)
        _refuse_unreadable(new, path, practice, product, key)
        if new != text:
            write_together({path: new.encode("utf-8")})
    return f"{one.title}: {given.found}"


def _refuse_unusable(path: Path, given: Confirmation) -> None:
    if given.found not in FOUND:
        raise refused(path, f"`{given.found}` is nothing that can be found", f"choose: {', '.join(FOUND)}")
    if not given.by.strip():
        raise refused(path, "nobody signs for it", "say who compared the value with its sheet")
    if given.found == CORRECTED and not given.value.strip():
        raise refused(path, "the corrected value is blank", f"type the value, or choose `{NOT_THERE}`")
    if max(map(len, (given.by, given.value, given.method))) > LONGEST:
        raise refused(path, f"a text is longer than {LONGEST} characters", "shorten it")


def _with_finding(
    text: str,
    name: str,
    role: str,
    one: SubmittedValue,
    product: int,
    given: Confirmation,
    practice: Practice,
) -> str:
    """The text with what was found. Evidence stays; a value that is not in the sheet is left blank."""
    at = ("products", product, one.key)
    signed = f"{scalar(given.by)}, date: {given.day.isoformat()}"
    field = practice.vocabulary.roles[role].fields.get(one.key)
    type_ = field.type if field else "word"
    if given.found == OPEN:
        if one.open:
            return text
        words = quoted(f"left to confirm by {given.by}, {given.day.isoformat()}")
        text = _as_map(text, name, at, one, type_)
        text = set_value(text, (*at, "confirm"), words, name)
        return remove(text, (*at, CONFIRMED), name) if one.standing in FOUND else text
    finding = f"{{as: {given.found}, by: {signed}}}"
    if given.found == NOT_THERE:
        return set_value(text, at, f"value:\nconfirmed: {finding}", name)
    text = _as_map(text, name, at, one, type_)
    if given.found == CORRECTED:
        text = _corrected(text, name, at, given, type_)
    elif not one.value:
        raise refused(name, f"`{one.title}` has no value to take", "type the value as a correction")
    if one.open:
        text = remove(text, (*at, "confirm"), name)
    return set_value(text, (*at, CONFIRMED), finding, name)


def _as_map(text: str, name: str, at: tuple[str | int, ...], one: SubmittedValue, type_: str) -> str:
    """The text with the value as a map, where it stood bare or not at all."""
    node = read_yaml_text(text, name, want=dict)["products"][at[1]].get(one.key)
    if isinstance(node, MarkedMap):
        return text
    return set_value(text, at, f"value: {scalar_of(one.value, type_)}", name)


def _corrected(text: str, name: str, at: tuple[str | int, ...], given: Confirmation, type_: str) -> str:
    node = read_yaml_text(text, name, want=dict)["products"][at[1]][at[2]]
    text = set_value(text, (*at, "value"), scalar_of(" ".join(given.value.split()), type_), name)
    for bound in BOUND_KEYS:
        if bound in node:
            text = remove(text, (*at, bound), name)
    method = " ".join(given.method.split())
    if method:
        return set_value(text, (*at, "method"), quoted(method), name)
    return remove(text, (*at, "method"), name) if "method" in node else text


def _refuse_unreadable(text: str, path: Path, practice: Practice, product: int, key: str) -> None:
    """Stop where the value as typed cannot be used; what is wrong elsewhere in the file is not looked at here."""
    found = submission_of(text, path, practice).products[product].unreadable.get(key)
    if found is not None:
        raise InputError([InputProblem(found.mark, f"`{found.seen}`: {found.why}", found.fix)])


def fill_blanks(
    path: Path, practice: Practice, product: int, reading: Reading
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Write what a further reading found into values that are blank. What stands there stays, whoever wrote it.

    Args:
        path: of the submittal file.
        practice: the vocabulary.
        product: its number, counted from 0.
        reading: of the papers of this product.

    Returns:
        The titles of the values that were filled; and what the reading says otherwise than the file.

    Raises:
        InputError: the product has another role than the reading.
        OutputError: the file cannot be written.
    """
    filled, differing = [], []
    with locked(path.parent):
        text = text_of(path)
        one = products_of(text, path, practice)[product]
        if one.role != reading.role:
            what = f"product {product + 1} is a {one.role}, and the papers speak of a {reading.role}"
            raise refused(path, what, "read them as another product")
        new, role = text, practice.vocabulary.roles[one.role]
        stands = {each.key: each for each in one.values}
        for value in reading.values:
            there = stands.get(value.attribute)
            if there is None or value.standing is Standing.NOT_FOUND:
                continue
            if there.standing == BLANK:
                new = set_value(
                    new, ("products", product, value.attribute), value_words(value, role), path.name
                )
                filled.append(value.title)
            elif there.value != value.value:
                differing.append(
                    f"{value.title}: {there.value or 'blank'} stands, the papers say {value.value}"
                )
        submission_of(new, path, practice)
        if new != text:
            write_together({path: new.encode("utf-8")})
    return tuple(filled), tuple(differing)


def confirmations(record: Record) -> str:
    """A confirmation in words: ``taken as read, A. B., 2026-12-01``."""
    return ", ".join(str(record.values[key]) for key in ("as", "by", "date") if key in record.values)


__all__ = [
    "BLANK", "CORRECTED", "FOUND", "NOT_THERE", "OPEN", "STATED", "TAKEN", "Confirmation", "OutputError",
    "SubmittedProduct", "SubmittedValue", "confirm", "confirmations", "fill_blanks", "products_of", "text_of",
]  # fmt: skip
