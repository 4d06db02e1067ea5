"""The vocabulary as Cerberus schemas, and Cerberus' errors as problems with file, line and column."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from typing import Any

from cerberus import Validator
from cerberus.errors import UNKNOWN_FIELD, BaseErrorHandler, ErrorDefinition, ValidationError

from specgen.files.marks import InputProblem, Mark, near
from specgen.files.yaml_reader import MarkedList, MarkedMap
from specgen.intake.values import UnusableValueError, convert
from specgen.practice.entries import Field, Vocabulary

Schema = dict[str, Any]
ErrorFunction = Callable[[str, ErrorDefinition, UnusableValueError], None]

# Codes below 0x100 are Cerberus' own.
UNUSABLE_VALUE = ErrorDefinition(0x100, "check_with")


def field_rule(field: Field, vocabulary: Vocabulary, require: bool) -> Schema:
    """The Cerberus rule of one field: presence by Cerberus, the value by :func:`convert`."""

    def check(name: str, value: Any, error: ErrorFunction) -> None:
        try:
            convert(field, value, vocabulary)
        except UnusableValueError as problem:
            error(name, UNUSABLE_VALUE, problem)

    return {"required": require and field.required, "nullable": True, "check_with": check}


def fields_schema(
    fields: Mapping[str, Field], vocabulary: Vocabulary, require: bool = True, extra: Schema | None = None
) -> Schema:
    """The schema of a record or a component: its fields, and structural keys given by ``extra``."""
    return {name: field_rule(field, vocabulary, require) for name, field in fields.items()} | (extra or {})


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

    def __init__(self, schema: Schema) -> None:
        self._schema = schema
        self._validator = Validator(schema, error_handler=_Collector, purge_unknown=False)

    def check(self, node: Any, mark: Mark) -> list[InputProblem]:
        """Everything wrong with a node; an empty list if nothing is."""
        if not isinstance(node, MarkedMap):
            return [InputProblem(mark, "a mapping is wanted here", "write `key: value` lines")]
        self._validator.validate(node, normalize=False)
        return sorted(
            (self._problem(node, error) for error in self._validator.errors), key=lambda problem: problem.mark
        )

    def _problem(self, node: MarkedMap, error: ValidationError) -> InputProblem:
        path = error.document_path
        name = str(path[-1])
        match error.rule:
            case "check_with":
                problem = error.info[0]
                return InputProblem(mark_at(node, path), problem.message, problem.fix)
            case "required":
                where = mark_at(node, path[:-1])
                return InputProblem(where, f"`{name}` is missing", f"add a line `{name}: …`")
            case None:  # the only rule-less error Cerberus raises without a schema rule: an unknown key
                return unknown_key(name, mark_at(node, path, key=True), self._known(path))
            case "type":
                wanted = {"dict": "a mapping", "list": "a list"}.get(
                    str(error.constraint), str(error.constraint)
                )
                return InputProblem(
                    mark_at(node, path), f"`{name}` is no {wanted.split()[-1]}", f"write {wanted}"
                )
            case _:
                return InputProblem(mark_at(node, path), f"`{name}`: {error.rule} is not met", "")

    def _known(self, path: tuple[Any, ...]) -> Collection[str]:
        schema = self._schema
        for step in path[:-1]:
            schema = schema[step]["schema"]
        return schema.keys()


def unknown_key(name: str, mark: Mark, known: Iterable[str]) -> InputProblem:
    """The problem of a misspelt or unknown key, with the nearest known one."""
    choices = sorted(known)
    guess = near(name, choices)
    fix = f"did you mean `{guess}`?" if guess else f"known here: {', '.join(choices)}"
    return InputProblem(mark, f"unknown key `{name}`", fix)


def mark_at(node: MarkedMap | MarkedList, path: Iterable[Any], key: bool = False) -> Mark:
    """The mark of the value (or the key) at a path below a node; of the deepest part that exists."""
    mark, current = node.mark, node
    steps = list(path)
    for index, step in enumerate(steps):
        if isinstance(current, MarkedMap) and step in current.values_at:
            last = index == len(steps) - 1
            mark = current.keys_at[step] if key and last else current.values_at[step]
        elif isinstance(current, MarkedList) and isinstance(step, int) and step < len(current.items_at):
            mark = current.items_at[step]
        else:
            return mark
        current = current[step]
    return mark
