"""Checked YAML nodes to records and components; one compiled schema a record kind and a role."""

from __future__ import annotations

import contextlib
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import Any, ClassVar, TypeVar

from specgen.files.marks import InputProblem, Mark, near
from specgen.files.yaml_reader import MarkedMap
from specgen.intake.schema import (
    NOT_APPLICABLE,
    Checker,
    Schema,
    fields_schema,
    is_placeholder,
    leaves_open,
    unknown_keys,
)
from specgen.intake.values import SHEET_THICKNESS, UNKNOWN, UnusableValueError, convert, described
from specgen.model.project import Component, Record, Value
from specgen.practice.entries import Field, Practice
from specgen.practice.shapes import shape
from specgen.practice.sheet import sheet_thickness
from specgen.practice.trade_names import hint
from specgen.units.quantity import Quantity, QuantityError, parse
from specgen.wall.plausible import AnyRecord, sifted

Kept = TypeVar("Kept")
ANY: Schema = {"nullable": True}
REASONS = tuple(shape("reasons"))  # the keys of a component below which reasons stand
_WHY = {
    "meant": "why the value is meant",
    "because": "why no less will do",
    NOT_APPLICABLE: "why it does not apply",
}


class RecordReader:
    """Reads records and components of one file and collects every problem found on the way."""

    # The records that may say of a value that it is unknown ("role": components), and those whose text is an answer.
    OPEN: ClassVar[Collection[str]] = ()
    ANSWERS: ClassVar[Collection[str]] = ()
    # What may stand for the kind of a component: that nobody knows it, that there is none.
    KINDLESS: ClassVar[Collection[str]] = ()

    def __init__(self, practice: Practice) -> None:
        self.practice = practice
        self.vocabulary = practice.vocabulary
        self.problems: list[InputProblem] = []
        # Ids of components with problems, and whether an id could not be read: no such id is called missing.
        self._unread: set[str] = set()
        self._nameless = False
        # Where a gauge or weight was written: another metal makes another thickness of it.
        self._by_gauge: set[Mark] = set()
        self._checkers: dict[tuple[str, bool, tuple[str, ...]], Checker] = {}

    def problem(self, mark: Mark, message: str, fix: str = "") -> None:
        """Note one problem."""
        self.problems.append(InputProblem(mark, message, fix))

    def record(
        self, node: Any, mark: Mark, what: str, structural: tuple[str, ...] = (), require: bool = True
    ) -> Record:
        """A record of the vocabulary from a mapping; keys named in ``structural`` are left to the caller."""
        fields = self.vocabulary.records[what].fields
        if any(field.expected for field in fields.values()):
            structural = (*structural, "meant")
        if self._open(what):
            structural = (*structural, NOT_APPLICABLE)
        if self._passes(node, mark, what, fields, structural, require):
            record = self._record(node, mark, what, fields)
            return sifted(replace(record, meant=self.meant(node, record.values, fields)), self.practice)
        written = [name for name in node if name in fields] if isinstance(node, MarkedMap) else []
        return Record(
            what,
            self._readable(node, written, fields),
            {name: node.values_at[name] for name in written},
            mark,
        )

    def component(self, node: Any, mark: Mark) -> Component | None:
        """A component from a mapping with ``role`` and ``kind``; None if it has problems."""
        if not isinstance(node, MarkedMap):
            self.problem(
                mark,
                f"{described(node)} stands where a component is wanted",
                "write `- role: …`, and below it `kind: …` and its values",
            )
            return None
        role = self.choice(node, "role", self.vocabulary.roles)
        if role is None:
            self._note_unread(node, near(str(node.get("role", "")), self.vocabulary.roles))
            return None
        definition = self.vocabulary.roles[role]
        before = len(self.problems)
        kind = self._generic_kind(node, role)
        component_id = self._id(node, role)
        structural = (*shape("component"), *REASONS)
        if not self._passes(node, mark, role, definition.fields, structural, True) or kind is None:
            self._note_unread(node, role)
            return None
        record = self._record(node, mark, role, definition.fields)
        at_kind = node.values_at.get("kind", node.values_at["role"])
        marks = {**record.marks, "kind": at_kind, "role": node.values_at["role"]}
        values = self._thickness_of_sheets(record, definition.fields)
        if len(self.problems) > before:
            self._note_unread(node, role)
        meant = self.meant(node, values, definition.fields)
        because = self.because(node, definition.fields, kind)
        part = Component(role, values, marks, mark, id=component_id, kind=kind, meant=meant, because=because)
        return self._sifted(replace(part, unknown=record.unknown, inapplicable=record.inapplicable))

    def _generic_kind(self, node: MarkedMap, role: str) -> str | None:
        """The kind of a component; None with a problem. Nothing known of it is unknown, where the file may say so."""
        if self.KINDLESS and "kind" not in node and not any(near(name, ["kind"]) for name in node):
            return UNKNOWN
        if node.get("kind") in self.KINDLESS:
            return str(node["kind"])
        return self.choice(node, "kind", self.vocabulary.roles[role].kinds, role)

    def _sifted(self, part: Component) -> Component:
        """A component without the values that are not expected of its kind; all of them while the kind is not known."""
        return part if part.kind in self.KINDLESS else sifted(part, self.practice)

    def _id(self, node: MarkedMap, role: str) -> str:
        given = node.get("id", role)
        if isinstance(given, bool) or not isinstance(given, str | int) or not str(given).strip():
            message = f"`id` is {described(given)}, a short name is wanted"
            self.problem(node.values_at["id"], message, "put it in quotes")
            self._nameless = True
            return role
        return str(given)

    def strange_keys(self, node: MarkedMap, known: Collection[str]) -> set[str]:
        """Note the keys of a file or a section that it does not have; what they were meant to be."""
        return self.strange(node, [key for key in node if key not in known], known)

    def strange(self, node: MarkedMap, keys: Iterable[str], known: Iterable[str]) -> set[str]:
        """As :meth:`strange_keys`, where not every key that is not suggested is strange."""
        problems, meant = unknown_keys(node, keys, known)
        self.problems += problems
        return meant

    def words(self, node: MarkedMap, key: str) -> str:
        """A text of a file, white space folded; "" where it is not given."""
        given = node.get(key)
        if given is None:
            return ""
        if isinstance(given, bool) or not isinstance(given, str | int):
            self.problem(node.values_at[key], f"`{key}` is no text", "write it in quotes")
            return ""
        return " ".join(str(given).split())

    def meant(self, node: MarkedMap, stated: Collection[str], fields: Mapping[str, Field]) -> dict[str, str]:
        """The reasons of values that are meant although their kind is not expected to have them."""
        given: Any = node.get("meant")
        for name in given if isinstance(given, MarkedMap) else ():
            if name in fields and name not in stated:
                message = f"`meant` names `{name}`, which is not stated here"
                self.problem(given.keys_at[name], message, "state it")
        return {name: why for name, why in self._reasons(node, "meant", fields).items() if name in stated}

    def because(self, node: MarkedMap, fields: Mapping[str, Field], kind: str) -> dict[str, str]:
        """The reasons of values that are stricter than anything asks for; of a kind that is none, why there is none."""
        none = kind in self.KINDLESS and kind != UNKNOWN
        return self._reasons(node, "because", (*fields, "kind") if none else fields)

    def _inapplicable(self, node: MarkedMap, fields: Mapping[str, Field]) -> dict[str, str]:
        """The reasons of values that do not apply; what is stated as well, or always applies, is a problem."""
        reasons = self._reasons(node, NOT_APPLICABLE, fields)
        for name in reasons:
            mark = node[NOT_APPLICABLE].keys_at[name]
            if name in node:
                message = f"`{name}` is stated, and said not to apply"
                self.problem(
                    mark, message, f"delete one of the two (the other: line {node.keys_at[name].line})"
                )
            elif fields[name].required or fields[name].to_issue:
                self.problem(mark, f"`{name}` applies to every project", "state it")
        return reasons

    def _reasons(self, node: MarkedMap, key: str, fields: Collection[str]) -> dict[str, str]:
        """The reasons below a key, by the values that they are for."""
        if key not in node:
            return {}
        given = node[key]
        if not isinstance(given, MarkedMap):
            self.problem(
                node.values_at[key],
                f"`{key}`: {described(given)} stands where reasons are wanted",
                f"write `{key}: {{{next(iter(fields), 'attribute')}: reason}}`",
            )
            return {}
        out = {}
        self.strange_keys(given, fields)
        for name, reason in given.items():
            if name not in fields:
                continue
            if not _in_words(reason):
                message = f"`{key}`: {described(reason)} stands where the reason for `{name}` is wanted"
                self.problem(given.values_at[name], message, f"say in words {_WHY[key]}")
            else:
                out[str(name)] = " ".join(reason.split())
        return out

    def _note_unread(self, node: MarkedMap, role: str) -> None:
        self._unread |= {str(node.get("id", role)), role}

    def changed(self, base: Component, node: Any, mark: Mark) -> Component:
        """A component with some values replaced by a parapet's ``changes``."""
        if not isinstance(node, MarkedMap):
            self.problem(
                mark,
                f"{described(node)} stands where the changes of `{base.id}` are wanted",
                "write indented `attribute: value` lines below it",
            )
            return base
        definition = self.vocabulary.roles[base.role]
        kind = self._generic_kind(node, base.role) if "kind" in node else base.kind
        if (
            not self._passes(node, mark, base.role, definition.fields, ("kind", *REASONS), False)
            or kind is None
        ):
            return base
        record = self._record(node, mark, base.role, definition.fields)
        marks = {**base.marks, **record.marks}
        if "kind" in node:
            marks["kind"] = node.values_at["kind"]
        if "metal" in node and marks.get("thickness") in self._by_gauge:
            self.problem(
                node.values_at["metal"],
                f"`metal` of `{base.id}` changes, and its `thickness` was given by gauge or weight",
                "give the `thickness` of the new metal beside it",
            )
        own = laid_over(base, record)
        merged = replace(own, marks=marks, mark=base.mark)
        values = self._thickness_of_sheets(merged, definition.fields)
        # A reason holds for the value and the kind that it was given for.
        kept = {} if kind != base.kind else {k: v for k, v in base.meant.items() if k not in record.values}
        meant = {**kept, **self.meant(node, values, definition.fields)}
        stays = {name: why for name, why in base.because.items() if name not in record.values}
        because = {**stays, **self.because(node, definition.fields, kind)}
        if kind != base.kind:
            own = replace(own, inapplicable=record.inapplicable)
        part = Component(base.role, values, marks, base.mark, id=base.id, kind=kind, meant=meant)
        part = replace(part, because=because, unknown=own.unknown, inapplicable=own.inapplicable)
        if kind in self.KINDLESS and kind != UNKNOWN:  # what a type states of it is not stated here
            why = {name: reason for name, reason in because.items() if name == "kind"}
            part = replace(part, values=record.values, meant={}, because=why, mark=marks["kind"])
            part = replace(part, unknown=record.unknown, inapplicable=record.inapplicable)
        return self._sifted(part)

    def choice(self, node: MarkedMap, key: str, choices: Mapping[str, Any], role: str = "") -> str | None:
        """The word at a key, if it is one of the choices; a problem with the nearest choice otherwise.

        ``role`` is that of the component whose kind is wanted.
        """
        if key not in node:
            misspelt = next((name for name in node if near(name, [key])), None)
            if misspelt is not None:
                self.strange(node, [misspelt], [key])
            else:
                fix = f"add `{key}: …`; choose: {', '.join(choices)}"
                self.problem(node.mark, f"`{key}` is missing", fix)
            return None
        word = node[key]
        if isinstance(word, str) and word in choices:
            return word
        if word is None:
            self.problem(node.values_at[key], f"`{key}` has no value", f"write one of: {', '.join(choices)}")
            return None
        fix = f"choose: {', '.join(choices)}"
        if isinstance(word, str):
            fix = hint(word, choices, fix, role, "kind" if role else "")
        found = described(word)
        self.problem(node.values_at[key], f"{found} is not a known {key}", fix)
        return None

    def _passes(
        self,
        node: Any,
        mark: Mark,
        what: str,
        fields: Mapping[str, Field],
        structural: tuple[str, ...],
        require: bool,
    ) -> bool:
        key = (what, require, structural)
        if key not in self._checkers:
            extra = dict.fromkeys(structural, ANY)
            answers = self._among(what, self.ANSWERS)
            schema = fields_schema(fields, self.vocabulary, require, extra, self._open(what), answers)
            self._checkers[key] = Checker(what, schema)
        found = self._checkers[key].check(node, mark)
        self.problems.extend(found)
        return not found

    def _record(self, node: MarkedMap, mark: Mark, what: str, fields: Mapping[str, Field]) -> Record:
        known = [name for name in node if name in fields]
        left = [name for name in known if self._open(what) and leaves_open(fields[name], node[name])]
        given = {
            name: convert(fields[name], node[name], self.vocabulary) for name in known if name not in left
        }
        marks = {name: node.values_at[name] for name in given}
        unknown = {name: node.values_at[name] for name in left}
        inapplicable = self._inapplicable(node, fields) if self._open(what) else {}
        marks |= {name: node[NOT_APPLICABLE].keys_at[name] for name in inapplicable}
        return Record(what, given, marks, mark, unknown=unknown, inapplicable=inapplicable)

    def _open(self, what: str) -> bool:
        """Whether a record, or a component of a role, may say of a value that it is unknown."""
        return self._among(what, self.OPEN)

    def _among(self, what: str, records: Collection[str]) -> bool:
        return what in records or ("role" in records and what in self.vocabulary.roles)

    def _readable(self, node: Any, written: Iterable[str], fields: Mapping[str, Field]) -> dict[str, Value]:
        """What can be read of a record that has problems, so that later checks do not report it again."""
        out: dict[str, Value] = {}
        for name in written:
            with contextlib.suppress(UnusableValueError):
                out[name] = convert(fields[name], node[name], self.vocabulary)
        return out

    def _thickness_of_sheets(self, record: Record, fields: Mapping[str, Field]) -> dict[str, Value]:
        values = dict(record.values)
        for name, value in record.values.items():
            if fields[name].type != "sheet thickness" or not isinstance(value, Quantity):
                continue
            if value.dimension in SHEET_THICKNESS - {"length"}:
                try:
                    values[name] = sheet_thickness(self.practice, value, record.word("metal"))
                    self._by_gauge.add(record.at(name))
                except QuantityError as error:
                    self.problem(record.at(name), error.message, error.fix)
        return values


def _in_words(reason: object) -> bool:
    """Whether a reason says something: it is there, is no placeholder, and no value that slipped into its line."""
    if not isinstance(reason, str) or not reason.strip() or is_placeholder(reason):
        return False
    try:
        parse(reason)
    except QuantityError:
        return True
    return False


def laid_over(base: Record, own: Record) -> Record:
    """A record where another says something of some of its values: states them, leaves them open, has them not apply."""
    here = {*own.written, *own.unknown, *own.inapplicable}

    def kept(held: Mapping[str, Kept]) -> dict[str, Kept]:
        return {name: one for name, one in held.items() if name not in here}

    return Record(
        own.what,
        {**kept(base.written), **own.written},
        {**base.marks, **own.marks},
        own.mark,
        unknown={**kept(base.unknown), **own.unknown},
        inapplicable={**kept(base.inapplicable), **own.inapplicable},
    )


def with_defaults(record: AnyRecord, fields: Mapping[str, Field]) -> AnyRecord:
    """The record with the vocabulary's defaults where the user gave nothing."""
    missing = {
        name: field.default
        for name, field in fields.items()
        if field.default is not None and name not in record.written and record.open_to_requirements(name)
    }
    return replace(record, values={**missing, **record.values})
