"""The vocabulary as Cerberus schemas, and Cerberus' errors as problems with file, line and column."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from cerberus import Validator
from cerberus.errors import BaseErrorHandler, ErrorDefinition, ValidationError
from cerberus.schema import UnvalidatedSchema

from specgen.files.marks import InputProblem, Mark, near
from specgen.files.yaml_reader import MarkedMap
from specgen.intake.values import LONGEST_TEXT, PLACEHOLDERS, UNKNOWN, UnusableValueError, convert, described
from specgen.practice.entries import Field, Vocabulary
from specgen.practice.trade_names import called

Schema = dict[str, Any]
ErrorFunction = Callable[[str, ErrorDefinition, UnusableValueError], None]

NOT_APPLICABLE = "not_applicable"  # the key below which a record says why values do not apply
NO_ANSWER = re.compile(r"n/?a|not applicable|does not apply", re.IGNORECASE)
# Codes below 0x100 are Cerberus' own.
UNUSABLE_VALUE = ErrorDefinition(0x100, "check_with")
MOST_COMPARED = 100


def field_rule(
    field: Field, vocabulary: Vocabulary, require: bool, open_: bool = False, answers: bool = False
) -> Schema:
    """The Cerberus rule of one field: presence by Cerberus, the value by :func:`convert`.

    ``open_``: what is not required may be said to be unknown. ``answers``: a line of text, but a name, is an answer.
    """
    may_leave = open_ and may_be_open(field)
    fix = f"write `{UNKNOWN}`, or delete the line" if may_leave else "state it"

    def check(name: str, value: Any, error: ErrorFunction) -> None:
        if open_ and leaves_open(field, value):
            return
        if open_ and isinstance(value, str) and NO_ANSWER.fullmatch(value.strip()):
            why = f"delete the line, and write `{NOT_APPLICABLE}: {{{name}: reason}}` beside the values"
            message = f"`{name}`: `{value}` gives no reason why it does not apply"
            error(name, UNUSABLE_VALUE, UnusableValueError(message, why))
            return
        if answers and field.type == "text" and name != "name" and is_placeholder(value):
            error(name, UNUSABLE_VALUE, UnusableValueError(f"`{name}`: `{value}` is no answer", fix))
            return
        try:
            convert(field, value, vocabulary)
        except UnusableValueError as problem:
            error(name, UNUSABLE_VALUE, problem)

    return {"required": require and field.required, "nullable": True, "check_with": check}


def is_placeholder(written: Any) -> bool:
    """Whether a line of text stands for an answer that is still to come."""
    words = str(written).strip()
    if len(words) > LONGEST_TEXT:  # told as such
        return False
    return words == UNKNOWN or PLACEHOLDERS.fullmatch(words) is not None


def may_be_open(field: Field) -> bool:
    """Whether a file may say of a value that nobody knows it yet: not of what it must state, nor where it is a choice."""
    return not field.required and UNKNOWN not in field.choices


def leaves_open(field: Field, written: Any) -> bool:
    """Whether the file says of a value that nobody knows it yet."""
    return bool(written == UNKNOWN) and may_be_open(field)


def fields_schema(
    fields: Mapping[str, Field],
    vocabulary: Vocabulary,
    require: bool = True,
    extra: Schema | None = None,
    open_: bool = False,
    answers: bool = False,
) -> Schema:
    """The schema of a record or a component: its fields, and structural keys given by ``extra``."""
    rules = {name: field_rule(field, vocabulary, require, open_, answers) for name, field in fields.items()}
    return rules | (extra or {})


class _Collector(BaseErrorHandler):  # type: ignore[misc]
    """Keeps Cerberus' error objects as they are; they are turned into words where the marks are known."""

    def __init__(self) -> None:
        self.found: list[ValidationError] = []

    def __call__(self, errors: Iterable[ValidationError]) -> list[ValidationError]:
        self.found = []
        for error in errors:
            self.add(error)
        return self.found

    def add(self, error: ValidationError) -> None:
        if error.is_group_error and error.child_errors:
            for child in error.child_errors:
                self.add(child)
        else:
            self.found.append(error)


class Checker:
    """One compiled schema; ``check`` returns all problems of a node."""

    def __init__(self, title: str, schema: Schema) -> None:
        self._title = title
        self._schema = schema
        # Made by `fields_schema`, not by people: held against Cerberus' own schema it would cost a third of a check.
        # Unknown keys are told here: Cerberus sorts all of them anew at each one.
        self._validator = Validator(UnvalidatedSchema(schema), error_handler=_Collector, allow_unknown=True)

    def check(self, node: Any, mark: Mark) -> list[InputProblem]:
        """Everything wrong with a node; an empty list if nothing is."""
        if not isinstance(node, MarkedMap):
            example = next(iter(self._schema))
            return [
                InputProblem(
                    mark,
                    f"{self._title}: {described(node)} stands where `key: value` lines are wanted",
                    f"write indented lines below, such as `{example}: …`",
                )
            ]
        self._validator.validate(node, normalize=False)
        found: list[ValidationError] = self._validator.errors
        strange_names = [name for name in node if name not in self._schema]
        strange, meant = unknown_keys(node, strange_names, self._schema, self._title)
        others = (
            self._problem(node, error)
            for error in found
            if not (error.rule == "required" and error.document_path[-1] in meant)
        )
        return sorted((*strange, *others), key=lambda problem: problem.mark)

    def _problem(self, node: MarkedMap, error: ValidationError) -> InputProblem:
        name = str(error.document_path[-1])
        if error.rule == "required":
            return InputProblem(node.mark, f"`{name}` is missing", f"add a line `{name}: …`")
        problem = error.info[0]  # of `check_with`, the only other rule
        return InputProblem(node.values_at[name], problem.message, problem.fix)


def unknown_keys(
    node: MarkedMap, strange: Iterable[str], known: Iterable[str], of: str = ""
) -> tuple[list[InputProblem], set[str]]:
    """The problems of the misspelt or unknown keys of a map, and which known ones they were most likely meant to be.

    The nearest known one is sought for the first ``MOST_COMPARED`` of a map: a map with more of them is of another kind.
    ``of`` names the role or record that the map describes, if any.
    """
    choices = sorted(known)
    otherwise = (
        f"known here: {', '.join(choices)}" if choices else "nothing is listed here yet; list it first"
    )
    problems: list[InputProblem] = []
    meant: set[str] = set()
    for count, name in enumerate(strange):
        fix = called(name, choices, of)
        if not fix:
            guess = near(name, choices) if count < MOST_COMPARED else ""
            meant |= {guess} - {""}
            fix = f"did you mean `{guess}`?" if guess else otherwise
        problems.append(InputProblem(node.keys_at[name], f"unknown key `{name}`", fix))
    return problems, meant
