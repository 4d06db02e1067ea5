"""One submitted product against the requirements of its role: a verdict a requirement."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from specgen.model.project import Sense, Stated, Value
from specgen.model.requirement import Limit, Requirement, RequirementSet
from specgen.model.submission import (
    Claim,
    Product,
    ProductReview,
    Recommendation,
    Result,
    Submission,
    Unconfirmed,
    Unreadable,
    Verdict,
)
from specgen.practice.entries import Practice
from specgen.practice.methods import MAKERS_WORD
from specgen.requirements.judge import Judgement, Standing, judge
from specgen.sections.build import ParagraphRef
from specgen.sections.words import requirement_words, value_words
from specgen.units.compare import deciding
from specgen.units.counted import many
from specgen.units.quantity import Quantity, row_of
from specgen.units.show import show, show_apart, show_beside
from specgen.wall.products import doubted_claims

HALF = Fraction(1, 2)
HEAVY: Mapping[Result, str] = {  # what asks for another submittal, as a count of it is printed
    Result.FAILS: "not met",
    Result.NOT_STATED: "not stated",
    Result.OTHER_METHOD: "by another method",
    Result.NOT_PROVEN: "without evidence",
    Result.UNREADABLE: "not readable",
}
_NO_EVIDENCE = "No document, page or report is named for it"
_SENSE_WORDS: Mapping[Sense, str] = {"at most": "not more than"}  # as the specification says it


@dataclass(frozen=True)
class Judged:
    """The result for one value, with the reason and what would cure it."""

    result: Result
    reason: str
    cure: str = ""
    margin: str = ""  # "26 % above the limit"
    note: str = ""  # "by ASTM E2178-13, an older edition than ASTM E2178-21"


def review(
    submission: Submission,
    requirements: RequirementSet,
    paragraphs: Mapping[str, ParagraphRef],
    practice: Practice,
    system: str,
) -> tuple[ProductReview, ...]:
    """Every product of a submittal against the requirements of its role.

    Args:
        submission: what was submitted.
        requirements: the project's requirements.
        paragraphs: requirement id to the paragraph that states it.
        practice: the vocabulary, for accepted test methods.
        system: language of units of the words.

    Returns:
        One review a product, in the order submitted.
    """
    return tuple(
        _review_one(product, requirements, paragraphs, practice, system) for product in submission.products
    )


def _review_one(
    product: Product,
    requirements: RequirementSet,
    paragraphs: Mapping[str, ParagraphRef],
    practice: Practice,
    system: str,
) -> ProductReview:
    doubted = doubted_claims(product, practice, system)
    verdicts = tuple(
        _verdict(requirement, product, doubted, paragraphs, practice, system)
        for requirement in _on(product, requirements)
    )
    recommendation, why = recommend(verdicts)
    return ProductReview(product, verdicts, recommendation, why, why)


def _verdict(
    requirement: Requirement,
    product: Product,
    doubted: Mapping[str, str],
    paragraphs: Mapping[str, ParagraphRef],
    practice: Practice,
    system: str,
) -> Verdict:
    name = requirement.attribute
    claim = product.claims.get(name)
    given = product.unconfirmed.get(name) or product.unreadable.get(name)
    stated, source = paragraphs.get(requirement.id), given or claim
    found = row_of_product(requirement, product, doubted.get(name, ""), practice, system)
    return Verdict(
        requirement=requirement,
        limit=requirement_words(requirement, practice, system),
        result=found.result,
        submitted=_shown(given, claim, requirement.limit, system),
        reason=found.reason,
        cure=found.cure,
        section=stated.section if stated else requirement.section,
        paragraph=stated.number if stated else "",
        mark=source.mark if source else product.mark,
        evidence=source.evidence if source else "",
        margin=found.margin,
        note=found.note,
        doubted=bool(claim and doubted.get(name)),
    )


def row_of_product(
    requirement: Requirement, product: Product, doubt: str, practice: Practice, system: str
) -> Judged:
    """What a product states against one requirement: to be confirmed, not readable, not expected, or judged.

    Args:
        requirement: on the product's role.
        product: as submitted.
        doubt: why the value is not expected of such a product; "" where it is.
        practice: the vocabulary, for accepted test methods.
        system: language of units of the words.
    """
    name = requirement.attribute
    claim = product.claims.get(name)
    if read := product.unconfirmed.get(name):
        return _to_confirm(requirement, read)
    if unusable := product.unreadable.get(name):
        return _unreadable(requirement, unusable)
    if claim and doubt:
        return _meant(requirement, claim, doubt, system)
    found = judged(requirement, claim, practice, system)
    if product.against and found.result is Result.MEETS:
        cure = f"{_proof(requirement)}; or submit the manufacturer's letter that the paper counts for this project"
        return Judged(Result.CONFIRM, f"The paper does not count as it stands: {product.against}", cure)
    return found


def _on(product: Product, requirements: RequirementSet) -> Iterator[Requirement]:
    """The requirements a product must answer: those of its role, where it goes.

    A requirement on installation is answered only where the submittal speaks of it (a shop drawing does,
    a data sheet does not).
    """
    for requirement in requirements.of_role(product.role):
        elsewhere = product.parapets and not set(product.parapets) & set(requirement.parapets)
        spoken = any(
            requirement.attribute in found
            for found in (product.claims, product.unconfirmed, product.unreadable)
        )
        silent = requirement.stage == "installation" and not spoken
        if not elsewhere and not silent and requirement.holds_for(product.kind):
            yield requirement


def _as_submitted(claim: Claim | None, limit: Limit, system: str) -> str:
    """The value as it was written, and beside it in the units of the limit where those are others."""
    if claim is None:
        return "not stated"
    value = claim.value
    words = value.text if isinstance(value, Quantity) else value_words(value, "is", "inch-pound")
    if claim.tolerance:
        words = f"{claim.written}, {words} to {claim.upper.text if claim.upper else words}"
    elif claim.written:
        words = f"{claim.written}, {words}"
    elif claim.upper is not None:
        words = f"{words} to {claim.upper.text}"
    elif claim.sense:
        words = f"{_SENSE_WORDS.get(claim.sense, claim.sense)} {words}"
    ends = (_converted(end, limit, system) for end in (value, claim.upper))
    if converted := " to ".join(filter(None, ends)):
        words += f" ({converted})"
    return f"{words}, {claim.method}" if claim.method else words


def _converted(value: Value | None, limit: Limit, system: str) -> str:
    """A quantity in the project's units; "" where it is written in them, and in a project of both."""
    if not isinstance(value, Quantity) or system == "both" or row_of(value).system in (system, "either"):
        return ""
    held = limit.stated
    if not isinstance(held, Quantity):
        converted = show(value, system)
    elif deciding(value, limit.comparison, held):
        converted = show_apart(value, system, held)
    else:
        converted, _ = show_beside(value, limit.comparison, held, system)
    return "" if converted == value.text else converted


