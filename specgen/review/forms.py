"""Letters and forms of the review: request for information, compatibility letters, deficiency list, transmittal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from specgen.assessment import Assessment
from specgen.model.document import Block, Document, Para, Properties, Style, Table, framed, text
from specgen.model.finding import Finding
from specgen.model.folded import FoldedFinding, folded
from specgen.model.project import Project
from specgen.model.submission import ProductReview, Result, Submission
from specgen.paths.meetings import Meeting, meetings
from specgen.sections.cautions import cautions
from specgen.sections.form_text import FormText
from specgen.sections.words import (
    joined,
    named_sources,
    parapets_in_words,
    sentence,
    without_file,
    without_keys,
)

OPEN_ANSWERS = ("confirm", "not allowed", "with separation")
_QUESTIONS = (0.06, 0.38, 0.12, 0.24, 0.2)
_DEFICIENCIES = (0.05, 0.33, 0.12, 0.18, 0.2, 0.12)
_RETURNED = (0.14, 0.18, 0.18, 0.22, 0.28)
_FACTS = (0.3, 0.7)


@dataclass(frozen=True)
class Deficiency:
    """One thing that a trade must correct or prove."""

    trade: str
    what: str
    where: str
    by: str
    cure: str


def _words() -> FormText:
    return FormText("letters/forms")


def _document(
    project: Project, words: FormText, what: str, blocks: Iterable[Block], *, landscape: bool = True
) -> Document:
    """The frame of every form: title, its blocks, cautions, and that nobody has signed it."""
    title, subject, state = words(f"{what}_title"), words(f"{what}_subject"), words("state")
    framing = (
        Para(Style.TITLE, text(title)),
        *blocks,
        Para(Style.BODY, text(words("signature"))),
        Para(Style.HEADING, text(words("cautions_heading"))),
        *(Para(Style.BULLET, text(caution)) for caution in cautions()),
        Para(Style.NOTE, text(words("not_signed"))),
    )
    properties = Properties(title, subject, project.title, project.issued, state)
    return framed(properties, framing, state, landscape=landscape)


def request_for_information(assessment: Assessment) -> Document:
    """One row a question: queries that stand, and values without which a rule cannot be decided."""
    words = _words()
    questions = folded(one for one in assessment.findings if one.counts and not one.failed)
    rows = tuple(
        (
            str(number),
            sentence(without_keys(one.finding.message, assessment.practice.vocabulary)),
            _places(one),
            one.finding.reason,
            "",
        )
        for number, one in enumerate(questions, start=1)
    )
    blocks: list[Block] = [
        Para(Style.BODY, text(words("information_opening" if rows else "information_none")))
    ]
    if rows:
        blocks.append(
            Table(words.list("information_columns"), rows, _QUESTIONS, words("information_caption"))
        )
    return _document(assessment.project, words, "information", blocks)


def _places(one: FoldedFinding) -> str:
    return parapets_in_words(one.parapets) if one.parapets != ("all",) else "all parapets"


def compatibility_letters(assessment: Assessment) -> Mapping[str, Document]:
    """A letter to both manufacturers for each pair of families that is not simply allowed, by the name of the pair."""
    words = _words()
    open_pairs: dict[str, Meeting] = {}
    for one in meetings(assessment.project, assessment.practice):
        if one.answer in OPEN_ANSWERS:
            open_pairs.setdefault(" and ".join(sorted(one.families)), one)
    return {pair: _letter(assessment.project, one, words) for pair, one in open_pairs.items()}


def _letter(project: Project, one: Meeting, words: FormText) -> Document:
    known = {
        "confirm": words("compatibility_known_confirm"),
        "not allowed": words("compatibility_known_no", why=one.why),
        "with separation": words("compatibility_known_apart", why=one.why),
    }[one.answer]
    values = {
        "pair": " and ".join(one.families),
        "how": one.how,
        "parts": "; ".join(one.parts),
        "where": parapets_in_words(one.parapets),
    }
    facts = tuple((title, values[name]) for name, title in words.texts["compatibility_facts"].items())
    makers = [
        Para(Style.BODY, text(words("compatibility_to", blank=words("blank"), family=family)))
        for family in one.families
    ]
    answers = [
        block
        for family in one.families
        for block in (
            Para(Style.SUBHEADING, text(f"{words('compatibility_answer_heading')}: {family}")),
            Para(Style.BODY, text(words("compatibility_answer"))),
            Para(Style.BODY, text(words("signature"))),
        )
    ]
    blocks: list[Block] = [
        *makers,
        Para(Style.BODY, text(words("compatibility_opening", known=known))),
        Table(words.list("compatibility_facts_columns"), facts, _FACTS, words("compatibility_facts_caption")),
        Para(Style.HEADING, text(words("compatibility_ask_heading"))),
        *(Para(Style.BULLET, text(item)) for item in words.list("compatibility_ask")),
        *answers,
    ]
    return _document(project, words, "compatibility", blocks, landscape=False)


def deficiencies(
    assessment: Assessment, reviewed: Sequence[tuple[Submission, tuple[ProductReview, ...]]] = ()
) -> tuple[Deficiency, ...]:
    """What stands against the wall and the submittals, each with the one trade that cures it.

    Args:
        assessment: its certain findings, by the trade of the component they are about; one about the wall as a whole
            is for the design professional.
        reviewed: submittals with their reviews; what is not proven, by the trade of the product's role.
    """
    words = _words()
    out = [
        Deficiency(
            _trade(one.finding, assessment) or words("deficiency_design"),
            sentence(without_keys(one.finding.message, assessment.practice.vocabulary)),
            _places(one),
            named_sources(one.finding.sources),
            sentence(without_file(one.finding.remedy)),
        )
        for one in folded(finding for finding in assessment.findings if finding.failed)
    ]
    for submission, reviews in reviewed:
        number = submission.info.word("number") or ""
        for review in reviews:
            trade = assessment.practice.vocabulary.roles[review.product.role].trade
            out += [
                Deficiency(
                    trade,
                    sentence(f"{review.product.name}: {verdict.reason}"),
                    parapets_in_words(verdict.requirement.where),
                    f"Submittal {number}; Section {verdict.section}, {verdict.paragraph}".rstrip(", "),
                    sentence(verdict.cure),
                )
                for verdict in review.verdicts
                if verdict.result is not Result.MEETS
            ]
    return tuple(sorted(out, key=lambda one: one.trade))


def _trade(finding: Finding, assessment: Assessment) -> str:
    for parapet in assessment.project.parapets:
        part = parapet.by_id(finding.layer) if parapet.name == finding.parapet else None
        if part is not None:
            return assessment.practice.vocabulary.roles[part.role].trade
    return ""


def deficiency_list(
    assessment: Assessment, reviewed: Sequence[tuple[Submission, tuple[ProductReview, ...]]] = ()
) -> Document:
    """One table a trade; numbers run through the list, so that a line can be named."""
    words = _words()
    found = deficiencies(assessment, reviewed)
    blocks: list[Block] = [
        Para(Style.BODY, text(words("deficiency_opening" if found else "deficiency_none")))
    ]
    blocks += _by_trade(found, words)
    return _document(assessment.project, words, "deficiency", blocks)


def _by_trade(found: Sequence[Deficiency], words: FormText) -> Iterator[Block]:
    numbered = list(enumerate(found, start=1))
    for trade in dict.fromkeys(one.trade for one in found):
        yield Para(Style.HEADING, text(words("deficiency_heading", trade=trade[:1].upper() + trade[1:])))
        rows = tuple(
            (str(number), one.what, one.where, one.by, one.cure, "")
            for number, one in numbered
            if one.trade == trade
        )
        caption = words("deficiency_caption", trade=trade)
        yield Table(words.list("deficiency_columns"), rows, _DEFICIENCIES, caption)


def transmittal(
    project: Project, reviewed: Sequence[tuple[Submission, tuple[ProductReview, ...]]]
) -> Document:
    """One row a submitted product: what is recommended, what is open, and room for the note of the reviewer."""
    words = _words()
    rows = tuple(
        (
            submission.info.word("number") or "",
            review.product.name,
            review.recommendation.value,
            _open_points(review),
            "",
        )
        for submission, reviews in reviewed
        for review in reviews
    )
    blocks: tuple[Block, ...] = (
        Para(Style.BODY, text(words("transmittal_to", blank=words("blank")))),
        Para(Style.BODY, text(words("transmittal_opening"))),
        Table(words.list("transmittal_columns"), rows, _RETURNED, words("transmittal_caption")),
    )
    return _document(project, words, "transmittal", blocks)


def _open_points(review: ProductReview) -> str:
    counts = {result: sum(one.result is result for one in review.verdicts) for result in Result}
    open_points = [
        f"{count} {result.value}" for result, count in counts.items() if count and result is not Result.MEETS
    ]
    names = list(dict.fromkeys(point.finding.name for point in review.wall))
    if names:
        open_points.append(f"in the wall: {joined(names, 'and')}")
    return "; ".join(open_points) or "none"
