"""Letters and forms of the review: request for information, compatibility letters, deficiency list, transmittal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from specgen.assessment import Assessment
from specgen.model.document import Block, Document, Para, Style, Table, framed, properties_of, text
from specgen.model.finding import Finding
from specgen.model.folded import FoldedFinding, folded
from specgen.model.project import Project
from specgen.model.schedule import WORK_WEEK
from specgen.model.submission import ProductReview, Result, Submission
from specgen.paths.meetings import Meeting, meetings
from specgen.register.dates import WorkCalendar
from specgen.review.comments import comments, product_name
from specgen.review.references import Reference
from specgen.sections.cautions import cautions
from specgen.sections.form_text import FormText
from specgen.sections.words import (
    named_sources,
    parapets_in_words,
    sentence,
    without_file,
    without_keys,
)

OPEN_ANSWERS = ("confirm", "not allowed", "with separation")
_QUESTIONS = (0.06, 0.38, 0.12, 0.24, 0.2)
_DEFICIENCIES = (0.05, 0.33, 0.12, 0.18, 0.2, 0.12)
_RETURNED = (0.14, 0.07, 0.2, 0.22, 0.1, 0.27)
_HEAD = (0.16, 0.38, 0.14, 0.32)
_ANSWERS = (0.14, 0.36, 0.22, 0.28)
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


@dataclass(frozen=True)
class Sending:
    """With what a letter goes out: its reference, the working days for an answer, and who makes which material."""

    reference: Reference = field(default=Reference())
    answer_days: int = 0  # working days; 0: no answer is asked for
    makers: Mapping[str, str] = field(default_factory=dict)  # by material family


def _document(
    project: Project,
    what: str,
    to: str,
    blocks: Iterable[Block],
    sending: Sending,
    *,
    landscape: bool = True,
) -> Document:
    """The frame of every form: title, its reference and parties, its blocks, one signature, cautions once."""
    words = _words()
    title, subject, state = words(f"{what}_title"), words(f"{what}_subject"), words("state")
    framing = (
        Para(Style.TITLE, text(title)),
        _heading(project, to, sending, words),
        *blocks,
        Para(Style.BODY, text(words("signature"))),
        Para(Style.NOTE, text(f"{words('not_signed')} {' '.join(cautions())}")),
    )
    properties = properties_of(project, title, subject, state)
    return framed(properties, framing, state, landscape=landscape)


def _heading(project: Project, to: str, sending: Sending, words: FormText) -> Table:
    """Number, date, parties, address, answer by, copies, and round of a letter."""
    parties, label, blank = project.contacts, words.texts["head"], words("blank")
    one = sending.reference
    office = ", ".join(filter(None, (parties.word("office"), parties.word("office_address"))))
    place = parties.word("project_address") or project.site.word("place") or blank
    rows = (
        (label["project"], project.title, label["date"], str(one.day) if one.day else blank),
        (label["address"], place, label["answer"], _answer_by(sending, words)),
        (label["from"], office or blank, label["to"], to or blank),
        (
            label["signer"],
            parties.word("reviewer") or blank,
            label["copies"],
            parties.word("copies") or blank,
        ),
    )
    head = (label["number"], one.number or blank, label["round"], str(one.round))
    return Table(head, rows, _HEAD, words("head_caption"))


def _answer_by(sending: Sending, words: FormText) -> str:
    if not sending.answer_days:
        return words("no_answer")
    if sending.reference.day is None:
        return words("answer_after", days=str(sending.answer_days))
    return WorkCalendar(WORK_WEEK, ()).later(sending.reference.day, sending.answer_days).isoformat()


def _contractor(project: Project) -> str:
    return ", ".join(
        filter(None, (project.contacts.word("contractor"), project.contacts.word("contractor_address")))
    )


def request_for_information(assessment: Assessment, sending: Sending = Sending()) -> Document:
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
    to = assessment.project.contacts.word("owner") or ""
    return _document(assessment.project, "information", to, blocks, sending)


def _places(one: FoldedFinding) -> str:
    return parapets_in_words(one.parapets) if one.parapets != ("all",) else "all parapets"


def compatibility_letters(
    assessment: Assessment, sendings: Mapping[str, Sending] | None = None
) -> Mapping[str, Document]:
    """A letter to both manufacturers for each pair of families that is not simply allowed, by the name of the pair.

    Args:
        assessment: its walls, and what is published of each pair.
        sendings: with what each letter goes out, by the name of its pair.
    """
    given = sendings or {}
    open_pairs: dict[str, Meeting] = {}
    for one in meetings(assessment.project, assessment.practice):
        if one.answer in OPEN_ANSWERS:
            open_pairs.setdefault(" and ".join(sorted(one.families)), one)
    return {
        pair: _letter(assessment.project, one, given.get(pair, Sending())) for pair, one in open_pairs.items()
    }


def _letter(project: Project, one: Meeting, sending: Sending) -> Document:
    words = _words()
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
        words("compatibility_maker", maker=sending.makers.get(family) or words("blank"), family=family)
        for family in one.families
    ]
    answers = tuple((family, words("compatibility_answer"), "", "") for family in one.families)
    blocks: list[Block] = [
        Para(Style.BODY, text(words("compatibility_opening", known=known))),
        Table(words.list("compatibility_facts_columns"), facts, _FACTS, words("compatibility_facts_caption")),
        Para(Style.HEADING, text(words("compatibility_ask_heading"))),
        *(Para(Style.BULLET, text(item)) for item in words.list("compatibility_ask")),
        Para(Style.HEADING, text(words("compatibility_answer_heading"))),
        Table(
            words.list("compatibility_answer_columns"),
            answers,
            _ANSWERS,
            words("compatibility_answer_heading"),
        ),
    ]
    return _document(project, "compatibility", "; ".join(makers), blocks, sending, landscape=False)


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
    assessment: Assessment,
    reviewed: Sequence[tuple[Submission, tuple[ProductReview, ...]]] = (),
    sending: Sending = Sending(),
) -> Document:
    """One table a trade; numbers run through the list, so that a line can be named."""
    words = _words()
    found = deficiencies(assessment, reviewed)
    blocks: list[Block] = [
        Para(Style.BODY, text(words("deficiency_opening" if found else "deficiency_none")))
    ]
    blocks += _by_trade(found, words)
    to = _contractor(assessment.project)
    return _document(assessment.project, "deficiency", to, blocks, sending)


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
    assessment: Assessment,
    reviewed: Sequence[tuple[Submission, tuple[ProductReview, ...]]],
    sending: Sending = Sending(),
) -> Document:
    """One row a submitted product: what is recommended, how many comments, and room for the note of the reviewer."""
    words = _words()
    vocabulary = assessment.practice.vocabulary
    rows = tuple(
        (
            submission.info.word("number") or "",
            str(submission.round),
            product_name(review),
            _recommended(review),
            str(len(comments([review], vocabulary))) if review.verdicts or review.notes else "0",
            "",
        )
        for submission, reviews in reviewed
        for review in reviews
    )
    blocks: tuple[Block, ...] = (
        Para(Style.BODY, text(words("transmittal_opening"))),
        Table(words.list("transmittal_columns"), rows, _RETURNED, words("transmittal_caption")),
    )
    return _document(assessment.project, "transmittal", _contractor(assessment.project), blocks, sending)


def _recommended(review: ProductReview) -> str:
    if not review.places:
        return review.recommendation.value
    return "; ".join(
        f"{parapets_in_words(place.parapets)}: {place.recommendation.value}" for place in review.places
    )