def _shown(given: Unconfirmed | Unreadable | None, claim: Claim | None, limit: Limit, system: str) -> str:
    """What the submittal says, also where it decides nothing."""
    match given:
        case None:
            return _as_submitted(claim, limit, system)
        case Unreadable():
            return given.seen or "not readable"
        case _:
            return _as_read(given)


def _as_read(read: Unconfirmed) -> str:
    words = ", ".join(part for part in (read.seen, read.method) if part)
    return f"{words} (not confirmed)" if words else "not confirmed"


def _to_confirm(requirement: Requirement, read: Unconfirmed) -> Judged:
    """A value that no person has compared with its evidence decides nothing, whatever it would show."""
    reason = f"The value was read from a data sheet and is not confirmed: {read.why}"
    return Judged(Result.CONFIRM, reason, _proof(requirement))


def _unreadable(requirement: Requirement, given: Unreadable) -> Judged:
    """A value that cannot be used, or that no product can have, fails its row; what it was meant to be is not guessed."""
    fix = f"{_proof(requirement)}; {given.fix}" if given.fix else _proof(requirement)
    why = given.why.removeprefix(f"`{requirement.attribute}`: ")
    return Judged(Result.UNREADABLE, f"{why}. It was not held against the limit", fix)


def _meant(requirement: Requirement, claim: Claim, why: str, system: str) -> Judged:
    """A value that is not expected of such a product decides nothing until it is confirmed, as in a wall."""
    reason = f"{_as_submitted(claim, requirement.limit, system)}; {why}; is this meant?"
    confirm = f"Or confirm the value in the submittal file: `meant: {{{requirement.attribute}: reason}}`"
    cure = f"{_proof(requirement)}. {confirm}"
    if not claim.evidence:
        return Judged(Result.NOT_PROVEN, f"{reason} {_NO_EVIDENCE}", cure)
    return Judged(Result.CONFIRM, reason, cure)


