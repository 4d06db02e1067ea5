"""The review letter as a typed document, in the words of ``templates/letters/review.yaml``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from textwrap import shorten

from specgen.model.document import Block, Document, Para, Span, Style, Table, framed, properties_of, text
from specgen.model.project import Project
from specgen.model.submission import (
    ProductReview,
    Recommendation,
    Result,
    ReviewComment,
    Submission,
    Verdict,
)
from specgen.practice.entries import Practice
from specgen.review.comments import CLOSED, NEW, OPEN, comments, product_name, submitted_words
from specgen.sections.cautions import cautions
from specgen.sections.form_text import FormText
from specgen.sections.words import capital, joined, parapets_in_words

LONGEST_EVIDENCE = 160  # characters in a cell of a table; the data holds all of it
STATUS_WIDTHS = (0.15, 0.37, 0.15, 0.33)
RESULT_WIDTHS = (0.3, 0.22, 0.12, 0.12, 0.12, 0.12)
COMMENT_WIDTHS = (0.07, 0.3, 0.2, 0.43)
ROUND_WIDTHS = (0.07, 0.38, 0.35, 0.2)
MET_WIDTHS = (0.4, 0.15, 0.27, 0.18)
DECISIONS = tuple(one for one in Recommendation if one is not Recommendation.NOT_REQUIRED)


@dataclass(frozen=True)
class Earlier:
    """What the round before left: its comments; None where no record of it was found."""

    comments: tuple[ReviewComment, ...] | None = None


def review_letter(
    project: Project,
    submission: Submission,
    reviews: tuple[ProductReview, ...],
    practice: Practice,
    waivers: tuple[Block, ...] = (),
    titles: Mapping[str, str] | None = None,
    earlier: Earlier | None = None,
) -> Document:
    """The letter that goes with a reviewed submittal.

    Page 1 is a status block: whose submittal it is, and for each product the result that is recommended and a box for
    the mark of a person, who signs. Then come the numbered comments (in a later round, what became of those before),
    deviations, requirements met, what was not reviewed, and the waivers in force, as
    :func:`specgen.sections.waivers.waiver_blocks` makes them.

    Args:
        project: its name, and who receives what.
        submission: with its round, its answers, and the deviations it declares.
        reviews: one a product.
        practice: the vocabulary, for the words of the comments.
        waivers: blocks of the waivers in force.
        titles: of the sections, by number.
        earlier: the round before, in a later one.
    """
    letter = _Letter(project, submission, reviews, practice, titles or {}, earlier or Earlier())
    return letter.document(waivers)


@dataclass(frozen=True)
class _Letter:
    project: Project
    submission: Submission
    reviews: tuple[ProductReview, ...]
    practice: Practice
    titles: Mapping[str, str]
    earlier: Earlier

    @property
    def words(self) -> FormText:
        return FormText("letters/review")

    def document(self, waivers: tuple[Block, ...]) -> Document:
        words, number = self.words, self.submission.info.word("number") or ""
        found = comments(
            self.reviews,
            self.practice.vocabulary,
            self.earlier.comments or (),
            self.submission.answers,
        )
        blocks: list[Block] = [Para(Style.TITLE, text(words("title"))), self._status(), *self._results()]
        if self.submission.round > 1:
            blocks += self._since(found)
        blocks += self._comments([one for one in found if one.standing != CLOSED])
        blocks += self._deviations(found)
        blocks += self._met()
        blocks += [Para(Style.HEADING, text(words("not_reviewed_heading")))]
        blocks += [Para(Style.BODY, text(words("not_reviewed")))]
        blocks += waivers
        blocks += [Para(Style.HEADING, text(words("cautions_heading")))]
        blocks += [Para(Style.NOTE, text(" ".join(cautions())))]
        title = f"{words('title')} {number}"
        properties = properties_of(self.project, title, words("subject"), words("state"))
        right = words("running", number=number, round=str(self.submission.round))
        return framed(properties, blocks, right, words("title"))

    def _status(self) -> Table:
        words, info, parties = self.words, self.submission.info, self.project.contacts
        blank, place = words("blank"), self.project.site.word("place") or ""
        reviewer = ", ".join(filter(None, (parties.word("reviewer"), parties.word("office"))))
        returned = info.values.get("returned")
        number = info.word("number") or words("not_stated")
        label = words.texts["status"]
        sent_by = info.word("from") or parties.word("contractor") or words("not_stated")
        rows = (
            (label["project"], self.project.title, label["section"], self._sections()),
            (
                label["address"],
                parties.word("project_address") or place or blank,
                label["from"],
                sent_by,
            ),
            (
                label["received"],
                str(info.values.get("date", words("not_stated"))),
                label["returned"],
                str(returned) if returned else blank,
            ),
            (label["reviewer"], reviewer or blank, label["copies"], parties.word("copies") or blank),
        )
        head = (label["submittal"], number, label["round"], str(self.submission.round))
        return Table(head, rows, STATUS_WIDTHS, words("status_caption"))

    def _sections(self) -> str:
        stated = self.submission.info.word("section")
        roles = self.practice.vocabulary.roles
        numbers = [row.section for one in self.reviews for row in one.verdicts if row.section]
        numbers += [roles[one.product.role].section for one in self.reviews if not one.verdicts]
        found = [stated] if stated else [one for one in dict.fromkeys(numbers) if one]
        named = [f"{one} {self.titles[one]}" if one in self.titles else one for one in found]
        return "; ".join(named) or self.words("not_stated")

    def _results(self) -> Iterator[Block]:
        words = self.words
        rows, marks = [], tuple(words("decision_mark") for _ in DECISIONS)
        for one in self.reviews:
            name = f"{product_name(one)} ({self.practice.vocabulary.roles[one.product.role].title})"
            if one.product.maker:
                name = f"{name}, {one.product.maker}"
            if one.product.parapets:
                name += ". " + words("product_where", where=parapets_in_words(one.product.parapets))
            for place in one.places:
                where = capital(parapets_in_words(place.parapets))
                rows.append((f"{name}. {where}", capital(place.recommendation.value), *marks))
            if not one.places:
                rows.append((name, capital(one.recommendation.value), *marks))
        head = (words("decision_product"), words("decision_recommended"))
        yield Table(
            (*head, *(capital(one.value) for one in DECISIONS)),
            tuple(rows),
            RESULT_WIDTHS,
            words("decision_caption"),
        )
        yield Para(Style.BODY, text(words("decision_note")))
        yield Para(Style.BODY, text(words("signature")))
        for one in self.reviews:
            if one.alternatives:
                others = joined(one.alternatives, "and")
                yield Para(Style.BODY, text(words("alternatives", product=product_name(one), others=others)))
            if not one.verdicts:
                why = words("no_requirements", product=product_name(one), why=one.why_in_words)
                yield Para(Style.BODY, text(why))

    def _since(self, found: Sequence[ReviewComment]) -> Iterator[Block]:
        """What changed since the round before."""
        words, before = self.words, str(self.submission.round - 1)
        yield Para(Style.HEADING, text(words("since_heading", round=before)))
        if self.earlier.comments is None:
            yield Para(Style.BODY, text(words("since_unknown", round=before)))
            return
        counts = {name: sum(one.standing == name for one in found) for name in (CLOSED, OPEN, NEW)}
        counted = {name.replace(" ", "_"): str(count) for name, count in counts.items()}
        yield Para(Style.BODY, (Span(words("since_counts", **counted), "strong"),))
        rows = tuple(
            (
                str(one.number),
                f"{one.product}. {one.about}",
                one.answer or words("no_answer"),
                words("closed" if one.standing == CLOSED else "still_open"),
            )
            for one in found
            if one.standing != NEW
        )
        if rows:
            caption = words("since_caption", round=before)
            yield Table(words.list("columns_since"), rows, ROUND_WIDTHS, caption)

    def _comments(self, found: Sequence[ReviewComment]) -> Iterator[Block]:
        words = self.words
        yield Para(Style.HEADING, text(words("comments_heading")))
        yield Para(Style.BODY, text(words("comments_opening" if found else "comments_none")))
        for product in dict.fromkeys(one.product for one in found):
            yield Para(Style.SUBHEADING, text(product))
            rows = tuple(
                (str(one.number), _about(one), _short(one.submitted) or words("as_built"), one.words)
                for one in found
                if one.product == product
            )
            caption = words("comments_caption", product=product)
            yield Table(words.list("columns_comments"), rows, COMMENT_WIDTHS, caption)

    def _deviations(self, found: Sequence[ReviewComment]) -> Iterator[Block]:
        words = self.words
        yield Para(Style.HEADING, text(words("deviations_heading")))
        declared = self.submission.deviations
        yield Para(Style.BODY, text(words("declared" if declared else "declared_none")))
        yield from (Para(Style.BULLET, text(one)) for one in declared)
        numbers = [str(one.number) for one in found if one.deviation and one.standing != CLOSED]
        if numbers:
            key = "found_one" if len(numbers) == 1 else "found_many"
            yield Para(Style.BODY, text(words(key, numbers=joined(tuple(numbers), "and"))))
        else:
            yield Para(Style.BODY, text(words("found_none")))

    def _met(self) -> Iterator[Block]:
        words = self.words
        for one in self.reviews:
            met = tuple(row for row in one.verdicts if row.result is Result.MEETS)
            if met:
                product = product_name(one)
                yield Para(Style.HEADING, text(words("met_heading", product=product)))
                rows = tuple(_met_row(row) for row in met)
                yield Table(
                    words.list("columns_met"), rows, MET_WIDTHS, words("met_caption", product=product)
                )


def _about(one: ReviewComment) -> str:
    return f"{one.about} ({one.place})" if one.place else one.about


def _short(words: str) -> str:
    return shorten(words, LONGEST_EVIDENCE, placeholder="…")


def _met_row(row: Verdict) -> tuple[str, str, str, str]:
    requirement = row.requirement
    where = "" if requirement.everywhere else f", {parapets_in_words(requirement.where)}"
    place = ", ".join(part for part in (row.section, row.paragraph) if part)
    margin = "; ".join(filter(None, (row.margin, row.note)))
    return capital(f"{requirement.title}: {row.limit}{where}"), place, _short(submitted_words(row)), margin
