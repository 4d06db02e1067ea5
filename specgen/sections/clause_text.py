"""Clause text and conditions: Jinja2 cut down to what a specification needs, checked before it is run.

A clause is data that an office edits. What it may contain is a short list of node types: words, names,
calls of known functions with constant words, and if. Loops, filters, attributes, arithmetic and literal
numbers do not load, so that text cannot run away and every printed number has an origin.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from jinja2 import StrictUndefined, TemplateError, TemplateSyntaxError, nodes
from jinja2.sandbox import SandboxedEnvironment

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


def _environment() -> SandboxedEnvironment:
    # Specification text is no markup; the writer of each format escapes for that format.
    env = SandboxedEnvironment(undefined=StrictUndefined, autoescape=False, cache_size=0)
    env.globals.clear()
    env.filters.clear()
    env.tests.clear()
    return env


_ENV = _environment()


@dataclass(frozen=True)
class Call:
    """One call in a clause, with its constant words."""

    function: str
    words: tuple[str, ...]


@dataclass(frozen=True)
class ClauseText:
    """Compiled text: what it names and calls is known before it is rendered."""

    source: str
    names: frozenset[str]
    calls: tuple[Call, ...]
    _render: Callable[[Mapping[str, Any]], str]

    def render(self, context: Mapping[str, Any]) -> str:
        """The text with its values.

        Raises:
            ClauseTextError: a value is missing, or the text is too long.
        """
        try:
            text = " ".join(self._render(context).split(" ")).strip()
        except TemplateError as error:
            raise ClauseTextError(str(error), "correct the clause") from error
        if len(text) > LONGEST_TEXT:
            raise ClauseTextError(
                f"the text has {len(text)} characters, at most {LONGEST_TEXT}", "shorten the clause"
            )
        return text


@dataclass(frozen=True)
class Condition:
    """A compiled condition on one parapet."""

    source: str
    calls: tuple[Call, ...]
    _evaluate: Callable[..., Any]

    def holds(self, context: Mapping[str, Any]) -> bool:
        """Whether the condition is met.

        Raises:
            ClauseTextError: the condition cannot be evaluated.
        """
        try:
            return bool(self._evaluate(context))
        except TemplateError as error:
            raise ClauseTextError(str(error), "correct `when`") from error


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
        # Plain words need no template; compiling hundreds of them is what a run would spend its time on.
        refuse_digits(source)
        return ClauseText(source, frozenset(), (), lambda _context: source)
    tree = _tree(source)
    calls, names = _walk(tree, TEXT_NAMES | WHEN_NAMES, TEXT_FUNCTIONS)
    template = _ENV.from_string(source)
    return ClauseText(source, frozenset(names), calls, lambda context: template.render(**context))


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
    return Condition(source, calls, _ENV.compile_expression(source, undefined_to_none=False))


def _tree(source: str) -> nodes.Template:
    if len(source) > LONGEST_TEMPLATE:
        raise ClauseTextError(
            f"the clause has {len(source)} characters, at most {LONGEST_TEMPLATE}", "split it"
        )
    try:
        return _ENV.parse(source)
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