def judged(requirement: Requirement, claim: Claim | None, practice: Practice, system: str) -> Judged:
    """One requirement against one claim, in the words of the review."""
    if claim is None:
        silent = f"the submittal does not {_verb(requirement)} {requirement.title}"
        return Judged(Result.NOT_STATED, silent, _proof(requirement))
    judgement = _at_worse_end(requirement, claim, practice)
    submitted = _as_submitted(claim, requirement.limit, system)
    limit = _limit_words(requirement, claim, judgement, practice, system)
    margin = _margin_words(judgement, claim)
    note = _edition_words(judgement)
    held = (
        f"{submitted}; wanted: {limit}" + (f" ({margin})" if margin else "") + (f"; {note}" if note else "")
    )
    match judgement.standing:
        case Standing.MET if not claim.evidence:
            return Judged(Result.NOT_PROVEN, f"{held}. {_NO_EVIDENCE}", _proof(requirement), margin, note)
        case Standing.MET:
            return Judged(Result.MEETS, held, margin=margin, note=note)
        case Standing.MISSED:
            cure = f"submit a product with {requirement.title}: {limit}"
            if judgement.other_method:
                cure += f"; or, as the value is by another method than is wanted, {_proof(requirement)}"
            return Judged(Result.FAILS, f"{held}. {requirement.reason}", cure, margin, note)
        case Standing.OTHER_METHOD:
            result = Result.OTHER_METHOD
        case _:
            result = Result.CONFIRM
    doubt = _doubt(judgement.standing, requirement, claim, submitted, held)
    if not claim.evidence:
        result = Result.NOT_PROVEN if result is Result.CONFIRM else result
        doubt = f"{doubt}. {_NO_EVIDENCE}"
    return Judged(result, doubt, _proof(requirement), note=note)


def _at_worse_end(requirement: Requirement, claim: Claim, practice: Practice) -> Judgement:
    """The judgement; of a value with a tolerance, that of the end that makes it fail, if one does."""
    whole = judge(requirement, claim.stated, practice)
    if not claim.tolerance or whole.standing is not Standing.OPEN:
        return whole
    ends = (
        judge(requirement, Stated(end, "", None, claim.method), practice) for end in claim.stated.ends if end
    )
    return next((one for one in ends if one.standing is Standing.MISSED), whole)


def _doubt(standing: Standing, requirement: Requirement, claim: Claim, submitted: str, held: str) -> str:
    """Why a value does not show by itself that the requirement is met."""
    value = claim.value.text if isinstance(claim.value, Quantity) else submitted
    match standing:
        case Standing.OPEN:
            what = "range" if claim.upper is not None else "bound"
            return f"{held}. The {what} leaves open whether the limit is met"
        case Standing.OLDER_EDITION:
            return f"{held}. Confirm that the value holds by the edition wanted"
        case Standing.OVERSTATED:
            return f"{held}. It was measured at more than {requirement.condition}, where the value is higher"
        case Standing.NO_CONDITION:
            return f"{value} is stated without its test condition; {requirement.condition} is wanted"
        case Standing.OTHER_CONDITION:
            return f"{value} is stated at another condition than {requirement.condition}"
        case Standing.NO_METHOD:
            return f"{submitted} is stated without a test method; {requirement.method} is wanted"
        case Standing.NO_PROCEDURE:
            return f"{submitted}: the method does not say by which procedure; {requirement.method} is wanted"
        case _:
            return f"{submitted}: measured by another method than {requirement.method}, not comparable"


