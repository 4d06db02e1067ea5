"""The review letter as a typed document, in the words of ``templates/letters/review.yaml``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from textwrap import shorten
from typing import Literal

from specgen.model.document import Block, Document, Para, Properties, Span, Style, Table, framed, text
from specgen.model.project import Project
from specgen.model.submission import (
    ProductReview,
    Recommendation,
    Result,
    Submission,
    Verdict,
    WallPoint,
)
from specgen.practice.entries import Practice, Vocabulary
from specgen.sections.cautions import cautions
from specgen.sections.form_text import FormText
from specgen.sections.words import (
    capital,
    joined,
    named_sources,
    parapets_in_words,
    sentence,
    without_file,
    without_keys,
)

LONGEST_EVIDENCE = 160  # characters in a cell of a table; the data holds all of it
OPEN_WIDTHS = (0.25, 0.12, 0.18, 0.11, 0.34)
WALL_WIDTHS = (0.22, 0.34, 0.25, 0.19)
MET_WIDTHS = (0.38, 0.14, 0.29, 0.19)
DECISION_WIDTHS = (0.32, 0.17, 0.17, 0.17, 0.17)
DECISIONS = tuple(one for one in Recommendation if one is not Recommendation.NOT_REQUIRED)
TONES: Mapping[Result, Literal["plain", "bad", "doubt", "good"]] = {
    Result.MEETS: "plain",
    Result.FAILS: "bad",
    Result.NOT_STATED: "doubt",
    Result.OTHER_METHOD: "doubt",
    Result.CONFIRM: "doubt",
    Result.NOT_PROVEN: "doubt",
    Result.UNREADABLE: "bad",
}


def review_letter(
    project: Project,
    submission: Submission,
    reviews: tuple[ProductReview, ...],
    practice: Practice,
    waivers: tuple[Block, ...] = (),
) -> Document:
    """The letter that goes with a reviewed submittal.

    Every product has its recommendation, the requirements not proven with reason and cure, and the
    requirements met; the waivers in force follow, as :func:`specgen.sections.waivers.waiver_blocks` makes
    them. The decision is left for a person to mark and sign.
    """
    words = FormText("letters/review")
    number = submission.info.word("number") or ""
    blocks: list[Block] = [Para(Style.TITLE, text(words("title"))), _facts(project, submission)]
    blocks.append(Para(Style.BODY, text(words("opening"))))
    for one in reviews:
        blocks.extend(_product(one, words, practice))
    blocks.append(Para(Style.BODY, text(words("not_reviewed"))))
    blocks.extend(waivers)
    blocks.extend(_closing(reviews, words))
    title, subject = f"{words('title')} {number}", words("subject")
    properties = Properties(title, subject, project.title, project.issued, "Recommendation")
    return framed(properties, blocks, f"Submittal {number}", words("title"))


def _facts(project: Project, submission: Submission) -> Table:
    info = submission.info
    rows = (
        ("Project", project.title),
        ("Submittal", info.word("number") or "not stated"),
        ("Submitted by", info.word("from") or "not stated"),
        ("Received", str(info.values.get("date", "not stated"))),
    )
    return Table(("Item", "As stated"), rows, (0.25, 0.75), "Facts of the submittal")


def _product(one: ProductReview, words: FormText, practice: Practice) -> Iterator[Block]:
    product = _named(one)
    role = practice.vocabulary.roles[one.product.role].title
    yield Para(Style.HEADING, text(words("product_heading", product=product, role=role)))
    if one.product.parapets:
        where = parapets_in_words(one.product.parapets)
        yield Para(Style.BODY, text(words("product_where", where=where)))
    if one.alternatives:
        yield Para(Style.BODY, text(words("alternatives", others=joined(one.alternatives, "and"))))
    strong = words("recommendation", result=one.recommendation.value, why=one.why_in_words)
    yield Para(Style.BODY, (Span(strong, "strong"),))
    open_points = tuple(verdict for verdict in one.verdicts if verdict.result is not Result.MEETS)
    met = tuple(verdict for verdict in one.verdicts if verdict.result is Result.MEETS)
    if not one.verdicts:
        yield Para(Style.BODY, text(words("no_requirements")))
    if open_points:
        yield Para(Style.SUBHEADING, text(words("open_heading")))
        yield Table(
            words.list("columns_open"),
            tuple(
                (*_row(verdict), f"{sentence(verdict.reason)} {sentence(verdict.cure)}")
                for verdict in open_points
            ),
            OPEN_WIDTHS,
            words("open_caption", product=product),
            tuple(TONES[verdict.result] for verdict in open_points),
        )
    if one.wall:
        yield Para(Style.SUBHEADING, text(words("wall_heading")))
        yield Para(Style.BODY, text(words("wall_note")))
        yield Table(
            words.list("columns_wall"),
            tuple(point_row(point, practice.vocabulary) for point in one.wall),
            WALL_WIDTHS,
            words("wall_caption", product=product),
            tuple("bad" if point.breaks else "doubt" for point in one.wall),
        )
    if met:
        yield Para(Style.SUBHEADING, text(words("met_heading")))
        yield Table(
            words.list("columns_met"),
            tuple((*_row(verdict)[:3], _with_margin(verdict, words)) for verdict in met),
            MET_WIDTHS,
            words("met_caption", product=product),
        )


def point_row(point: WallPoint, vocabulary: Vocabulary) -> tuple[str, str, str, str]:
    """What is required where, what happens and why, on what condition it would be acceptable, on what source it rests."""
    finding, words = point.finding, FormText("letters/review")
    what = f"{sentence(without_keys(finding.message, vocabulary))} {sentence(finding.reason)}"
    if point.along_with:
        what += " " + words("wall_along", others=joined(point.along_with, "and"))
    if point.mended_by:
        what += " " + words("wall_mended", others=joined(point.mended_by, "and"))
    remedy = sentence(without_file(finding.remedy))
    if finding.open:
        remedy = words("wall_unknown", remedy=remedy[:1].lower() + remedy[1:])
    head = words("wall_point", requirement=finding.title, places=parapets_in_words(point.parapets))
    return head, what, remedy, named_sources(finding.sources)


def _with_margin(verdict: Verdict, words: FormText) -> str:
    result, margin = verdict.result.value, "; ".join(filter(None, (verdict.margin, verdict.note)))
    return words("met_by", result=result, margin=margin) if margin else result


def _row(verdict: Verdict) -> tuple[str, str, str, str]:
    requirement = verdict.requirement
    where = "" if requirement.everywhere else f", {parapets_in_words(requirement.where)}"
    item = capital(f"{requirement.title}: {verdict.limit}{where}")
    place = ", ".join(part for part in (verdict.section, verdict.paragraph) if part)
    submitted = verdict.submitted
    if verdict.evidence:
        submitted += f" ({shorten(verdict.evidence, LONGEST_EVIDENCE, placeholder='…')})"
    return item, place, submitted, verdict.result.value


def _named(one: ProductReview) -> str:
    return f"Product {one.product.name}" if one.product.name.isdecimal() else one.product.name


def _closing(reviews: tuple[ProductReview, ...], words: FormText) -> Iterator[Block]:
    yield Para(Style.HEADING, text(words("decision_heading")))
    yield Para(Style.BODY, text(words("decision_note")))
    yield Table(
        (words("decision_product"), *(capital(result.value) for result in DECISIONS)),
        tuple((_named(one), *(words("decision_mark") for _ in DECISIONS)) for one in reviews),
        DECISION_WIDTHS,
        words("decision_caption"),
    )
    yield Para(Style.BODY, text(words("signature")))
    yield Para(Style.HEADING, text(words("cautions_heading")))
    for caution in cautions():
        yield Para(Style.BULLET, text(caution))
