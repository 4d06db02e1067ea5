"""The waivers in force, as every document lists them: which rule, where, who, when, why, until when."""

from __future__ import annotations

from dataclasses import asdict, dataclass

from specgen.assessment import Assessment
from specgen.model.document import Block, Para, Style, Table, text
from specgen.model.finding import Outcome
from specgen.model.project import Waiver

TITLE = "Waivers in Force"
HEADER = ("Rule", "Where", "Accepted by", "Date", "Reason", "Until")
WIDTHS = (0.24, 0.14, 0.16, 0.1, 0.26, 0.1)
EVERYWHERE = "all parapets"
NO_END = "no end stated"


@dataclass(frozen=True)
class WaiverRow:
    """One waiver in force, in words."""

    rule: str  # code and name
    where: str
    by: str
    date: str  # ISO
    reason: str
    until: str  # ISO, or that no end is stated

    def as_json(self) -> dict[str, str]:
        """The row as plain data."""
        return asdict(self)

    @property
    def cells(self) -> tuple[str, ...]:
        """The row as a table prints it, in the order of the header."""
        return (self.rule, self.where, self.by, self.date, self.reason, self.until)


def waiver_rows(assessment: Assessment) -> tuple[WaiverRow, ...]:
    """The waivers that waive a finding and have not ended at the issue date, in the order of the project file."""
    names = {one.code: one.name for one in assessment.findings if one.outcome is Outcome.WAIVED}
    return tuple(
        WaiverRow(
            rule=f"{one.rule} {names[one.rule]}",
            where=_where(one, assessment),
            by=one.word("by") or "",
            date=str(one.values["date"]),
            reason=one.word("reason") or "",
            until=str(one.values.get("until", NO_END)),
        )
        for one in assessment.waivers_in_force
    )


def waiver_blocks(assessment: Assessment, heading: Style = Style.HEADING) -> tuple[Block, ...]:
    """The list of the waivers in force as blocks of a document.

    Args:
        assessment: the project with its findings.
        heading: the style of the list's heading, by the place it takes in the document.

    Returns:
        A heading and a table of one row a waiver; nothing where no waiver is in force.
    """
    rows = tuple(row.cells for row in waiver_rows(assessment))
    if not rows:
        return ()
    return (Para(heading, text(TITLE)), Table(HEADER, rows, WIDTHS, TITLE))


def _where(waiver: Waiver, assessment: Assessment) -> str:
    """The parapet, and the limit where the waiver accepts one of the office file."""
    parapet = EVERYWHERE if waiver.parapet == "all" else waiver.parapet
    key = waiver.word("limit")
    return f"{parapet}, {assessment.practice.entry(key).title}" if key else parapet
