"""Clause text and conditions: Jinja2 cut down to what a specification needs, checked before it is used.

A clause is data that an office edits. What it may contain is a short list of node types: words, names,
calls of known functions with constant words, and if. Loops, filters, attributes, arithmetic and literal
numbers do not load, so that text cannot run away and every printed number has an origin.

Jinja2 parses; the few nodes that pass are evaluated here as they stand. Nothing of a clause is made into a program,
which is safe, and spares a run the compiling of some five hundred templates.
"""

from __future__ import annotations

import operator
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from jinja2 import Environment, TemplateSyntaxError, nodes

from specgen.files.marks import suggestion
from specgen.sections.existing import ENTRY_NAMES
from specgen.sections.numbers import without_names

LONGEST_TEMPLATE = 2_000
LONGEST_TEXT = 4_000

TEXT_NAMES = frozenset({"limit", "method", "where", "code", "title", "role", "paragraph", *ENTRY_NAMES})
TEXT_FUNCTIONS = frozenset({"value", "at_least", "at_most", "section", "ref", "there", "kinds"})
WHEN_NAMES = frozenset({"code"})
WHEN_FUNCTIONS = frozenset(
    {
        "has",
        "kind",
        "bonded",
        "metal",
        "word",
        "parapet",
        "stated",
        "issued",
        "place",
        "specified_by",
        "repaired",
        "opened",
    }
)

_SHARED_NODES = (nodes.Output, nodes.Name, nodes.Const, nodes.Call, nodes.Compare, nodes.Operand)
_ALLOWED = (*_SHARED_NODES, nodes.And, nodes.Or, nodes.Not, nodes.CondExpr, nodes.If, nodes.TemplateData)


class ClauseTextError(ValueError):
    """A clause's text or condition that cannot be used: what is wrong, and the fix."""

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(f"{message}; {fix}")
        self.message = message
        self.fix = fix


_PARSER = Environment(autoescape=False)  # noqa: S701 - it only parses, and each format escapes for itself
_COMPARE: Mapping[str, Callable[[Any, Any], bool]] = {
    "eq": operator.eq,
    "ne": operator.ne,
    "lt": operator.lt,
    "lteq": operator.le,
    "gt": operator.gt,
    "gteq": operator.ge,
    "in": lambda one, others: one in others,
    "notin": lambda one, others: one not in others,
}


@dataclass(frozen=True)
class Call:
    """One call in a clause, with its constant words."""

    function: str
    words: tuple[str, ...]


@dataclass(frozen=True)
class ClauseText:
    """Checked text: what it names and calls is known before it is rendered."""

    source: str
    names: frozenset[str] = frozenset()
    calls: tuple[Call, ...] = ()
    _body: tuple[nodes.Node, ...] | None = None  # None where the source is plain words

    def render(self, context: Mapping[str, Any]) -> str:
        """The text with its values.

        Raises:
            ClauseTextError: a value is missing, or the text is too long.
        """
        words = self.source if self._body is None else _written(self._body, context)
        text = " ".join(words.split(" ")).strip()
        if len(text) > LONGEST_TEXT:
            raise ClauseTextError(
                f"the text has {len(text)} characters, at most {LONGEST_TEXT}", "shorten the clause"
            )
        return text


@dataclass(frozen=True)
class Condition:
    """A checked condition on one parapet."""

    source: str
    calls: tuple[Call, ...]
    _test: nodes.Node

    def holds(self, context: Mapping[str, Any]) -> bool:
        """Whether the condition is met.

        Raises:
            ClauseTextError: the condition cannot be evaluated.
        """
        return bool(_value(self._test, context))


@lru_cache(maxsize=4096)
def compile_text(source: str) -> ClauseText:
    """Check and compile the text of a clause.

    Raises:
        ClauseTextError: a literal number, an unknown name, a construct that is not allowed, a syntax error.

    >>> compile_text("Metal thickness{{ where }}: {{ limit }}.").render(
    ...     {"where": "", "limit": "at least 0.040 in"})
    'Metal thickness: at least 0.040 in.'
    """
    if "{" not in source and len(source) <= LONGEST_TEMPLATE:
        refuse_digits(source)  # plain words need no parser
        return ClauseText(source)
    tree = _tree(source)
    calls, names = _walk(tree, TEXT_NAMES | WHEN_NAMES, TEXT_FUNCTIONS)
    return ClauseText(source, frozenset(names), calls, tuple(tree.body))


