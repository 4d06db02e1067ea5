"""Dates and numbers of a submittal that cannot be, the deviations it declares, and its answers to a review."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.intake.submittal import load_submission
from specgen.practice.load import load_practice
from tests.chain.runs import CONFORMING, Done, run

PRODUCT = "products: [{role: lath, name: Lath L}]\n"


def paper(folder: Path, head: str, more: str = "") -> Path:
    path = folder / "s.yaml"
    path.write_text(
        f'format: 2\nsubmittal: {{number: "1", project: "2601"{head}}}\n{PRODUCT}{more}', encoding="utf-8"
    )
    return path


def reviewed(folder: Path, head: str, more: str = "") -> Done:
    return run("review", CONFORMING, paper(folder, head, more), "-o", folder / "out")


@pytest.mark.parametrize(
    ("head", "words"),
    [
        (", round: 0", "`round`: `0` cannot be"),
        (", round: first", "`round` is `first`, a whole number is wanted"),
        (
            ", date: 2026-11-20, returned: 2026-11-19",
            "returned on 2026-11-19, before it was received on 2026-11-20",
        ),
        (", date: 0206-11-20", "0206-11-20 cannot be"),
    ],
)
def test_a_date_or_round_that_cannot_be_is_refused_at_its_place(
    tmp_path: Path, head: str, words: str
) -> None:
    done = reviewed(tmp_path, head)
    assert done.status == 2 and words in done.err and "s.yaml:2:" in done.err


def test_a_receipt_that_is_still_to_come_or_before_the_documents_is_told(tmp_path: Path) -> None:
    """`received 2031-01-01` went into the letter without a word."""
    late = reviewed(tmp_path, ", date: 2091-01-01")
    assert "s.yaml:2:" in late.err and "received on 2091-01-01, which is still to come" in late.err
    early = reviewed(tmp_path, ", date: 2026-10-01")
    assert "before the issue of 2026-11-02 that it is held against" in early.err
    assert reviewed(tmp_path, ", date: 2026-11-02").err == ""


def test_each_round_has_a_letter_of_its_own(tmp_path: Path) -> None:
    reviewed(tmp_path, "")
    reviewed(tmp_path, ", round: 2")
    names = {path.name for path in (tmp_path / "out").glob("*.docx")}
    assert names == {"review-1.docx", "review-1-round-2.docx"}


def test_deviations_and_answers_are_read(tmp_path: Path) -> None:
    more = "deviations: [Slope as shop drawing 3]\nanswers:\n  - {comment: 2, answer: report attached}\n"
    found = load_submission(paper(tmp_path, ", round: 2", more), load_practice())
    assert found.deviations == ("Slope as shop drawing 3",) and found.round == 2
    assert found.answers == {2: "report attached"}
    assert load_submission(paper(tmp_path, ""), load_practice()).round == 1


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ("answers: sent\n", "`answers` holds no list of answers"),
        ("answers: [{comment: first, answer: x}]\n", "names no comment"),
        ("answers: [{comment: 1, answer: x}, {comment: 1, answer: y}]\n", "answered twice"),
        ("answers: [{comment: 1}]\n", "comment 1 has no answer"),
        ("deviations: {a: b}\n", "`deviations` is no list of texts"),
    ],
)
def test_what_is_no_answer_is_refused(tmp_path: Path, more: str, words: str) -> None:
    done = reviewed(tmp_path, "", more)
    assert done.status == 2 and words in done.err
