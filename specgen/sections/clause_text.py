"""Clause text and conditions: Jinja2 cut down to what a specification needs, checked before it is used.

A clause is data that an office edits. What it may contain is a short list of node types: words, names,
calls of known functions with constant words, and if. Loops, filters, attributes, arithmetic and literal
numbers do not load, so that text cannot run away and every printed number has an origin.

Jinja2 parses; what it finds is kept as plain trees, and the few nodes that pass are evaluated here as they stand.
Nothing of a clause is made into a program, which is safe, and spares a run the compiling of some five hundred templates.
A node is a tuple of its name and its parts; a part is a node, a list of nodes or a constant.
"""

from __future__ import annotations

import operator
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, Any

from specgen.files.marks import suggestion
from specgen.sections.existing import ENTRY_NAMES
from specgen.sections.numbers import without_names

if TYPE_CHECKING:
    from jinja2 import nodes

Node = tuple[Any, ...]

LONGEST_TEMPLATE = 2_000
LONGEST_TEXT = 4_000

TEXT_FUNCTIONS = frozenset({"value", "at_least", "at_most", "section", "ref", "there", "kinds"})
WHEN_NAMES = frozenset({"code", "energy"})
# The names that a text has, by what its clause does; those of a list are in its `item`.
ANY_NAMES = frozenset({"where", "code", "energy"})
STATING_NAMES = ANY_NAMES | {"limit", "method"}
LISTING_NAMES = STATING_NAMES | {"role", "title", "paragraph"}
EACH_NAMES = frozenset({"where", *ENTRY_NAMES})
TEXT_NAMES = LISTING_NAMES | EACH_NAMES
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
        "existing",
    }
)


class ClauseTextError(ValueError):
    """A clause's text or condition that cannot be used: what is wrong, and the fix."""

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(f"{message}; {fix}")
        self.message = message
        self.fix = fix


