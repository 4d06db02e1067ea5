"""The hold-point checklist: what is inspected before it is covered, in the order of work."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial

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
        first = _limits(spec, alike, step.component, words, lambda one: one.measured_before)
        for hold in step.holds or ([Hold("", words("before_look"))] if first else []):
            due = partial(_is_due, new=hold.component not in measured, named=hold.measured)
            measured.add(hold.component)
            own = _limits(spec, alike, hold.component, words, due)
            limits = "\n".join((*first, *own, *_as_tested(spec, alike, hold, words)))
            inspected = hold.component or words("before_inspect")
            rows.append((str(number), step.component, inspected, hold.look_for, limits, "", ""))
            first = ()
    return tuple(rows)


def _is_due(one: Requirement, *, new: bool, named: Iterable[str]) -> bool:
    """Whether a limit is measured at an inspection: the first of its part, or one that names the attribute."""
    return (new and one.stage == "installation" and not one.measured_before) or one.attribute in named


def _limits(
    spec: Specification, alike: Alike, layer: str, words: FormText, due: Callable[[Requirement], bool]
) -> tuple[str, ...]:
    """The limits of a layer that are measured at the wall, each with a blank and its paragraph.

    Args:
        spec: the project as written.
        alike: the parapets.
        layer: the component.
        words: of the paper.
        due: those that are measured at this inspection.
    """
    assessment, where, part = spec.assessment, spec.paragraphs, alike.parapet.by_id(layer)
    measured = [
        one
        for one in assessment.requirements.by_id.values()
        if part is not None
        and one.role == part.role
        and one.holds_at(alike.parapet.name, part.id)
        and isinstance(one.limit.value, Quantity)
        and due(one)
        and one.id in where
    ]
    return tuple(
        words(
            "measured",
            title=one.title,
            unit=_unit(one),
            limit=requirement_words(one, assessment.practice, assessment.system),
            place=f"{where[one.id].section}, {where[one.id].number}",
        )
        for one in measured
    )


def _as_tested(spec: Specification, alike: Alike, hold: Hold, words: FormText) -> Iterator[str]:
    """What is measured against the accepted test report, where no requirement has a number for it."""
    part, practice = alike.parapet.by_id(hold.component), spec.assessment.practice
    for attribute in hold.measured if part is not None else ():
        assert part is not None
        clause = words.texts["as_tested"].get(f"{part.role} {attribute}", "")
        for one in spec.printed(alike.parapet.name, practice.vocabulary.roles[part.role].section, clause):
            yield words(
                "measured",
                title=words("film"),
                unit=f"{words.texts['film_units'][spec.assessment.system]} ",
                limit=words("film_limit"),
                place=f"{one.ref.section}, {one.ref.number}",
            )


def _unit(one: Requirement) -> str:
    """The unit of a limit, for the blank; "" for a count."""
    assert isinstance(one.limit.value, Quantity)
    unit = printed(row_of(one.limit.value), plural=True)
    return f"{unit} " if unit else ""
