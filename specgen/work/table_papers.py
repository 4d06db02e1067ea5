"""The rows of papers: the register, the submittals with their products and verdicts, what was accepted."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from pathlib import Path

from specgen.intake.accepted import FILE_NAME, load_accepted
from specgen.model.sheet import Cell
from specgen.model.submission import Submission
from specgen.model.tables import TableCell
from specgen.register.columns import ID
from specgen.register.merge import Row
from specgen.sections.checklist import EVERYWHERE
from specgen.sections.words import joined
from specgen.work.table_facts import Cells, TableFacts
from specgen.work.table_list import BY_NAME

REGISTER_CELLS: Mapping[str, str] = {  # columns of the tables by those of the register
    "waiting": "waiting_for",
    "days": "days_in_review",
    "late": "days_late",
    "before": "before_placing",
    "submit": "submit_by",
    "needed": "returned_by",
    "where": "where_text",
    "by": "reviewed_by",
    ID: "row_id",
}
COUNTS = ("days_in_review", "days_late", "open_comments")
DAYS = ("submit_by", "returned_by", "agreed", "received", "returned")


def _register(facts: TableFacts) -> Iterator[Cells]:
    for position, row in enumerate(facts.register.rows.values(), start=1):
        yield _register_cells("register", row, position)


def _register_rounds(facts: TableFacts) -> Iterator[Cells]:
    for position, row in enumerate(facts.register.history, start=1):
        yield _register_cells("register_rounds", row, position)


def _register_cells(table: str, row: Row, position: int) -> Cells:
    given = {REGISTER_CELLS.get(name, name): value for name, value in row.items()}
    found: Cells = {name: _register_cell(name, given.get(name)) for name in BY_NAME[table].names}
    return {**found, "position": position}


def _register_cell(name: str, value: Cell) -> TableCell:
    if name in COUNTS:
        return value if isinstance(value, int) else None
    if name in DAYS:
        return value.isoformat() if isinstance(value, date) else None
    return "" if value is None else str(value)


def _day(submission: Submission, key: str) -> str | None:
    day = submission.info.values.get(key)
    return day.isoformat() if isinstance(day, date) else None


def _submittals(facts: TableFacts) -> Iterator[Cells]:
    for submission, _ in facts.reviewed:
        yield {
            "file": Path(submission.path).name,
            "submittal": submission.info.word("number") or "",
            "round": str(submission.round),
            "received": _day(submission, "date"),
            "returned": _day(submission, "returned"),
        }


def _products(facts: TableFacts) -> Iterator[Cells]:
    for submission, reviews in facts.reviewed:
        for position, one in enumerate(reviews, start=1):
            product = one.product
            yield {
                "file": Path(submission.path).name,
                "product": position,
                "role": product.role,
                "name": product.name,
                "maker": product.maker,
                "kind": product.kind,
                "where_text": joined(product.parapets, "and") if product.parapets else EVERYWHERE,
                "recommendation": one.recommendation.value,
                "why": one.why,
            }


def _verdicts(facts: TableFacts) -> Iterator[Cells]:
    for submission, reviews in facts.reviewed:
        for product, review in enumerate(reviews, start=1):
            for position, one in enumerate(review.verdicts, start=1):
                yield {
                    "file": Path(submission.path).name,
                    "product": product,
                    "position": position,
                    "requirement": one.requirement.id,
                    "limit_text": one.limit,
                    "result": one.result.value,
                    "submitted": one.submitted,
                    "reason": one.reason,
                    "cure": one.cure,
                    "margin": one.margin,
                    "evidence": one.evidence,
                    "section": one.section,
                    "paragraph": one.paragraph,
                }


def _accepted(facts: TableFacts) -> Iterator[Cells]:
    path = Path(facts.inputs.project.path).parent / FILE_NAME
    found = load_accepted(path, facts.inputs.practice) if path.exists() else ()
    for position, one in enumerate(found, start=1):
        yield {
            "position": position,
            "paper": one.paper,
            "file": one.file,
            "accepted": one.date.isoformat(),
            "accepted_by": one.word("by") or "",
            "result": one.word("result") or "",
            "note": one.word("note") or "",
        }


PAPER_ROWS: Mapping[str, Callable[[TableFacts], Iterator[Cells]]] = {
    "register": _register,
    "register_rounds": _register_rounds,
    "submittals": _submittals,
    "products": _products,
    "verdicts": _verdicts,
    "accepted": _accepted,
}
