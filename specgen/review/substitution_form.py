"""The review of a substitution request as a typed document."""

from __future__ import annotations

from collections.abc import Iterator

from specgen.assessment import Assessment
from specgen.model.document import Block, Document, Para, Span, Style, Table, framed, properties_of, text
from specgen.model.finding import Outcome
from specgen.model.submission import ProductReview, WallPoint
from specgen.practice.entries import Vocabulary
from specgen.review.comments import TONES, point_row
from specgen.review.compare import TextChange
from specgen.review.hours import hours_texts
from specgen.review.substitution import Substitution
from specgen.review.wall import Combination
from specgen.sections.cautions import cautions
from specgen.sections.form_text import FormText
from specgen.sections.words import capital, joined, parapets_in_words, sentence, without_keys

_FACTS = (0.34, 0.66)
_TEXTS = (0.26, 0.37, 0.37)
_POINTS = (0.2, 0.14, 0.16, 0.12, 0.1, 0.28)
_WALL = (0.22, 0.34, 0.25, 0.19)
_RESULTS = (0.2, 0.32, 0.18, 0.18, 0.12)
_SETS = (0.28, 0.22, 0.5)


def substitution_form(one: Substitution, assessment: Assessment) -> Document:
    """The form that goes to the owner and the requester.

    Args:
        one: the request with what follows from it.
        assessment: the project as specified.
    """
    words = FormText("letters/substitution")
    project = assessment.project
    blocks = [
        Para(Style.TITLE, text(words("title"))),
        _facts(one, assessment, words),
        Para(Style.BODY, text(words("opening"))),
        Para(
            Style.BODY,
            (Span(words("recommendation", result=one.recommendation.value, why=one.why_in_words), "strong"),),
        ),
        *_texts("proposed", one.proposed, words, words("not_stated")),
        *(block for product in one.products for block in _points(product, words)),
        *_wall(one.points, assessment.practice.vocabulary, words),
        *_closed(one.closed, assessment.practice.vocabulary, words),
        *_texts("paths", one.difference.paths, words),
        *_results(one, words),
        *(_texts("hours", tuple(hours_texts(one.hours)), words) if one.hours else ()),
        *_texts("paragraphs", one.difference.paragraphs, words),
        *_texts("submittals", one.difference.submittals, words),
        *_list("drawings", one.difference.drawings, words),
        *_texts("order", one.difference.order, words),
        *_list("affected", one.affected, words),
        *_list("show", one.to_show, words),
        *_list("unstated", one.unstated, words),
        *_list("costs", one.costs, words, words("costs_note")),
        *_combined(one.together, assessment.practice.vocabulary, words),
        Para(Style.HEADING, text(words("cautions_heading"))),
        *(Para(Style.BULLET, text(caution)) for caution in cautions()),
        Para(Style.BODY, text(words("decision"))),
        Para(Style.BODY, text(words("signature"))),
    ]
    title, subject = f"{words('title')} {one.request.number}", words("subject")
    properties = properties_of(project, title, subject, "Recommendation")
    return framed(properties, blocks, f"Request {one.request.number}", words("title"), landscape=True)


def _facts(one: Substitution, assessment: Assessment, words: FormText) -> Table:
    info = one.request.info
    rows = [
        (
            title,
            assessment.project.title
            if name == "project"
            else str(info.values.get(name, words("not_stated"))),
        )
        for name, title in words.texts["facts"].items()
    ]
    return Table(words.list("facts_columns"), tuple(rows), _FACTS, words("facts_caption"))


def _texts(what: str, changes: tuple[TextChange, ...], words: FormText, silent: str = "") -> Iterator[Block]:
    yield Para(Style.HEADING, text(words(f"{what}_heading")))
    if not changes:
        yield Para(Style.BODY, text(sentence(words("nothing"))))
        return
    none = silent or words("nothing")
    rows = tuple((one.place, one.before or none, one.after or none) for one in changes)
    yield Table(words.list("text_columns"), rows, _TEXTS, words(f"{what}_heading"))


def _points(one: ProductReview, words: FormText) -> Iterator[Block]:
    caption = words("points_caption", product=one.product.name)
    yield Para(Style.HEADING, text(f"{words('points_heading')}: {caption}"))
    if not one.verdicts:
        yield Para(Style.BODY, text(words("points_none")))
        return
    rows, tones = [], []
    for verdict in one.verdicts:
        claim = one.product.claims.get(verdict.requirement.attribute)
        where = f"{verdict.section}, {verdict.paragraph}" if verdict.paragraph else verdict.section
        title = f"{capital(verdict.requirement.title)} ({where})"
        evidence = claim.evidence if claim and claim.evidence else words("not_stated")
        rows.append(
            (
                title,
                verdict.limit,
                verdict.submitted,
                evidence,
                verdict.result.value,
                sentence(verdict.reason),
            )
        )
        tones.append(TONES[verdict.result])
    yield Table(words.list("points_columns"), tuple(rows), _POINTS, caption, tuple(tones))


def _wall(points: tuple[WallPoint, ...], vocabulary: Vocabulary, words: FormText) -> Iterator[Block]:
    yield Para(Style.HEADING, text(words("wall_heading")))
    if not points:
        yield Para(Style.BODY, text(words("wall_none")))
        return
    rows = tuple(point_row(point, vocabulary) for point in points)
    tones = tuple("bad" if point.finding.outcome is Outcome.FAIL else "doubt" for point in points)
    yield Table(words.list("wall_columns"), rows, _WALL, words("wall_caption"), tones)  # type: ignore[arg-type]


def _closed(points: tuple[WallPoint, ...], vocabulary: Vocabulary, words: FormText) -> Iterator[Block]:
    if not points:
        return
    yield Para(Style.HEADING, text(words("closed_heading")))
    for point in points:
        item = words(
            "closed",
            requirement=point.finding.title,
            places=parapets_in_words(point.parapets),
            message=without_keys(point.finding.message, vocabulary),
        )
        yield Para(Style.BULLET, text(item))


def _results(one: Substitution, words: FormText) -> Iterator[Block]:
    yield Para(Style.HEADING, text(words("results_heading")))
    results = one.difference.results
    if not results:
        yield Para(Style.BODY, text(sentence(words("nothing"))))
        return
    groups: dict[tuple[str, ...], list[str]] = {}
    for change in results:
        factor = f"{change.factor:.3g}" if change.factor is not None else ""
        cells = (change.subject, change.title, change.before, change.after, factor)
        groups.setdefault(cells, []).append(change.parapet)
    rows = tuple((f"{cells[0]}, {joined(parapets, 'and')}", *cells[1:]) for cells, parapets in groups.items())
    yield Table(words.list("results_columns"), rows, _RESULTS, words("results_caption"))


def _list(what: str, items: tuple[str, ...], words: FormText, note: str = "") -> Iterator[Block]:
    yield Para(Style.HEADING, text(words(f"{what}_heading")))
    if note:
        yield Para(Style.BODY, text(note))
    for item in items or (words("nothing"),):
        yield Para(Style.BULLET, text(sentence(item)))


def _combined(
    combinations: tuple[Combination, ...], vocabulary: Vocabulary, words: FormText
) -> Iterator[Block]:
    if not combinations:
        return
    yield Para(Style.HEADING, text(words("combined_heading")))
    rows = tuple(
        (joined(one.changes, "and"), one.parapet, sentence(without_keys(one.finding.message, vocabulary)))
        for one in combinations
    )
    yield Table(words.list("combined_columns"), rows, _SETS, words("combined_caption"))
