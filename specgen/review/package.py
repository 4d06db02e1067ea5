"""A package of submittals judged whole: row by row, then each product in the wall, then all of them together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from specgen.assessment import Assessment
from specgen.explain.bench import Bench, rank
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.project import Project
from specgen.model.submission import (
    Product,
    ProductReview,
    Recommendation,
    Result,
    Submission,
    WallPoint,
)
from specgen.review.judge import review
from specgen.review.rebuild import with_products
from specgen.review.wall import Change, WallEffect, least_set_for, wall_effects
from specgen.rules.book import BookEntry
from specgen.sections.build import ParagraphRef

Reviewed = tuple[Submission, tuple[ProductReview, ...]]
_Key = tuple[str, str, str, str]


def review_package(
    submissions: Sequence[Submission],
    assessment: Assessment,
    book: Iterable[BookEntry],
    paragraphs: Mapping[str, ParagraphRef],
) -> tuple[Reviewed, ...]:
    """Every submittal of a package against the requirements, the wall, and the other submittals.

    Args:
        submissions: judged together; of two products for the same role and place the later stands in the wall.
        assessment: the project.
        book: the rules that are run again.
        paragraphs: requirement id to the paragraph that states it.

    Returns:
        Each submittal with one review a product, in the order given.
    """
    rows = [
        (one, review(one, assessment.requirements, paragraphs, assessment.practice, assessment.system))
        for one in submissions
    ]
    changes = {
        (number, place): _change(assessment, one, product, place)
        for number, one in enumerate(submissions)
        for place, product in enumerate(one.products)
    }
    points = _points(Bench(assessment, book), assessment.project, tuple(changes.values()))
    return tuple(
        (
            submission,
            tuple(
                _with_wall(one, points.get(changes[number, place].name, ()))
                for place, one in enumerate(reviews)
            ),
        )
        for number, (submission, reviews) in enumerate(rows)
    )


def _change(assessment: Assessment, submission: Submission, product: Product, place: int) -> Change:
    def made(project: Project) -> Project:
        return with_products(project, [product], assessment.practice)

    number = submission.info.word("number") or ""
    return Change(f"{number}, item {place + 1}, {product.name}", made, product.parapets)


def _points(
    bench: Bench, project: Project, changes: tuple[Change, ...]
) -> Mapping[str, tuple[WallPoint, ...]]:
    """What each change does alone, and what it does only along with others."""
    found: dict[str, dict[_Key, WallPoint]] = {change.name: {} for change in changes}
    alone: set[tuple[str, str, str, str]] = set()
    for change in changes:
        for effect in wall_effects(bench, project, [change]):
            for finding in (*effect.worse, *_asked_anew(effect)):
                alone.add((effect.parapet, finding.code, finding.layer, finding.attribute))
                _add(found[change.name], effect.parapet, finding, ())
    if len(changes) > 1:
        for effect in wall_effects(bench, project, changes):
            for finding in _not_alone(effect, alone):
                group = least_set_for(bench, project, changes, effect.parapet, finding)
                for change in group:
                    others = tuple(one.name for one in group if one is not change)
                    _add(found[change.name], effect.parapet, finding, others)
    return {name: tuple(points.values()) for name, points in found.items()}


def _asked_anew(effect: WallEffect) -> tuple[Finding, ...]:
    """What was a question to the makers before, and is another question of the submitted product."""
    return tuple(
        pair.after
        for pair in effect.effect.alters
        if pair.after.severity is Severity.QUERY
        and pair.after.outcome is Outcome.FAIL
        and rank(pair.after) == rank(pair.before)
    )


def _not_alone(effect: WallEffect, alone: set[tuple[str, str, str, str]]) -> tuple[Finding, ...]:
    return tuple(
        one for one in effect.worse if (effect.parapet, one.code, one.layer, one.attribute) not in alone
    )


def _add(points: dict[_Key, WallPoint], parapet: str, finding: Finding, others: tuple[str, ...]) -> None:
    """One point for the same words at several parapets."""
    key = (finding.code, finding.layer, finding.message, "; ".join(others))
    known = points.get(key)
    parapets = (*known.parapets, parapet) if known else (parapet,)
    points[key] = WallPoint(known.finding if known else finding, parapets, others)


def _with_wall(one: ProductReview, points: tuple[WallPoint, ...]) -> ProductReview:
    """The review with what the product does to the wall; what a row already says is not said again."""
    silent = {
        verdict.requirement.attribute for verdict in one.verdicts if verdict.result is Result.NOT_STATED
    }
    failed = {verdict.requirement.id for verdict in one.verdicts if verdict.result is Result.FAILS}
    new = tuple(
        point
        for point in points
        if not (point.finding.outcome is Outcome.UNDETERMINED and point.finding.attribute in silent)
        and not (point.finding.requirement and point.finding.requirement in failed)
    )
    recommendation, why = recommend_with_wall(one.recommendation, one.why, new)
    return replace(one, wall=new, recommendation=recommendation, why=why)


def recommend_with_wall(
    rows: Recommendation, why: str, points: Sequence[WallPoint]
) -> tuple[Recommendation, str]:
    """The recommendation of the rows, made stricter by what the product does to the wall.

    A defect or a risk that the product brings in: revise and resubmit. What someone must confirm, or a value nobody
    states: make corrections noted, with the condition told. The wall never makes a recommendation milder.
    """
    certain = [point.finding for point in points if point.finding.outcome is Outcome.FAIL]
    heavy = [one for one in certain if one.severity is not Severity.QUERY]
    if heavy and rows is not Recommendation.REJECTED:
        codes = ", ".join(dict.fromkeys(one.code for one in heavy))
        told = f"breaks the wall: {codes}"
        return Recommendation.RESUBMIT, told if rows is not Recommendation.RESUBMIT else f"{why}; {told}"
    if points and rows is Recommendation.NO_EXCEPTIONS:
        codes = ", ".join(dict.fromkeys(point.finding.code for point in points))
        return Recommendation.CORRECTIONS, f"{why}; acceptable on condition: {codes}"
    return rows, why
