"""Names that a person numbers, of components and places, are no values: every paper is written with them."""

from __future__ import annotations

from pathlib import Path

from specgen.model.document import Para, Span
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from specgen.work.lint_issue import lint_issue
from tests.chain.runs import CONFORMING, copied

SECOND = "      - {role: bridging tape, id: tape 2, kind: butyl tape, rolled: yes}\n      - role: cleat\n"


def test_an_issue_with_numbered_names_is_written(tmp_path: Path) -> None:
    folder = copied(CONFORMING, tmp_path / "project", ("      - role: cleat\n", SECOND))
    issue = specify(read_inputs(folder, None, False).assessed())
    printed = [
        span.text
        for section in issue.sections
        for para in section.document.blocks
        if isinstance(para, Para)
        for span in para.content
        if isinstance(span, Span)
    ]
    assert any("tape 2" in words for words in printed)
    assert lint_issue(issue) == ()