@lru_cache(maxsize=4096)
def compile_condition(source: str) -> Condition:
    """Check and compile a ``when``.

    Raises:
        ClauseTextError: as :func:`compile_text`.
    """
    tree = _tree("{{ " + source + " }}")
    if len(tree.body) != 1 or not isinstance(tree.body[0], nodes.Output) or len(tree.body[0].nodes) != 1:
        raise ClauseTextError(f"`{source}` is not one condition", "write a condition without braces")
    calls, _ = _walk(tree, WHEN_NAMES, WHEN_FUNCTIONS)
    return Condition(source, calls, tree.body[0].nodes[0])


def _tree(source: str) -> nodes.Template:
    if len(source) > LONGEST_TEMPLATE:
        raise ClauseTextError(
            f"the clause has {len(source)} characters, at most {LONGEST_TEMPLATE}", "split it"
        )
    try:
        return _PARSER.parse(source)
    except TemplateSyntaxError as error:
        raise ClauseTextError(f"template: {error.message}", "correct the braces") from error


def _walk(
    tree: nodes.Node, names: frozenset[str], functions: frozenset[str]
) -> tuple[tuple[Call, ...], set[str]]:
    calls: list[Call] = []
    used: set[str] = set()

    def visit(node: nodes.Node) -> None:
        match node:
            case nodes.Call():
                calls.append(_call(node, functions))
                return
            case nodes.Name(name=name):
                if name not in names:
                    raise _unknown(name, names | functions)
                used.add(name)
            case nodes.TemplateData(data=data):
                refuse_digits(data)
            case nodes.Const(value=value):
                if not isinstance(value, bool):
                    refuse_digits(str(value))
            case nodes.Template():
                pass
            case _:
                if not isinstance(node, _ALLOWED):
                    raise ClauseTextError(
                        f"`{type(node).__name__}` is not allowed in a clause", "use words, values and if"
                    )
        for child in node.iter_child_nodes():
            visit(child)

    visit(tree)
    return tuple(calls), used


def _call(node: nodes.Call, functions: frozenset[str]) -> Call:
    if not isinstance(node.node, nodes.Name) or node.node.name not in functions:
        name = node.node.name if isinstance(node.node, nodes.Name) else "this"
        raise _unknown(name, functions)
    constant = [arg.value for arg in node.args if isinstance(arg, nodes.Const) and isinstance(arg.value, str)]
    if len(constant) != len(node.args) or node.kwargs or node.dyn_args or node.dyn_kwargs:
        raise ClauseTextError(f"`{node.node.name}` takes words in quotes", f"write {node.node.name}('…')")
    return Call(node.node.name, tuple(constant))


def _unknown(name: str, choices: frozenset[str]) -> ClauseTextError:
    fix = suggestion(name, choices, f"known here: {', '.join(sorted(choices))}")
    return ClauseTextError(f"`{name}` is not known in a clause", fix)


def _written(body: Iterable[nodes.Node], context: Mapping[str, Any]) -> str:
    """The words of a template's nodes."""
    out: list[str] = []
    for node in body:
        if isinstance(node, nodes.If):
            branches = [(node.test, node.body), *((one.test, one.body) for one in node.elif_)]
            chosen = next((then for test, then in branches if _value(test, context)), node.else_)
            out.append(_written(chosen, context))
        else:
            assert isinstance(node, nodes.Output)
            out += [str(_value(part, context)) for part in node.nodes]
    return "".join(out)


def _value(node: nodes.Node | None, context: Mapping[str, Any]) -> Any:
    """The value of one expression of those that :func:`_walk` lets pass."""
    match node:
        case nodes.TemplateData(data=value) | nodes.Const(value=value):
            return value
        case nodes.Name(name=name):
            if name not in context:
                raise ClauseTextError(f"'{name}' is undefined", "correct the clause")
            return context[name]
        case nodes.Call(node=function, args=args):
            return _value(function, context)(*(_value(one, context) for one in args))
        case nodes.Not():
            return not _value(node.node, context)
        case nodes.And():
            return _value(node.left, context) and _value(node.right, context)
        case nodes.Or():
            return _value(node.left, context) or _value(node.right, context)
        case nodes.Compare():
            left = _value(node.expr, context)
            for operand in node.ops:
                right = _value(operand.expr, context)
                if not _COMPARE[operand.op](left, right):
                    return False
                left = right
            return True
        case nodes.CondExpr():
            return _value(node.expr1 if _value(node.test, context) else node.expr2, context)
        case None:  # an `if` without `else`
            return ""
    raise AssertionError(f"{type(node).__name__} is let pass and not evaluated")


def refuse_digits(words: str) -> None:
    """Raise where a text holds a number that no requirement or practice value has brought.

    Raises:
        ClauseTextError: a bare number.
    """
    bare = re.search(r"\S*\d\S*", without_names(words))
    if bare:
        raise ClauseTextError(
            f"the number `{bare[0]}` is written into the clause",
            "state a requirement or print a practice value: {{ value('key') }}",
        )
