"""Everything printed as JSON is made by the one encoder: nobody maps a record to a dict by hand."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import specgen

PACKAGE = Path(specgen.__file__).parent
PRINTERS = ("echo_json", "print_json", "dumps", "dump", "json_bytes")
MAPPERS = {  # functions named as mappers, with the reason why they may stay
    "commands/common.py echo_json": "prints, by the encoder",
    "commands/common.py print_json": "prints",
    "files/writing.py _json": "the manifest",
    "sections/issue.py issue_json": "issue.json is read back, also as earlier programs wrote it: a format of its own",
    "sections/issue.py document_json": "as issue_json",
    "sections/issue.py _block_json": "as issue_json",
}
BY_HAND = {  # functions that hand a dict to a printer, with the reason
    "commands/common.py echo_json": "the heading above the encoded record",
    "commands/audit_print.py audit_bytes": "the heading above the encoded record",
    "intake/datasheet/child.py ask": "one line to the process that reads data sheets",
    "files/json_text.py _write": "spells a key that is not text as the library does; what it prints is handed to it",
}


def functions() -> Iterator[tuple[str, ast.FunctionDef]]:
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.FunctionDef):
                yield f"{path.relative_to(PACKAGE).as_posix()} {node.name}", node


def by_hand(function: ast.FunctionDef) -> bool:
    """Whether a printer is handed a dict that is written out here, or a name that was given one here."""
    named = {
        target.id
        for node in ast.walk(function)
        if isinstance(node, ast.Assign | ast.AnnAssign) and isinstance(node.value, ast.Dict | ast.DictComp)
        for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
        if isinstance(target, ast.Name)
    }
    for node in ast.walk(function):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            for given in node.args if name in PRINTERS else ():
                if any(isinstance(one, ast.Dict | ast.DictComp) for one in ast.walk(given)):
                    return True
                if isinstance(given, ast.Name) and given.id in named:
                    return True
    return False


def test_no_mapper_by_hand_is_left() -> None:
    found = {place for place, node in functions() if node.name.endswith("_json") or "as_plain" in node.name}
    assert found == set(MAPPERS)


def test_no_printer_is_handed_a_dict_made_by_hand() -> None:
    assert {place for place, node in functions() if by_hand(node)} == set(BY_HAND)


def test_a_dict_made_by_hand_is_seen() -> None:
    (one,) = ast.parse('def f(x):\n    content = {"a": x}\n    content["b"] = 1\n    echo_json(content)').body
    other, good = ast.parse('def f(x):\n    print_json({"a": x})\ndef g(x):\n    echo_json(Found(x))').body
    assert isinstance(one, ast.FunctionDef) and by_hand(one)
    assert isinstance(other, ast.FunctionDef) and by_hand(other)
    assert isinstance(good, ast.FunctionDef) and not by_hand(good)
