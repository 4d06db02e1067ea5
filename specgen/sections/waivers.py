"""The waivers and answers in force, as every document lists them: which rule, where, who, when, what, until when."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from specgen.assessment import Assessment
from specgen.model.document import Block, Para, Style, Table, text
from specgen.model.project import Decision

TITLE = "Waivers in Force"
HEADER = ("Requirement", "Where", "Accepted by", "Date", "Reason", "Until")
WIDTHS = (0.24, 0.14, 0.16, 0.1, 0.26, 0.1)
EVERYWHERE = "all parapets"
NO_END = "no end stated"
ANSWERS = "Answers Where No Rule Covers"
ANSWERS_HEADER = ("Requirement", "Where", "Answered by", "Date", "Answer", "Reference")


@dataclass(frozen=True)
class DecisionRow:
    """One waiver or answer in force, in words."""

    rule: str  # code and name, for the reviewer
    requirement: str  # what the rule asks for, as a sentence
    where: str
    by: str
    date: str  # ISO
    words: str  # why it is accepted, or what the answer is
    last: str  # of a waiver: its last day, ISO, or that no end is stated; of an answer: what it rests on

    @property
    def cells(self) -> tuple[str, ...]:
        """The row as papers print it, in the order of the header."""
        return (self.requirement, self.where, self.by, self.date, self.words, self.last)


def waiver_rows(assessment: Assessment) -> tuple[DecisionRow, ...]:
    """The waivers that waive a finding and have not ended at the issue date, in the order of the project file."""
    return _rows(assessment, assessment.waivers_in_force)


def answer_rows(assessment: Assessment) -> tuple[DecisionRow, ...]:
    """The answers to what no rule covers, in the order of the project file."""
    return _rows(assessment, assessment.answers_in_force)


def _rows(assessment: Assessment, decisions: Iterable[Decision]) -> tuple[DecisionRow, ...]:
    rules = {one.code: one for one in assessment.findings}
    return tuple(
        DecisionRow(
            rule=f"{one.rule} {rules[one.rule].name}",
            requirement=rules[one.rule].title,
            where=_where(one, assessment),
            by=one.word("by") or "",
            date=str(one.values["date"]),
            words=one.word("reason") or one.word("answer") or "",
            last=one.word("reference") or str(one.values.get("until", NO_END)),
        )
        for one in decisions
    )


def waiver_blocks(assessment: Assessment, heading: Style = Style.HEADING) -> tuple[Block, ...]:
    """The lists of the waivers and answers in force as blocks of a document.

    Args:
        assessment: the project with its findings.
        heading: the style of the lists' headings, by the place they take in the document.

    Returns:
        For each list that has a row, a heading and a table of one row a decision.
    """
    blocks: list[Block] = []
    for title, header, rows in (
        (TITLE, HEADER, waiver_rows(assessment)),
        (ANSWERS, ANSWERS_HEADER, answer_rows(assessment)),
    ):
        if rows:
            table = Table(header, tuple(row.cells for row in rows), WIDTHS, title)
            blocks += [Para(heading, text(title)), table]
    return tuple(blocks)


def _where(waiver: Decision, assessment: Assessment) -> str:
    """The parapet, and the limit where the waiver accepts one of the office file."""
    parapet = EVERYWHERE if waiver.parapet == "all" else waiver.parapet
    key = waiver.word("limit")
    return f"{parapet}, {assessment.practice.entry(key).title}" if key else parapet
