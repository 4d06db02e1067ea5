"""The hold-point checklist: what is inspected before it is covered, in the order of work."""

from __future__ import annotations

from collections.abc import Iterator

from specgen.field.frame import Alike, built_alike, field_words, paper, place_heading
from specgen.model.document import Block, Document, Para, Style, Table, text
from specgen.model.requirement import Requirement
from specgen.paths.sequence import Hold
from specgen.sections.existing import HOLDS, holds_of
from specgen.sections.form_text import FormText
from specgen.sections.words import joined, requirement_words
from specgen.specification import Specification
from specgen.units.quantity import Quantity, row_of
from specgen.units.show import printed

_WIDTHS = (0.05, 0.11, 0.11, 0.20, 0.29, 0.11, 0.13)


def hold_point_checklist(spec: Specification) -> Document:
    """One table for the parapets built alike: step, what is inspected, the limits to measure, who signs.

    Args:
        spec: the project as written.
    """
    words = field_words()
    alikes, practice = built_alike(spec.assessment), spec.assessment.practice
    standing = [practice.source(f"table {HOLDS}") for one in alikes if holds_of(one.parapet, practice)]
    sources = dict.fromkeys(one.named for one in (*standing, *(one.sequence.hold_source for one in alikes)))
    blocks: list[Block] = [
        Para(Style.BODY, text(words("holds_note"))),
        *(Para(Style.NOTE, text(words("holds_source", source=source))) for source in sources),
    ]
    for rows, names in hold_lines(spec, words).items():
        blocks += _table(rows, tuple(names), words)
    return paper(spec.assessment.project, words, "holds_title", blocks, landscape=True)


def hold_lines(spec: Specification, words: FormText) -> dict[tuple[tuple[str, ...], ...], list[str]]:
    """The lines to sign, each set of them with the parapets it holds for."""
    same: dict[tuple[tuple[str, ...], ...], list[str]] = {}
    for alike in built_alike(spec.assessment):
        same.setdefault(_rows(spec, alike, words), []).extend(alike.names)
    return same


def _table(rows: tuple[tuple[str, ...], ...], names: tuple[str, ...], words: FormText) -> Iterator[Block]:
    yield Para(Style.HEADING, text(place_heading(names, words)))
    if not rows:
        yield Para(Style.BODY, text(words("holds_none")))
        return
    yield Table(
        words.list("holds_columns"), rows, _WIDTHS, words("holds_caption", names=joined(names, "and"))
    )


def _rows(spec: Specification, alike: Alike, words: FormText) -> tuple[tuple[str, ...], ...]:
    rows: list[tuple[str, ...]] = []
    for standing in holds_of(alike.parapet, spec.assessment.practice):
        named = (str(standing[one]) for one in ("before", "inspect", "look_for"))
        rows.append((words("standing_step"), *named, "", "", ""))
    measured: set[str] = set()  # a limit is measured once, at the first inspection of its part
    for number, step in enumerate(alike.sequence.steps, start=1):
        first = _limits(spec, alike, step.component, words, before=True)
        for hold in step.holds or ([Hold("", words("before_look"))] if first else []):
            own = "" if hold.component in measured else _limits(spec, alike, hold.component, words)
            measured.add(hold.component)
            limits = "\n".join(filter(None, (first, own)))
            inspected = hold.component or words("before_inspect")
            rows.append((str(number), step.component, inspected, hold.look_for, limits, "", ""))
            first = ""
    return tuple(rows)


def _limits(spec: Specification, alike: Alike, layer: str, words: FormText, before: bool = False) -> str:
    """The limits of a layer that are measured at the wall, each with a blank and its paragraph.

    Args:
        spec: the project as written.
        alike: the parapets.
        layer: the component.
        words: of the paper.
        before: those measured before the layer goes on, or those measured on the layer.
    """
    assessment, where, part = spec.assessment, spec.paragraphs, alike.parapet.by_id(layer)
    measured = [
        one
        for one in assessment.requirements.by_id.values()
        if part is not None
        and one.role == part.role
        and one.measured_before is before
        and _is_measured(one)
        and alike.parapet.name in one.parapets
        and one.id in where
    ]
    return "\n".join(
        words(
            "measured",
            title=one.title,
            unit=_unit(one),
            limit=requirement_words(one, assessment.practice, assessment.system),
            place=f"{where[one.id].section}, {where[one.id].number}",
        )
        for one in measured
    )


def _unit(one: Requirement) -> str:
    """The unit of a limit, for the blank; "" for a count."""
    assert isinstance(one.limit.value, Quantity)
    unit = printed(row_of(one.limit.value), plural=True)
    return f"{unit} " if unit else ""


def _is_measured(one: Requirement) -> bool:
    return one.stage == "installation" and isinstance(one.limit.value, Quantity)
