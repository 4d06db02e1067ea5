"""The agenda of the preinstallation conference: who attends, and what this wall leaves to settle."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import zip_longest

from specgen.assessment import Assessment
from specgen.field.frame import Alike, built_alike, field_words, paper
from specgen.field.hold_points import hold_lines
from specgen.field.tests_plan import test_paragraphs
from specgen.model.document import Block, Document, Para, Style, Table, text
from specgen.model.folded import folded
from specgen.model.requirement import Requirement
from specgen.sections import division
from specgen.sections.build import ParagraphRef
from specgen.sections.existing import holds_of
from specgen.sections.form_text import FormText
from specgen.sections.words import capital, joined, parapets_in_words, requirement_words, without_keys
from specgen.specification import Specification
from specgen.units.counted import many

_ATTEND_WIDTHS = (0.28, 0.22, 0.28, 0.22)
_AGENDA_WIDTHS = (0.05, 0.15, 0.68, 0.12)
Item = tuple[str, str]  # what it is about, what to settle


def conference_agenda(spec: Specification) -> Document:
    """The agenda: attendance by trade, and one line a matter.

    The order of work, laps, primers, weather limits, tests, hold points, and every finding that waits for an answer.

    Args:
        spec: the project as written; tests and limits are named by their paragraphs.
    """
    words = field_words()
    alike = built_alike(spec.assessment)
    items = tuple(_items(spec, alike, words))
    blocks: tuple[Block, ...] = (
        Para(Style.HEADING, text(words("conference_attend_heading"))),
        Table(
            words.list("conference_attend_columns"),
            _two_a_line((*words.list("conference_others"), *_trades(alike, words))),
            _ATTEND_WIDTHS,
            words("conference_attend_caption"),
        ),
        Para(Style.HEADING, text(words("conference_agenda_heading"))),
        Table(
            words.list("conference_agenda_columns"),
            tuple((str(number), about, what, "") for number, (about, what) in enumerate(items, start=1)),
            _AGENDA_WIDTHS,
            words("conference_agenda_caption"),
        ),
    )
    return paper(spec.assessment.project, words, "conference_title", blocks)


def _two_a_line(names: tuple[str, ...]) -> tuple[tuple[str, str, str, str], ...]:
    """Two names a line, down the left side first, each with room to sign: one page holds the agenda too."""
    half = (len(names) + 1) // 2
    return tuple(
        (left, "", right, "") for left, right in zip_longest(names[:half], names[half:], fillvalue="")
    )


def _trades(alike: Iterable[Alike], words: FormText) -> tuple[str, ...]:
    """Every trade at the wall, in the order in which it comes first; the owners of joints among them."""
    found: dict[str, None] = {}
    for one in alike:
        if one.parapet.existing is not None:
            found[words("standing_trade")] = None
        found |= dict.fromkeys(step.trade for step in one.sequence.steps)
        found |= dict.fromkeys(joint.owner for joint in one.joints)
    return tuple(trade[:1].upper() + trade[1:] for trade in found)


def _items(spec: Specification, alike: tuple[Alike, ...], words: FormText) -> Iterator[Item]:
    yield from _standing(spec, alike, words)
    yield from _orders(alike, words)
    yield from _laps(alike, words)
    yield from _handovers(spec, words)
    primers = _primers(alike)
    if primers:
        yield words("agenda_primers"), words("agenda_primers_text", primers=joined(primers, "and"))
    limits = tuple(_weather_limits(spec, words))
    if limits:
        yield words("agenda_weather"), words("agenda_weather_text", limits="; ".join(limits))
    tests = test_paragraphs(spec.sections, words)
    if tests:
        yield words("agenda_tests"), words("agenda_tests_text", counted=many(len(tests), "paragraph"))
    holds = sum(map(len, hold_lines(spec, words)))
    if holds:
        yield words("agenda_holds"), words("agenda_holds_text", counted=many(holds, "hold point"))
    for one in folded(finding for finding in spec.assessment.findings if finding.counts):
        places, finding = parapets_in_words(one.parapets), one.finding
        message = without_keys(finding.message, spec.assessment.practice.vocabulary)
        question = words("agenda_open_text", places=capital(places), message=message)
        yield words("agenda_open"), question
    yield words("agenda_safety"), words("agenda_safety_text")


def _standing(spec: Specification, alike: Iterable[Alike], words: FormText) -> Iterator[Item]:
    """What is settled before a standing wall is opened."""
    practice = spec.assessment.practice
    holds = dict.fromkeys(str(row["inspect"]) for one in alike for row in holds_of(one.parapet, practice))
    if holds:
        yield words("agenda_standing"), words("agenda_standing_text", holds=joined(tuple(holds), "and"))


def _orders(alike: tuple[Alike, ...], words: FormText) -> Iterator[Item]:
    """The order of work, said once where it is the same at several parapets."""
    orders: dict[str, list[str]] = {}
    for one in alike:
        orders.setdefault(_order(one, words), []).extend(one.names)
    for order, names in orders.items():
        place = f" {parapets_in_words(tuple(names))}" if len(orders) > 1 else ""
        yield words("agenda_order") + place, order


def _laps(alike: tuple[Alike, ...], words: FormText) -> Iterator[Item]:
    """Who laps over whom: what all parapets share, then what only some have."""
    laps = [tuple(joint.words for joint in one.joints) for one in alike]
    shared = tuple(lap for lap in laps[0] if all(lap in other for other in laps)) if laps else ()
    sentences = list(shared)
    for one, own in zip(alike, laps, strict=True):
        more = [lap for lap in own if lap not in shared]
        if more:
            sentences.append(f"{parapets_in_words(one.names)}: {joined(more, 'and')}")
    if sentences:
        yield words("agenda_laps"), words("agenda_laps_text", laps="; ".join(sentences))


def _handovers(spec: Specification, words: FormText) -> Iterator[Item]:
    """Who hands over to whom, where the project says who does what."""
    for change, part, where, look in division.handovers(spec.assessment.project, spec.assessment.practice):
        yield (
            words("agenda_handover"),
            words("agenda_handover_text", change=capital(change), part=part, where=where, look=look),
        )


def _order(one: Alike, words: FormText) -> str:
    if one.sequence.cycle:
        return words("agenda_cycle", cycle=one.sequence.cycle.text)
    steps = " > ".join(f"{step.component} ({step.trade})" for step in one.sequence.steps)
    return words("agenda_order_text", steps=steps, handovers=str(one.sequence.handovers))


def _primers(alike: Iterable[Alike]) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for one in alike:
        for joint in one.parapet.transitions:
            used = [
                name for name in (joint.word("tape"), joint.word("primer_kind")) if name and name != "none"
            ]
            if used:
                found[f"{joined(used, 'with')} between {joint.first} and {joint.second}"] = None
    return tuple(found)


def _weather_limits(spec: Specification, words: FormText) -> Iterator[str]:
    wanted = words.list("weather_attributes")
    for one in spec.assessment.requirements.by_id.values():
        if one.attribute in wanted and one.id in spec.paragraphs:
            yield _limit(one, spec.paragraphs[one.id], spec.assessment)


def _limit(one: Requirement, place: ParagraphRef, assessment: Assessment) -> str:
    role = assessment.practice.vocabulary.roles[one.role].title
    limit = requirement_words(one, assessment.practice, assessment.system)
    return f"{role}, {one.title} {limit} ({place.section}, {place.number})"
