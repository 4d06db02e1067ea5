"""The responsibility matrix: every part with its trade, every joint with its one owner."""

from __future__ import annotations

from collections.abc import Iterator

from specgen.assessment import Assessment
from specgen.field.frame import Alike, built_alike, field_words, paper, place_heading
from specgen.model.document import Block, Document, Para, Style, Table, text
from specgen.practice.entries import Practice
from specgen.sections.form_text import FormText
from specgen.sections.words import joined

_PART_WIDTHS = (0.07, 0.25, 0.34, 0.12, 0.22)
_JOINT_WIDTHS = (0.40, 0.21, 0.21, 0.18)


def responsibility_matrix(assessment: Assessment) -> Document:
    """Parts by trade and joints by owner, a table each for the parapets where they are the same."""
    words = field_words()
    walls = built_alike(assessment)
    blocks: list[Block] = [Para(Style.BODY, text(words("trades_note")))]
    parts: dict[tuple[tuple[str, ...], ...], list[str]] = {}
    for alike in walls:
        parts.setdefault(_part_rows(alike, assessment.practice), []).extend(alike.names)
    for rows, names in parts.items():
        blocks += _table("parts", tuple(names), rows, _PART_WIDTHS, words)
    for places, joints in _joints(walls).items():
        blocks += _table("joints", places, tuple(joints), _JOINT_WIDTHS, words)
    return paper(assessment.project, words, "trades_title", blocks)


def _joints(walls: tuple[Alike, ...]) -> dict[tuple[str, ...], list[tuple[str, ...]]]:
    """The joints by the parapets that have them: what all share is said once."""
    places: dict[tuple[str, ...], list[str]] = {}
    for alike in walls:
        for joint in alike.joints:
            places.setdefault((joint.words, joint.owner, joint.prepares, ""), []).extend(alike.names)
    found: dict[tuple[str, ...], list[tuple[str, ...]]] = {}
    for row, names in places.items():
        found.setdefault(tuple(names), []).append(row)
    return found


def _part_rows(alike: Alike, practice: Practice) -> tuple[tuple[str, ...], ...]:
    """The parts in the order of work; parapets that differ in their joints alone have the same."""
    rows = []
    for number, step in enumerate(alike.sequence.steps, start=1):
        part = alike.parapet.by_id(step.component)
        if part is not None:
            role = practice.vocabulary.roles[part.role]
            kind = practice.kind(part.role, part.kind).title
            rows.append((str(number), part.id, kind, role.section, step.trade))
    return tuple(rows)


def _table(
    what: str,
    names: tuple[str, ...],
    rows: tuple[tuple[str, ...], ...],
    widths: tuple[float, ...],
    words: FormText,
) -> Iterator[Block]:
    place = place_heading(names, words)
    yield Para(Style.HEADING, text(f"{words(f'trades_{what}_heading')}: {place[:1].lower()}{place[1:]}"))
    caption = words(f"trades_{what}_caption", names=joined(names, "and"))
    yield Table(words.list(f"trades_{what}_columns"), rows, widths, caption)
