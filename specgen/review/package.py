"""A package of submittals judged whole: row by row, then each product in the wall, then all of them together."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from specgen.assessment import Assessment
from specgen.design.progress import tell
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
from specgen.review.places import by_place
from specgen.review.twice import Placed, contradictions, unread
from specgen.review.twice import placed as where_submitted
from specgen.review.wall import Change, WallEffect, least_set_for, wall_effects
from specgen.sections.form_text import FormText
from specgen.sections.words import parapets_in_words
from specgen.specification import Specification
from specgen.wall.products import not_placed, with_products

Reviewed = tuple[Submission, tuple[ProductReview, ...]]
Key = tuple[str, str, str, str]
_Place = tuple[str, str, str, str]  # parapet, rule, layer, attribute


def review_package(submissions: Sequence[Submission], spec: Specification) -> tuple[Reviewed, ...]:
    """Every submittal of a package against the requirements, the wall, and the other submittals.

    Args:
        submissions: judged together. Products for the same role and place are alternatives: each is judged alone,
            and each along with the others of the package, never two of them in one wall.
        spec: the project as written.

    Returns:
        Each submittal with one review a product, in the order given.
    """
    assessment = spec.assessment
    rows = [
        (one, review(one, assessment.requirements, spec.paragraphs, assessment.practice, assessment.system))
        for one in submissions
    ]
    nowhere = {
        id(one.product)
        for one in not_placed(assessment.project, (p for sent in submissions for p in sent.products))
    }
    placed = [
        _Placed(_change(assessment, one, product, place), product)
        for one in submissions
        for place, product in enumerate(one.products)
    ]
    points = _points(Bench(assessment, stated_only=True), placed)
    effects = iter(
        (points[one.change.name], tuple(other.change.name for other in _alternatives(one, placed)))
        for one in placed
    )
    everything = where_submitted(submissions)
    return tuple(
        (
            submission,
            tuple(
                by_place(
                    _with_wall(
                        _noted(_unasked(one, assessment, id(one.product) in nowhere), everything, assessment),
                        *next(effects),
                    ),
                    assessment.project.parapets,
                    recommend_with_wall,
                )
                for one in reviews
            ),
        )
        for submission, reviews in rows
    )


@dataclass(frozen=True)
class _Placed:
    """A submitted product and the change it makes of the wall."""

    change: Change
    product: Product

    def instead_of(self, other: _Placed) -> bool:
        """Whether both are for one role at one place: only one of them can be built there."""
        mine, theirs = self.product, other.product
        apart = mine.parapets and theirs.parapets and not set(mine.parapets) & set(theirs.parapets)
        return mine.role == theirs.role and not apart


def _ends(one: _Placed, bench: Bench) -> Iterator[Change]:
    """The change a product makes, and what each end makes that it states of a bound or a range, as if it were exact."""
    yield one.change
    claims = one.product.claims
    for end in (0, 1):
        exact = {
            name: replace(claim, value=value, sense="", upper=None)
            for name, claim in claims.items()
            if claim.sense and (value := claim.stated.ends[end]) is not None
        }
        if exact:
            far = replace(one.product, claims={**claims, **exact})
            made = partial(with_products, products=[far], practice=bench.assessment.practice)
            yield replace(one.change, made=made)


def _alternatives(one: _Placed, placed: Sequence[_Placed]) -> tuple[_Placed, ...]:
    return tuple(other for other in placed if other is not one and one.instead_of(other))


def _walls(placed: Sequence[_Placed]) -> Iterator[tuple[Change, ...]]:
    """Walls of the package that never hold two alternatives; each product stands in at least one."""
    turn: dict[str, int] = {}
    for number, one in enumerate(placed):
        earlier = [turn[other.change.name] for other in placed[:number] if one.instead_of(other)]
        turn[one.change.name] = max(earlier, default=-1) + 1
    for now in range(max(turn.values(), default=-1) + 1):
        so_far = [one for one in placed if turn[one.change.name] <= now]
        yield tuple(
            one.change
            for one in so_far
            if not any(
                turn[other.change.name] > turn[one.change.name] for other in so_far if one.instead_of(other)
            )
        )


def _change(assessment: Assessment, submission: Submission, product: Product, place: int) -> Change:
    def made(project: Project) -> Project:
        return with_products(project, [product], assessment.practice)

    number = submission.info.word("number") or ""
    return Change(f"{number}, item {place + 1}, {product.name}", made, product.parapets)


def _points(bench: Bench, placed: Sequence[_Placed]) -> Mapping[str, tuple[WallPoint, ...]]:
    """What each change does alone, and what it does only along with others."""
    found: dict[str, dict[Key, WallPoint]] = {one.change.name: {} for one in placed}
    alone: dict[str, set[_Place]] = {one.change.name: set() for one in placed}
    together = [group for group in _walls(placed) if len(group) > 1]
    steps = len(placed) + len(together)
    for done, one in enumerate(placed):
        tell(done / steps)
        name = one.change.name
        for effect in (e for end in _ends(one, bench) for e in wall_effects(bench, [end])):
            for finding in (*effect.worse, *_asked_anew(effect)):
                alone[name].add((effect.parapet, *_rule_at(finding)))
                add_point(found[name], effect.parapet, finding)
    menders: set[str] = set()
    for done, changes in enumerate(together, start=len(placed)):
        tell(done / steps)
        known = set().union(*(alone[change.name] for change in changes))
        effects = wall_effects(bench, changes)
        for effect in effects:
            for finding in _not_alone(effect, known):
                group = least_set_for(bench, changes, effect.parapet, finding)
                for change in group:
                    others = tuple(other.name for other in group if other is not change)
                    add_point(found[change.name], effect.parapet, finding, others)
        for change in changes:
            for key, point in found[change.name].items():
                if not point.along_with and not point.mended_by and _gone(point, effects):
                    mended_by = _menders(bench, change, changes, point, menders)
                    menders |= set(mended_by[:1] if len(mended_by) == 1 else ())
                    found[change.name][key] = replace(point, mended_by=mended_by)
    return {name: tuple(points.values()) for name, points in found.items()}


def _gone(point: WallPoint, effects: Iterable[WallEffect]) -> bool:
    """Whether what a product does alone does not happen in another wall."""
    rule = _rule_at(point.finding)
    return not any(
        rule == _rule_at(one)
        for effect in effects
        if effect.parapet in point.parapets
        for one in (*effect.worse, *_asked_anew(effect))
    )


def _menders(
    bench: Bench, change: Change, changes: Sequence[Change], point: WallPoint, known: Collection[str]
) -> tuple[str, ...]:
    """The one other change that undoes a point, or all of them where no single one does.

    One that is known to mend another point is tried first. Else it is looked for by halves: the half along with which
    the point does not happen is parted again. Where halves do not lead to it, as when one change mends and another
    spoils it again, each is tried.
    """
    others = sorted((one for one in changes if one is not change), key=lambda one: one.name not in known)

    def enough(some: Sequence[Change]) -> bool:
        return _gone(point, wall_effects(bench, (change, *some), point.parapets))

    likely = (one for one in others if one.name in known and enough((one,)))
    one = (
        next(likely, None) or _one_of(others, enough) or next((one for one in others if enough((one,))), None)
    )
    return (one.name,) if one else tuple(other.name for other in others)


def _one_of(some: Sequence[Change], enough: Callable[[Sequence[Change]], bool]) -> Change | None:
    """One change that is enough alone, out of several that are enough together; None where halves lead to none."""
    if len(some) == 1:
        return some[0]
    halves = (some[: len(some) // 2], some[len(some) // 2 :])
    found = (_one_of(half, enough) for half in halves if enough(half))
    return next((one for one in found if one is not None), None)


def _rule_at(finding: Finding) -> tuple[str, str, str]:
    return finding.code, finding.layer, finding.attribute


def _asked_anew(effect: WallEffect) -> tuple[Finding, ...]:
    """What was a question to the manufacturers before, and is another question of the submitted product."""
    return tuple(
        pair.after
        for pair in effect.effect.alters
        if pair.after.severity is Severity.QUERY
        and pair.after.outcome is Outcome.FAIL
        and rank(pair.after) == rank(pair.before)
    )


def _not_alone(effect: WallEffect, alone: set[_Place]) -> tuple[Finding, ...]:
    return tuple(one for one in effect.worse if (effect.parapet, *_rule_at(one)) not in alone)


def add_point(
    points: dict[Key, WallPoint], parapet: str, finding: Finding, others: tuple[str, ...] = ()
) -> None:
    """One point for the same words at several parapets."""
    key = (finding.code, finding.layer, finding.message, "; ".join(others))
    known = points.get(key)
    before = known.parapets if known else ()
    parapets = before if parapet in before else (*before, parapet)
    points[key] = WallPoint(known.finding if known else finding, parapets, others)


def _unasked(one: ProductReview, assessment: Assessment, nowhere: bool) -> ProductReview:
    """A product of which no paragraph asks anything: there is nothing to revise.

    Where the walls have such a part, a person decides; where none of them has, it was not required.
    """
    if one.verdicts:
        return one
    if nowhere:
        role = assessment.practice.vocabulary.roles[one.product.role].title
        elsewhere = any(parapet.all_of(one.product.role) for parapet in assessment.project.parapets)
        places = parapets_in_words(one.product.parapets) if elsewhere else ""
        words = FormText("letters/review")(
            "not_required_at" if elsewhere else "not_required", role=role, places=places
        )
        return replace(one, recommendation=Recommendation.NOT_REQUIRED, why=words, why_in_words=words)
    words = FormText("letters/review")("unasked")
    return replace(one, recommendation=Recommendation.CORRECTIONS, why=words, why_in_words=words)


def _noted(one: ProductReview, everything: Sequence[Placed], assessment: Assessment) -> ProductReview:
    """The review with what else of the paper is to be cleared up; nothing is accepted as it is before that is done."""
    practice = assessment.practice
    if one.recommendation is Recommendation.NOT_REQUIRED:
        return one
    notes = (*contradictions(one.product, everything, practice), *unread(one, practice))
    if not notes or one.recommendation is not Recommendation.NO_EXCEPTIONS:
        return replace(one, notes=notes)
    why = FormText("letters/review")("noted", why=one.why)
    return replace(one, notes=notes, recommendation=Recommendation.CORRECTIONS, why=why, why_in_words=why)


def _with_wall(
    one: ProductReview, points: tuple[WallPoint, ...], alternatives: tuple[str, ...]
) -> ProductReview:
    """The review with what the product does to the wall; what a row already says is not said again."""
    silent = {
        verdict.requirement.attribute
        for verdict in one.verdicts
        if verdict.result is Result.NOT_STATED or verdict.doubted
    }
    reported = {
        verdict.requirement.name
        for verdict in one.verdicts
        if verdict.result in (Result.FAILS, Result.CONFIRM)
    }
    new = tuple(
        point
        for point in points
        if not (point.finding.outcome is Outcome.UNKNOWN and point.finding.attribute in silent)
        and (point.finding.requirement or "").partition("@")[0] not in reported
    )
    result, why, in_words = recommend_with_wall(one.recommendation, one.why, new)
    return replace(
        one, wall=new, recommendation=result, why=why, why_in_words=in_words, alternatives=alternatives
    )


def recommend_with_wall(
    rows: Recommendation, why: str, points: Sequence[WallPoint]
) -> tuple[Recommendation, str, str]:
    """The recommendation of the rows, made stricter by what the product does to the wall.

    A defect or a risk that the product brings in: revise and resubmit. What someone must confirm, or a value nobody
    states, or a fault that another product of the package mends: make corrections noted, with the condition told. The
    wall never makes a recommendation milder.

    Returns:
        The recommendation; why, with the codes of the rules, for the reviewer; why in words, for the letter.
    """
    heavy = [point.finding for point in points if point.breaks]
    if heavy and rows is not Recommendation.REJECTED:
        before = "" if rows is Recommendation.NO_EXCEPTIONS else f"{why}; "
        codes = ", ".join(dict.fromkeys(one.code for one in heavy))
        return (
            Recommendation.RESUBMIT,
            f"{before}breaks the wall: {codes}",
            before + _in_words("why_breaks", heavy),
        )
    if points and rows in (Recommendation.NO_EXCEPTIONS, Recommendation.CORRECTIONS):
        asked = [point.finding for point in points]
        codes = ", ".join(dict.fromkeys(one.code for one in asked))
        in_words = f"{why}; {_in_words('why_condition', asked)}"
        return Recommendation.CORRECTIONS, f"{why}; acceptable on condition: {codes}", in_words
    return rows, why, why


def _in_words(key: str, findings: Iterable[Finding]) -> str:
    titles = dict.fromkeys(one.title[:1].lower() + one.title[1:] for one in findings)
    return FormText("letters/review")(key, titles="; ".join(titles))
