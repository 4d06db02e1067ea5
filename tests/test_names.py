"""Names and docstrings: data are named for what they are, no identifier holds `said` or `told`; one docstring layout."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

HERE = Path(__file__).parents[1]
WORD = re.compile(r"(?:^|_)(?:un)?(?:said|told)(?:$|[_\d])", re.IGNORECASE)
NAME = {
    ast.FunctionDef: "name",
    ast.ClassDef: "name",
    ast.Name: "id",
    ast.Attribute: "attr",
    ast.arg: "arg",
    ast.keyword: "arg",
    ast.alias: "asname",
    ast.MatchAs: "name",
}


def bad_names(source: str) -> Iterator[tuple[int, str]]:
    """The identifiers that name data for having been said, each with its line; the sentence of a test is none."""
    for node in ast.walk(ast.parse(source)):
        name = getattr(node, NAME.get(type(node), ""), None) or ""
        words = re.sub(r"(?<=[a-z])(?=[A-Z])", "_", name)
        if not name.startswith("test_") and WORD.search(words):
            yield node.lineno, name


def test_no_identifier_says_said_or_told() -> None:
    found = [
        f"{path.relative_to(HERE)}:{line}: {name}"
        for folder in ("specgen", "tests", "benchmarks", "docs")
        for path in sorted((HERE / folder).rglob("*.py"))
        for line, name in bad_names(path.read_text("utf-8"))
    ]
    assert not found


def test_each_kind_of_name_is_looked_at() -> None:
    source = (
        "def told_of(said=1): pass\n"
        "class _Told: pass\n"
        "import os as told\n"
        "f(said=x.told)\n"
        "match x:\n    case [said]: pass\n"
        "def test_it_is_told(): toldo = unsaid = 1\n"
    )
    assert [name for _, name in sorted(bad_names(source))] == [
        "said", "told_of", "_Told", "told", "said", "told", "said", "unsaid",
    ]  # fmt: skip


def test_docstrings_have_one_layout() -> None:
    """Args, Returns and Raises with a colon; nothing is underlined."""
    underlined = [
        f"{path.relative_to(HERE)}:{node.body[0].lineno}"
        for path in sorted((HERE / "specgen").rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
        and re.search(r"^ *-{3,}$", ast.get_docstring(node) or "", re.MULTILINE)
    ]
    assert not underlined