def _edition_words(judgement: Judgement) -> str:
    """The edition of the method, where it is another than is wanted."""
    other = judgement.edition
    if other is None:
        return ""
    return f"by {other.stated}, {'an older' if other.older else 'a newer'} edition than {other.wanted}"


def _limit_words(
    requirement: Requirement, claim: Claim, judgement: Judgement, practice: Practice, system: str
) -> str:
    """The limit as the sections print it, and beside it what decided where the printed number would tell otherwise."""
    words, against = requirement_words(requirement, practice, system), judgement.against
    as_printed = system == "both" or claim.sense or against is requirement.limit.value
    if as_printed or not isinstance(against, Quantity):
        return words
    own = f" ({show(replace(against, condition=None, nominal=()), row_of(against).system)})"
    return words if own in words else f"{words}{own}"


def _proof(requirement: Requirement) -> str:
    method = f" by {requirement.method}" if requirement.method else ""
    if requirement.method == MAKERS_WORD:
        method = ", as the manufacturer states it"
    condition = f" at {requirement.condition}" if requirement.condition else ""
    article = "" if requirement.evidence == "product data" else "a "
    verb = _verb(requirement).replace("state", "states").replace("confirm", "confirms")
    return f"submit {article}{requirement.evidence} that {verb} {requirement.title}{method}{condition}"


def _verb(requirement: Requirement) -> str:
    """A value is stated; a yes is confirmed."""
    return "confirm:" if isinstance(requirement.limit.value, bool) else "state"


def _margin_words(judgement: Judgement, claim: Claim) -> str:
    if judgement.share is None:
        return ""
    if not judgement.share:
        return "the bound is at the limit" if claim.sense else "at the limit"
    percent = 100 * judgement.share
    side = "above" if percent > 0 else "below"
    least = "at least " if claim.sense else ""
    # A value that rounds to the limit and misses it would read as a contradiction.
    size = str(int(abs(percent) + HALF)) if abs(percent) >= HALF else "less than 0.5"
    if (
        side == "below" and size == "100" and percent != -100
    ):  # something is left: nothing is all of the limit away
        size = "more than 99"
    return f"{least if ' ' not in size else ''}{size} % {side} the limit"


def recommend(verdicts: tuple[Verdict, ...]) -> tuple[Recommendation, str]:
    """The review result that follows from the verdicts, as a recommendation.

    Rejected: another generic kind than specified. Revise and resubmit: a value fails or is missing, or was
    measured by another method. Make corrections noted: only confirmations are open. Otherwise: no
    exceptions taken.
    """
    if not verdicts:
        return Recommendation.RESUBMIT, "no requirement of this project is on a product of this role here"
    wrong = [one for one in verdicts if one.result is Result.FAILS and one.requirement.identity]
    if wrong:
        named = ", ".join(one.requirement.title for one in wrong)
        return Recommendation.REJECTED, f"another product than specified by its {named}"
    counts = {result: sum(one.result is result for one in verdicts) for result in Result}
    open_points = ", ".join(f"{counts[result]} {words}" for result, words in HEAVY.items() if counts[result])
    if open_points and counts[Result.CONFIRM]:
        open_points += f", {counts[Result.CONFIRM]} to confirm"
    if open_points:
        return Recommendation.RESUBMIT, open_points
    if counts[Result.CONFIRM]:
        return Recommendation.CORRECTIONS, f"{counts[Result.CONFIRM]} to confirm"
    return (
        Recommendation.NO_EXCEPTIONS,
        f"{'all ' if len(verdicts) > 1 else ''}{many(len(verdicts), 'requirement')} met",
    )
