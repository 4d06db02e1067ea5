"""The numbered comments of a review, and what became of those of the round before."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from specgen.model.submission import ProductReview, Result, ReviewComment, Verdict, WallPoint
from specgen.practice.entries import Vocabulary
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

TONES: Mapping[Result, Literal["plain", "bad", "doubt", "good"]] = {
    Result.MEETS: "plain",
    Result.FAILS: "bad",
    Result.NOT_STATED: "doubt",
    Result.OTHER_METHOD: "doubt",
    Result.CONFIRM: "doubt",
    Result.NOT_PROVEN: "doubt",
    Result.UNREADABLE: "bad",
}
NEW, OPEN, CLOSED = "new", "still open", "closed"
_RESULT_WORDS: Mapping[Result, str] = {
    Result.FAILS: "not_met",
    Result.OTHER_METHOD: "other_method",
    Result.CONFIRM: "confirm",
    Result.NOT_PROVEN: "not_proven",
    Result.UNREADABLE: "not_readable",
}

_PLACE = re.compile(r", box [0-9]+(?: [0-9]+){3}(?=:|$|;)")


def comments(
    reviews: Iterable[ProductReview],
    vocabulary: Vocabulary,
    before: Sequence[ReviewComment] = (),
    answers: Mapping[int, str] | None = None,
) -> tuple[ReviewComment, ...]:
    """Every comment of a review: those of the round before that are closed or still open, then the new ones.

    A comment keeps its number from round to round, so that an answer finds it; what is new is counted on.

    Args:
        reviews: of the products of one submittal.
        vocabulary: for the titles of what a message names.
        before: the comments of the round before.
        answers: what the submitter wrote to them, by number.
    """
    now = {one.key: one for one in _unnumbered(reviews, vocabulary)}
    given = answers or {}
    known = []
    for one in before:
        if one.standing == CLOSED:
            continue
        answer = given.get(one.number, "")
        same = now.pop(one.key, None)
        if same is None:
            known.append(replace(one, standing=CLOSED, answer=answer))
        else:
            known.append(replace(same, number=one.number, standing=OPEN, answer=answer))
    last = max((one.number for one in before), default=0)
    fresh = tuple(replace(one, number=last + place) for place, one in enumerate(now.values(), start=1))
    return (*known, *fresh)


def _unnumbered(reviews: Iterable[ProductReview], vocabulary: Vocabulary) -> Iterator[ReviewComment]:
    turns: dict[str, int] = {}
    for one in reviews:
        role = one.product.role
        turns[role] = turns.get(role, 0) + 1
        about = _About(product_name(one), f"{role}, {turns[role]}", FormText("letters/review"))
        yield from (about.of_row(row) for row in one.verdicts if row.result is not Result.MEETS)
        for point in one.wall:
            yield about.of_point(point, vocabulary)
        for note in one.notes:
            yield ReviewComment(
                0,
                about.product,
                about.words("note_about"),
                "",
                about.words("note_submitted"),
                sentence(note),
                f"{about.key}, note, {note}",
            )


def submitted_words(row: Verdict) -> str:
    """A submitted value with its document and page."""
    return row.submitted + (f" ({without_place(row.evidence)})" if row.evidence else "")


def without_place(evidence: str) -> str:
    """Document, page and words; the place on the page is for the picture of the evidence alone.

    >>> without_place("sheet.pdf, page 1, box 72 233 454 244: Vapor permeance | 14 perms")
    'sheet.pdf, page 1: Vapor permeance | 14 perms'
    """
    return _PLACE.sub("", evidence)


@dataclass(frozen=True)
class _About:
    """Which product a comment is on."""

    product: str
    key: str
    words: FormText

    def of_row(self, row: Verdict) -> ReviewComment:
        requirement = row.requirement
        where = "" if requirement.everywhere else f", {parapets_in_words(requirement.where)}"
        what = self.words(_RESULT_WORDS[row.result]) if row.result in _RESULT_WORDS else ""
        reason = sentence(row.reason)
        return ReviewComment(
            0,
            self.product,
            capital(f"{requirement.title}: {row.limit}{where}"),
            ", ".join(part for part in (row.section, row.paragraph) if part),
            submitted_words(row),
            " ".join(part for part in (what, reason, sentence(without_file(row.cure))) if part),
            f"{self.key}, {requirement.id}",
            deviation=row.result is Result.FAILS,
        )

    def of_point(self, point: WallPoint, vocabulary: Vocabulary) -> ReviewComment:
        head, what, remedy, source = point_row(point, vocabulary)
        finding = point.finding
        key = f"{self.key}, {finding.code}, {finding.layer}, {finding.attribute}"
        cure = self.words("acceptable_if", remedy=remedy[:1].lower() + remedy[1:]) if remedy else ""
        return ReviewComment(
            0,
            self.product,
            head,
            source,
            "",
            f"{what} {cure}".strip(),
            key,
            deviation=point.breaks,
        )


def product_name(one: ProductReview) -> str:
    """How a product is named; a name of digits alone would read as a number."""
    return f"Product {one.product.name}" if one.product.name.isdecimal() else one.product.name


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
