"""A substitution request held against the project: point by point, and everything in the wall that it changes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from specgen.assessment import Assessment
from specgen.drawing.shapes import Drawing
from specgen.explain.bench import Bench
from specgen.model.finding import Finding, Severity
from specgen.model.project import Component, Project
from specgen.model.submission import (
    ProductReview,
    Recommendation,
    Result,
    Submission,
    WallPoint,
)
from specgen.model.substitution import Request
from specgen.practice.entries import Field, Practice
from specgen.review.compare import Comparison, TextChange, compare, trades_touched
from specgen.review.hours import HoursChange
from specgen.review.judge import review
from specgen.review.package import Key, add_point, recommend_with_wall
from specgen.review.wall import Change, Combination, least_sets, wall_effects
from specgen.sections.form_text import FormText
from specgen.sections.words import joined, parapets_in_words, value_words, without_file
from specgen.specification import Specification
from specgen.units.counted import many

OPEN = (Result.NOT_STATED, Result.OTHER_METHOD, Result.CONFIRM)
SIGNED = (
    "coping wind",
    "cleat fasteners",
    "cleat loads",
    "lath fasteners",
    "scuppers",
)  # results an engineer of record signs


@dataclass(frozen=True)
class Substitution:
    """One request with everything that follows from it."""

    request: Request
    proposed: tuple[TextChange, ...]
    products: tuple[ProductReview, ...]
    points: tuple[WallPoint, ...]
    closed: tuple[WallPoint, ...]
    difference: Comparison
    affected: tuple[str, ...]
    to_show: tuple[str, ...]
    unstated: tuple[str, ...]
    costs: tuple[str, ...]
    recommendation: Recommendation
    why: str  # with the codes of rules, for the reviewer
    why_in_words: str  # with their titles, for the form
    together: tuple[
        Combination, ...
    ] = ()  # least sets of requests, this among them, that break the wall only together
    hours: tuple[HoursChange, ...] = ()  # kept hourly results that hold for the wall as specified alone

    @property
    def failed(self) -> bool:
        """Whether the request is to be submitted again, or a wall that dries no longer does."""
        return self.recommendation.again or any(one.failed for one in self.hours)

    @property
    def open(self) -> bool:
        """Whether a row is to be confirmed, or the wall as proposed wants a value to be judged."""
        wall = any(point.finding.open for point in self.points) or any(one.open for one in self.hours)
        return wall or any(one.open for one in self.products)


@dataclass(frozen=True)
class Proposal:
    """A request and how it changes a project; ``hours``: what became of the kept hourly results by it."""

    request: Request
    made: Callable[[Project], Project]
    hours: tuple[HoursChange, ...] = ()

    @property
    def change(self) -> Change:
        """The request as a change of the wall, named by its number. It may reach any parapet."""
        return Change(self.request.number, self.made)


def substitution(
    proposal: Proposal, bench: Bench, before: Specification, after: Specification, drawn: Sequence[Drawing]
) -> Substitution:
    """Hold one request against the project.

    Args:
        proposal: the request, and how it changes the project.
        bench: assesses the project as specified.
        before: the project as specified.
        after: the project as proposed.
        drawn: the drawings of the project as specified.
    """
    request, assessment = proposal.request, before.assessment
    submission = Submission(request.info, request.products, request.path)
    products = review(
        submission, assessment.requirements, before.paragraphs, assessment.practice, assessment.system
    )
    effects = wall_effects(bench, [proposal.change])
    points = _points((one.parapet, finding) for one in effects for finding in one.worse)
    closed = _points((one.parapet, finding) for one in effects for finding in one.effect.closes)
    difference = compare(before, after, drawn)
    trades = trades_touched(difference, before, after)
    words = FormText("letters/substitution")
    recommendation, why, in_words = _recommended(products, points)
    requester = request.info.word("from") or ""
    return Substitution(
        request=request,
        proposed=tuple(_proposed(assessment, after.assessment)),
        products=products,
        points=points,
        closed=closed,
        difference=difference,
        affected=tuple(trade for trade in trades if trade != requester),
        to_show=tuple(dict.fromkeys((*_to_show(products, points, words), *_hours_to_show(proposal, words)))),
        unstated=tuple(dict.fromkeys(_unstated(request, products, assessment.practice, words))),
        costs=tuple(_costs(request, difference, points, trades, words)),
        recommendation=recommendation,
        why=why,
        why_in_words=in_words,
        hours=proposal.hours,
    )


def combined(proposals: Iterable[Proposal], bench: Bench) -> tuple[Combination, ...]:
    """The least sets of two requests or more that break what none of their parts breaks."""
    changes = [one.change for one in proposals]
    return tuple(one for one in least_sets(bench, changes) if len(one.changes) > 1)


def _points(found: Iterable[tuple[str, Finding]]) -> tuple[WallPoint, ...]:
    points: dict[Key, WallPoint] = {}
    for parapet, finding in found:
        add_point(points, parapet, finding)
    return tuple(points.values())


def _proposed(before: Assessment, after: Assessment) -> Iterator[TextChange]:
    """The values of the wall that differ, by place; parapets with the same change are named once."""
    found: dict[tuple[str, str, str], list[str]] = {}
    for old, new in zip(before.project.parapets, after.project.parapets, strict=True):
        parts = {part.id: part for part in new.components()}
        for was in old.components():
            fields = before.practice.vocabulary.roles[was.role].fields
            for name, one, other in _differing(was, parts[was.id], fields, before.system):
                found.setdefault((f"{was.id}, {name}", one, other), []).append(old.name)
    for (place, one, other), names in found.items():
        yield TextChange(f"{place}, {parapets_in_words(tuple(names))}", one, other)


def _differing(
    was: Component, now: Component, fields: Mapping[str, Field], system: str
) -> Iterator[tuple[str, str, str]]:
    if was.kind != now.kind:
        yield "generic kind", was.kind, now.kind
    for name in dict.fromkeys(name for one in (was, now) for name in (*one.written, *one.bounds)):
        if name in ("kind", "role"):
            continue
        values = [_stated_words(one, name, system) for one in (was, now)]
        if values[0] != values[1]:
            yield fields[name].title, values[0], values[1]


def _stated_words(part: Component, name: str, system: str) -> str:
    doubted = part.doubted.get(name)
    stated = doubted or part.stated(name)
    if stated is None:
        return ""
    words = stated.text if stated.sense else value_words(stated.value, "is", system)
    return f"{words} (not confirmed)" if doubted else words


def _recommended(
    products: tuple[ProductReview, ...], points: tuple[WallPoint, ...]
) -> tuple[Recommendation, str, str]:
    """The strictest of the products, made stricter by the wall. Another kind than specified is what is asked for here."""
    order = (Recommendation.NO_EXCEPTIONS, Recommendation.CORRECTIONS, Recommendation.RESUBMIT)
    rows = [_as_substitute(one) for one in products] or [
        (Recommendation.NO_EXCEPTIONS, "the assembly alone changes")
    ]
    worst = max(rows, key=lambda row: order.index(row[0]))
    return recommend_with_wall(*worst, points)


def _as_substitute(one: ProductReview) -> tuple[Recommendation, str]:
    if one.recommendation is not Recommendation.REJECTED:
        return one.recommendation, f"{one.product.name}: {one.why}"
    rest = [v for v in one.verdicts if v.result is not Result.MEETS and not v.requirement.identity]
    if not rest:
        return Recommendation.CORRECTIONS, f"{one.product.name}: {one.why}; every other requirement is met"
    return (
        Recommendation.RESUBMIT,
        f"{one.product.name}: {one.why}; {many(len(rest), 'other requirement')} not proven",
    )


def _to_show(
    products: Iterable[ProductReview], points: Iterable[WallPoint], words: FormText
) -> Iterator[str]:
    for one in products:
        for verdict in one.verdicts:
            unproven = verdict.result in OPEN and verdict.cure
            # Another kind than specified is what is asked for.
            if unproven or (verdict.result is Result.FAILS and not verdict.requirement.identity):
                yield f"{one.product.name}: {verdict.cure}"
    for point in points:
        finding = point.finding
        if finding.open:
            asks = finding.message.endswith("?")
            yield finding.message if asks else words("show_unknown", message=finding.message)
        elif finding.severity is Severity.QUERY:
            yield words("show_query", message=finding.message, remedy=without_file(finding.remedy))


def _hours_to_show(proposal: Proposal, words: FormText) -> Iterator[str]:
    yield from (words("show_hours", parapet=one.parapet) for one in proposal.hours if one.open)


def _unstated(
    request: Request, products: Iterable[ProductReview], practice: Practice, words: FormText
) -> Iterator[str]:
    for name in ("reason", "cost", "time", "from", "date"):
        if not request.info.has(name):
            yield words(f"unstated_{name}")
    for one in products:
        fields = practice.vocabulary.roles[one.product.role].fields
        for verdict in one.verdicts:
            name, title = verdict.requirement.attribute, verdict.requirement.title
            claim = one.product.claims.get(name)
            if claim is None:
                yield words("unstated_value", product=one.product.name, title=title)
            elif name != "kind":
                if not claim.evidence:
                    yield words("unstated_evidence", product=one.product.name, title=title)
                if not claim.method and fields[name].method:
                    yield words("unstated_method", product=one.product.name, title=title)


def _costs(
    request: Request,
    difference: Comparison,
    points: Iterable[WallPoint],
    trades: tuple[str, ...],
    words: FormText,
) -> Iterator[str]:
    yield words("cost_review")
    if difference.paragraphs:
        names = dict.fromkeys(change.place.partition(",")[0] for change in difference.paragraphs)
        yield words(
            "cost_paragraphs",
            counted=many(len(difference.paragraphs), "paragraph"),
            sections=joined(names, "and"),
        )
    if difference.drawings:
        yield words("cost_drawings", counted=many(len(difference.drawings), "drawing"))
    if difference.submittals:
        yield words("cost_submittals", counted=many(len(difference.submittals), "submittal"))
    others = [trade for trade in trades if trade != (request.info.word("from") or "")]
    if others:
        yield words("cost_trades", trades=joined(others, "and"))
    if difference.order:
        yield words("cost_order")
    signed = dict.fromkeys(one.subject for one in difference.results if one.subject in SIGNED)
    if signed:
        yield words("cost_engineer", subjects=joined(signed, "and"))
    yield words("cost_mockup")
    if any("compatib" in f"{point.finding.name} {point.finding.message}" for point in points):
        yield words("cost_letters")
