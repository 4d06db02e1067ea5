"""Small wrong changes of a module, one at a time: what a tired hand might type, and a test should notice.

Left alone: docstrings, annotations, decorators, imports and `assert` (which tells the type checker something).
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass

_SWAPS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Div,
    ast.Mod: ast.FloorDiv, ast.Pow: ast.Mult, ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr,
}  # fmt: skip
_NAMES = {
    "min": "max", "max": "min", "any": "all", "all": "any", "startswith": "endswith", "endswith": "startswith",
    "lstrip": "rstrip", "rstrip": "lstrip", "lower": "upper", "upper": "lower", "floor": "ceil", "ceil": "floor",
    "partition": "rpartition", "rpartition": "partition", "fullmatch": "match", "match": "fullmatch",
}  # fmt: skip
_TYPES = (
    "Literal",
    "Callable",
    "Mapping",
    "Iterable",
    "Iterator",
    "tuple",
    "dict",
    "list",
    "frozenset",
    "set",
)
_UNTOUCHED = (ast.Import, ast.ImportFrom, ast.Assert)


@dataclass(frozen=True)
class Change:
    """One change of a syntax tree; ``line`` and ``where`` (a qualified name) tell a reader where."""

    parent: ast.AST
    slot: str
    place: int | None  # in a list of the parent
    old: ast.AST | None
    new: ast.AST | None  # None: taken out
    where: str
    line: int
    inside: bool  # in the body of a function, so that the function's code alone changes

    def made(self) -> None:
        """Change the tree in place."""
        if self.place is None:
            setattr(self.parent, self.slot, self.new)
        elif self.new is None:
            for slot in ("keys", "values") if isinstance(self.parent, ast.Dict) else (self.slot,):
                del getattr(self.parent, slot)[self.place]
        else:
            getattr(self.parent, self.slot)[self.place] = self.new

    @property
    def text(self) -> str:
        """``before -> after``."""
        return f"{_text(self.old)} -> {_text(self.new)}"


def _text(node: ast.AST | None) -> str:
    if node is None:
        return "(nothing)"
    if isinstance(node, ast.If | ast.While):
        return f"{'if' if isinstance(node, ast.If) else 'while'} {_text(node.test)}"
    text = " ".join(ast.unparse(node).split())
    return text if len(text) <= 100 else f"{text[:99]}…"


def changes(tree: ast.Module) -> Iterator[Change]:
    """Every change of a module, in the order of its text."""
    yield from _within(tree, "", inside=False)


def _within(parent: ast.AST, where: str, inside: bool) -> Iterator[Change]:
    for slot, value in ast.iter_fields(parent):
        if slot in ("annotation", "returns", "decorator_list", "type_params", "keys", "ctx"):
            continue
        in_body = inside or (slot == "body" and isinstance(parent, ast.FunctionDef | ast.Lambda))
        nodes = value if isinstance(value, list) else [value]
        for place, node in enumerate(nodes):
            if not isinstance(node, ast.AST) or isinstance(node, _UNTOUCHED) or _docstring(parent, node):
                continue
            at = place if isinstance(value, list) else None
            line = getattr(node, "lineno", getattr(parent, "lineno", 0))
            for new in _instead(node, parent, slot):
                yield Change(parent, slot, at, node, new, where, line, in_body)
            if _type_words(parent, slot):
                continue
            named = isinstance(node, ast.FunctionDef | ast.ClassDef)
            yield from _within(node, f"{where}.{node.name}".lstrip(".") if named else where, in_body)


def _docstring(parent: ast.AST, node: ast.AST) -> bool:
    return (
        isinstance(node, ast.Expr)
        and isinstance(node.value, ast.Constant)
        and isinstance(node.value.value, str)
    ) or (isinstance(parent, ast.Module) and isinstance(node, ast.Assign) and "__all__" in ast.unparse(node))


def _type_words(parent: ast.AST, slot: str) -> bool:
    """Whether a node only tells the type checker something, as the words of a ``Literal``."""
    return (
        isinstance(parent, ast.Subscript)
        and slot == "slice"
        and isinstance(parent.value, ast.Name)
        and parent.value.id in _TYPES
    )


def _instead(node: ast.AST, parent: ast.AST, slot: str) -> Iterator[ast.AST | None]:
    if _type_words(parent, slot):
        return
    if _taken_out(node, parent, slot):
        yield None
    for new in _others(node, parent):
        yield ast.fix_missing_locations(ast.copy_location(new, node))


def _taken_out(node: ast.AST, parent: ast.AST, slot: str) -> bool:
    """Whether a node is taken out of its list: an entry of a table, a condition, an argument with a name, a case."""
    match parent:
        case ast.Dict():
            return slot == "values"
        case ast.List() | ast.Tuple() | ast.Set():
            return isinstance(parent.elts, list) and len(parent.elts) >= 3 and isinstance(node, ast.expr)
        case ast.comprehension():
            return slot == "ifs"
        case ast.Call():
            return slot == "keywords"
        case ast.Match():
            return isinstance(node, ast.match_case) and len(parent.cases) > 1
    return False


def _others(node: ast.AST, parent: ast.AST) -> Iterator[ast.AST]:
    match node:
        case ast.Compare(ops=ops):
            for place, op in enumerate(ops):
                if type(op) in _SWAPS:
                    yield _with(node, ops=[*ops[:place], _SWAPS[type(op)](), *ops[place + 1 :]])
        case ast.BoolOp(values=values):
            for place in range(len(values)):
                rest = [*values[:place], *values[place + 1 :]]
                yield rest[0] if len(rest) == 1 else _with(node, values=rest)
        case ast.UnaryOp(op=ast.Not() | ast.USub(), operand=operand):
            yield operand
        case ast.BinOp(op=op) | ast.AugAssign(op=op) if type(op) in _SWAPS:
            yield _with(node, op=_SWAPS[type(op)]())
        case ast.If(test=test) | ast.While(test=test) | ast.IfExp(test=test):
            if not isinstance(test, ast.UnaryOp) and not _negated_by_swap(test):
                yield _with(node, test=ast.UnaryOp(ast.Not(), test))
        case ast.Constant(value=value):
            yield from _constants(value, parent)
        case ast.Return(value=value) if value is not None and not isinstance(value, ast.Constant):
            yield ast.Return(ast.Constant(None))
        case ast.Expr(value=ast.Call() | ast.Yield() | ast.YieldFrom()) | ast.Raise():
            yield ast.Pass()
        case ast.Continue():
            yield ast.Break()
        case ast.Break():
            yield ast.Continue()
        case ast.Name(id=name, ctx=ast.Load()) if name in _NAMES and isinstance(parent, ast.Call):
            yield _with(node, id=_NAMES[name])
        case ast.Attribute(attr=name, ctx=ast.Load()) if name in _NAMES and isinstance(parent, ast.Call):
            yield _with(node, attr=_NAMES[name])
        case ast.Slice(lower=lower, upper=upper):
            if lower is not None:
                yield _with(node, lower=None)
            if upper is not None:
                yield _with(node, upper=None)
    if isinstance(node, ast.AugAssign):
        yield ast.Assign([node.target], node.value)


def _negated_by_swap(test: ast.expr) -> bool:
    negated = ast.Eq | ast.NotEq | ast.Is | ast.IsNot | ast.In | ast.NotIn
    return isinstance(test, ast.Compare) and len(test.ops) == 1 and isinstance(test.ops[0], negated)


def _constants(value: object, parent: ast.AST) -> Iterator[ast.AST]:
    if isinstance(value, bool):
        yield ast.Constant(not value)
    elif isinstance(value, int | float):
        yield ast.Constant(value + 1)
    elif isinstance(value, str) and _of_strip(parent):
        yield ast.Constant("X")  # a set of characters, of which a longer one would take away the same
    elif isinstance(value, str) and not isinstance(parent, ast.MatchValue):
        yield ast.Constant(f"XX{value}XX" if value else "XX")


def _of_strip(parent: ast.AST) -> bool:
    return (
        isinstance(parent, ast.Call)
        and isinstance(parent.func, ast.Attribute)
        and parent.func.attr in ("strip", "lstrip", "rstrip")
    )


def _with(node: ast.AST, **fields: object) -> ast.AST:
    new = copy.copy(node)
    for name, value in fields.items():
        setattr(new, name, value)
    return new