_COMPARE: Mapping[str, Callable[[Any, Any], bool]] = {
    "eq": operator.eq,
    "ne": operator.ne,
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
    body: list[Node] | None = None  # None where the source is plain words

    def render(self, context: Mapping[str, Any]) -> str:
        """The text with its values.

        Raises:
            ClauseTextError: a value is missing, or the text is too long.
        """
        words = self.source if self.body is None else _written(self.body, context)
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
    test: Node

    def holds(self, context: Mapping[str, Any]) -> bool:
        """Whether the condition is met.

        Raises:
            ClauseTextError: the condition cannot be evaluated.
        """
        return bool(_value(self.test, context))


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
    return ClauseText(source, frozenset(names), calls, tree)


@lru_cache(maxsize=4096)
def compile_condition(source: str) -> Condition:
    """Check and compile a ``when``.

    Raises:
        ClauseTextError: as :func:`compile_text`.
    """
    tree = _tree(as_text(source))
    if len(tree) != 1 or tree[0][0] == "if":
        raise ClauseTextError(f"`{source}` is not one condition", "write a condition without braces")
    calls, _ = _walk(tree, WHEN_NAMES, WHEN_FUNCTIONS)
    return Condition(source, calls, tree[0])


def as_text(condition: str) -> str:
    """A condition as the text that prints it."""
    return "{{ " + condition + " }}"


_PARSED: dict[str, list[Node]] = {}


def know(parsed: Mapping[str, list[Node]]) -> None:
    """Texts that were parsed before, each with its tree."""
    _PARSED.update(parsed)


def parser_files() -> tuple[Path, ...]:
    """The files that decide what the tree of a text is."""
    found = find_spec("jinja2")
    assert found is not None and found.origin is not None
    return Path(__file__), *(Path(found.origin).with_name(name) for name in ("parser.py", "lexer.py"))


def _tree(source: str) -> list[Node]:
    if len(source) > LONGEST_TEMPLATE:
        raise ClauseTextError(
            f"the clause has {len(source)} characters, at most {LONGEST_TEMPLATE}", "split it"
        )
    return _PARSED[source] if source in _PARSED else _parser()(source)


@cache
def _parser() -> Callable[[str], list[Node]]:
    """The parser: loaded for texts that were not parsed before."""
    from jinja2 import Environment, TemplateSyntaxError, nodes

    parser = Environment(autoescape=False)  # noqa: S701 - it only parses, and each format escapes for itself

    def tree(source: str) -> list[Node]:
        try:
            return body(parser.parse(source).body)
        except TemplateSyntaxError as error:
            raise ClauseTextError(f"template: {error.message}", "correct the braces") from error
        except RecursionError:
            raise ClauseTextError("the clause is nested too deeply", "leave out parentheses") from None

    def body(found: Iterable[nodes.Node]) -> list[Node]:
        parts = [part for one in found for part in (one.nodes if isinstance(one, nodes.Output) else (one,))]
        return [plain(part) for part in parts]

    def plain(node: nodes.Node) -> Node:
        match node:
            case nodes.TemplateData(data=value) | nodes.Const(value=value):
                return "words", value
            case nodes.Name(name=name):
                return "name", name
            case nodes.Call():
                return call(node)
            case nodes.Not():
                return "not", plain(node.node)
            case nodes.And() | nodes.Or():
                return type(node).__name__.lower(), plain(node.left), plain(node.right)
            case nodes.Compare():
                return "compare", plain(node.expr), [(one.op, plain(one.expr)) for one in node.ops]
            case nodes.CondExpr():
                last = ("words", "") if node.expr2 is None else plain(node.expr2)
                return "choice", plain(node.test), plain(node.expr1), last
            case nodes.If():
                branches = [("branch", plain(one.test), body(one.body)) for one in (node, *node.elif_)]
                return "if", branches, body(node.else_)
        return "other", type(node).__name__

    def call(node: nodes.Call) -> Node:
        words = [one.value if isinstance(one, nodes.Const) else None for one in node.args]
        sound = not (node.kwargs or node.dyn_args or node.dyn_kwargs)
        sound = sound and all(isinstance(one, str) for one in words)
        name = node.node.name if isinstance(node.node, nodes.Name) else "this"
        return "call", name, tuple(words) if sound else None

    return tree


def _walk(
    tree: Iterable[Node], names: frozenset[str], functions: frozenset[str]
) -> tuple[tuple[Call, ...], set[str]]:
    calls: list[Call] = []
    used: set[str] = set()

    def visit(node: Node) -> None:
        match node:
            case ("call", function, words):
                calls.append(_call(function, words, functions))
                return
            case ("name", name):
                if name not in names:
                    raise _unknown(name, names | functions)
                used.add(name)
            case ("words", value):
                if not isinstance(value, bool):
                    refuse_digits(str(value))
            case ("compare", _, signs) if any(sign not in _COMPARE for sign, _ in signs):
                raise ClauseTextError("words have no order", "compare with ==, != or in")
            case ("compare", first, signs) if any("in" in sign for sign, _ in signs) and not all(
                _is_words(one) for one in (first, *(other for _, other in signs))
            ):
                raise ClauseTextError(
                    "`in` looks for words in words", "compare with == or !=, or take it out"
                )
            case ("other", kind):
                raise ClauseTextError(f"`{kind}` is not allowed in a clause", "use words, values and if")
        for part in node[1:]:
            for one in part if isinstance(part, list) else (part,):
                if isinstance(one, tuple):
                    visit(one)

    for node in tree:
        visit(node)
    return tuple(calls), used


def _is_words(node: Node) -> bool:
    """Whether a node is words whatever the project is; a yes or no holds none."""
    match node:
        case ("words", value):
            return isinstance(value, str)
        case ("call", function, _):
            return function in TEXT_FUNCTIONS or function == "kind"
        case ("name", _):
            return True
    return False


def _call(function: str, words: tuple[str, ...] | None, functions: frozenset[str]) -> Call:
    if function not in functions:
        raise _unknown(function, functions)
    if words is None:
        raise ClauseTextError(f"`{function}` takes words in quotes", f"write {function}('…')")
    return Call(function, words)


def _unknown(name: str, choices: frozenset[str]) -> ClauseTextError:
    fix = suggestion(name, choices, f"known here: {', '.join(sorted(choices))}")
    return ClauseTextError(f"`{name}` is not known in a clause", fix)


def _written(body: Iterable[Node], context: Mapping[str, Any]) -> str:
    """The words of a template's nodes."""
    out: list[str] = []
    for node in body:
        if node[0] == "if":
            _, branches, last = node
            chosen = next((then for _, test, then in branches if _value(test, context)), last)
            out.append(_written(chosen, context))
        else:
            out.append(str(_value(node, context)))
    return "".join(out)


def _value(node: Node, context: Mapping[str, Any]) -> Any:
    """The value of one expression of those that :func:`_walk` lets pass."""
    match node[0]:
        case "words":
            return node[1]
        case "name":
            return _named(node[1], context)
        case "call":
            return _named(node[1], context)(*node[2])
        case "not":
            return not _value(node[1], context)
        case "and":
            return _value(node[1], context) and _value(node[2], context)
        case "or":
            return _value(node[1], context) or _value(node[2], context)
        case "compare":
            left = _value(node[1], context)
            for sign, other in node[2]:
                right = _value(other, context)
                if not _COMPARE[sign](left, right):
                    return False
                left = right
            return True
        case "choice":
            return _value(node[2] if _value(node[1], context) else node[3], context)
    raise AssertionError(f"{node[0]} is let pass and not evaluated")


def _named(name: str, context: Mapping[str, Any]) -> Any:
    if name not in context:
        raise ClauseTextError(f"'{name}' is undefined", "correct the clause")
    return context[name]


def refuse_digits(words: str) -> None:
    """Raise where a text holds a number that no requirement or practice value has brought.

    Raises:
        ClauseTextError: a bare number.
    """
    bare = re.search(r"\d", words) and re.search(r"\S*\d\S*", without_names(words))
    if bare:
        raise ClauseTextError(
            f"the number `{bare[0]}` is written into the clause",
            "state a requirement or print a practice value: {{ value('key') }}",
        )
