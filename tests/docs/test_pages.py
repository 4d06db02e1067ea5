"""``make docs`` writes every page that says a program writes it; each writer is there."""

from __future__ import annotations

import importlib
import re

import pytest

from tests.docs.pages import ROOT, WRITERS

BY_HAND = {  # held by tests/test_api.py, which runs its blocks, tests/docs/test_page_safety.py, tests/docs/test_manual.py
    "docs/index.md",
    "docs/python.md",
    "docs/page-safety.md",
    "docs/windows.md",
    "docs/conventions.md",
}


def test_every_written_page_is_known_and_says_its_writer() -> None:
    found = [*(ROOT / "docs").glob("*.md"), *(ROOT / "docs" / "json").glob("*.md")]
    pages = {path.relative_to(ROOT).as_posix() for path in found}
    assert pages == {*WRITERS, *BY_HAND} - {"README.md"}
    for name in pages - BY_HAND:
        (writers,) = re.findall(
            r"ritten by `(?:python (-m) )?([\w./]+)`", (ROOT / name).read_text("utf-8").partition("\n## ")[0]
        )
        assert tuple(word for word in writers if word) == WRITERS[name], name


@pytest.mark.parametrize("name", [name for name, words in WRITERS.items() if words[0] == "-m"])
def test_a_writer_writes_the_page_it_is_listed_for(name: str) -> None:
    module = importlib.import_module(WRITERS[name][1])
    assert ROOT / name == (module.README if name == "README.md" else module.PAGE)
