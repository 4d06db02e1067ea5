"""The responsibility matrix: every part with its trade, every joint with its one owner."""

from __future__ import annotations

from collections.abc import Iterator

from specgen.assessment import Assessment
from specgen.field.frame import Alike, built_alike, field_words, paper
from specgen.model.document import Block, Document, Para, Style, Table, text
from specgen.practice.entries import Practice
from specgen.sections.form_text import FormText

_PART_WIDTHS = (0.07, 0.25, 0.34, 0.12, 0.22)
_JOINT_WIDTHS = (0.40, 0.21, 0.21, 0.18)


def responsibility_matrix(assessment: Assessment) -> Document:
    """Two tables for the parapets built alike: parts by trade, joints by owner."""
    words = field_words()
    blocks: list[Block] = [Para(Style.BODY, text(words("trades_note")))]
    for alike in built_alike(assessment):
        blocks += _tables(alike, assessment.practice, words)
    return paper(assessment.project, words, "trades_title", blocks)


def _tables(alike: Alike, practice: Practice, words: FormText) -> Iterator[Block]:
    yield Para(Style.HEADING, text(words("where", names=alike.words)))
    yield Para(Style.SUBHEADING, text(words("trades_parts_heading")))
    rows = []
    for number, step in enumerate(alike.sequence.steps, start=1):
        part = alike.parapet.by_id(step.component)
        if part is not None:
            role = practice.vocabulary.roles[part.role]
            kind = practice.kind(part.role, part.kind).title
            rows.append((str(number), part.id, kind, role.section, step.trade))
    yield Table(
        words.list("trades_parts_columns"),
        tuple(rows),
        _PART_WIDTHS,
        words("trades_parts_caption", names=alike.words),
    )
    if not alike.joints:
        return
    yield Para(Style.SUBHEADING, text(words("trades_joints_heading")))
    yield Table(
        words.list("trades_joints_columns"),
        tuple((joint.words, joint.owner, joint.prepares, "") for joint in alike.joints),
        _JOINT_WIDTHS,
        words("trades_joints_caption", names=alike.words),
    )
