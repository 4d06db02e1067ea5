"""The hold-point checklist: what is inspected before it is covered, in the order of work."""

from __future__ import annotations

from collections.abc import Iterator

from specgen.field.frame import Alike, built_alike, field_words, paper, place_heading
from specgen.model.document import Block, Document, Para, Style, Table, text
from specgen.model.requirement import Requirement
from specgen.sections.form_text import FormText
from specgen.sections.words import joined, requirement_words
from specgen.specification import Specification
from specgen.units.quantity import Quantity

_WIDTHS = (0.05, 0.11, 0.11, 0.20, 0.29, 0.11, 0.13)


def hold_point_checklist(spec: Specification) -> Document:
    """One table for the parapets built alike: step, what is inspected, the limits to measure, who signs.

    Args:
        spec: the project as written.
    """
    words = field_words()
    walls = built_alike(spec.assessment)
    sources = dict.fromkeys(str(alike.sequence.hold_source) for alike in walls)
    blocks: list[Block] = [
        Para(Style.BODY, text(words("holds_note"))),
        *(Para(Style.NOTE, text(words("holds_source", source=source))) for source in sources),
    ]
    same: dict[tuple[tuple[str, ...], ...], list[str]] = {}
    for alike in walls:
        same.setdefault(_rows(spec, alike, words), []).extend(alike.names)
    for rows, names in same.items():
        blocks += _table(rows, tuple(names), words)
    return paper(spec.assessment.project, words, "holds_title", blocks, landscape=True)


def _table(rows: tuple[tuple[str, ...], ...], names: tuple[str, ...], words: FormText) -> Iterator[Block]:
    yield Para(Style.HEADING, text(place_heading(names, words)))
    if not rows:
        yield Para(Style.BODY, text(words("holds_none")))
        return
    yield Table(
        words.list("holds_columns"), rows, _WIDTHS, words("holds_caption", names=joined(names, "and"))
    )


def _rows(spec: Specification, alike: Alike, words: FormText) -> tuple[tuple[str, ...], ...]:
    rows = []
    measured: set[str] = set()  # a limit is measured once, at the first inspection of its part
    for number, step in enumerate(alike.sequence.steps, start=1):
        for hold in step.holds:
            part = alike.parapet.by_id(hold.component)
            new = part is not None and part.id not in measured
            limits = _limits(spec, alike, part.role, words) if part is not None and new else ""
            measured.add(hold.component)
            rows.append((str(number), step.component, hold.component, hold.look_for, limits, "", ""))
    return tuple(rows)


def _limits(spec: Specification, alike: Alike, role: str, words: FormText) -> str:
    """The limits of a role that are measured at the wall, each with a blank and its paragraph."""
    assessment, where = spec.assessment, spec.paragraphs
    measured = [
        one
        for one in assessment.requirements.by_id.values()
        if one.role == role and _is_measured(one) and alike.parapet.name in one.parapets and one.id in where
    ]
    return "; ".join(
        words(
            "measured",
            title=one.title,
            limit=requirement_words(one, assessment.practice, assessment.system),
            place=f"{where[one.id].section}, {where[one.id].number}",
        )
        for one in measured
    )


def _is_measured(one: Requirement) -> bool:
    return one.stage == "installation" and isinstance(one.limit.value, Quantity)
