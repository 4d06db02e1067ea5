"""One submitted product against the requirements of its role: a verdict a requirement."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from specgen.model.project import Value
from specgen.model.requirement import Requirement, RequirementSet
from specgen.model.submission import (
    Claim,
    Product,
    ProductReview,
    Recommendation,
    Result,
    Sense,
    Submission,
    Unconfirmed,
    Verdict,
)
from specgen.practice.entries import Practice
from specgen.practice.methods import MAKERS_WORD, same_method
from specgen.review.bounds import deciding_end, met
from specgen.sections.build import ParagraphRef
from specgen.sections.words import requirement_words, value_words
from specgen.units.quantity import Quantity, parse, row_of
from specgen.units.show import show

_SENSE_WORDS: Mapping[Sense, str] = {"at most": "not more than"}  # as the specification says it


@dataclass(frozen=True)
class Judged:
    """The result for one value, with the reason and what would cure it."""

    result: Result
    reason: str
    cure: str = ""
    margin: str = ""  # "26 % above the limit"


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
    verdicts = []
    for requirement in _on(product, requirements):
        claim = product.claims.get(requirement.attribute)
        stated = paragraphs.get(requirement.id)
        read = product.unconfirmed.get(requirement.attribute)
        judged = _to_confirm(requirement, read) if read else judge(requirement, claim, practice, system)
        said = read or claim
        verdicts.append(
            Verdict(
                requirement=requirement,
                result=judged.result,
                submitted=_as_read(read) if read else _as_submitted(claim, system),
                reason=judged.reason,
                cure=judged.cure,
                section=stated.section if stated else requirement.section,
                paragraph=stated.number if stated else "",
                mark=said.mark if said else product.mark,
                evidence=said.evidence if said else "",
                margin=judged.margin,
            )
        )
    recommendation, why = recommend(tuple(verdicts))
    return ProductReview(product, tuple(verdicts), recommendation, why)


def _on(product: Product, requirements: RequirementSet) -> Iterator[Requirement]:
    """The requirements a product must answer: those of its role, where it goes.

    A requirement on installation is answered only where the submittal speaks of it (a shop drawing does,
    a data sheet does not).
    """
    for requirement in requirements.of_role(product.role):
        elsewhere = product.parapets and not set(product.parapets) & set(requirement.parapets)
        spoken = requirement.attribute in product.claims or requirement.attribute in product.unconfirmed
        silent = requirement.stage == "installation" and not spoken
        if not elsewhere and not silent and requirement.holds_for(product.kind):
            yield requirement


def _as_submitted(claim: Claim | None, system: str) -> str:
    """The value as it was written, and beside it in the units of the limit where those are others."""
    if claim is None:
        return "not stated"
    value = claim.value
    words = value.text if isinstance(value, Quantity) else value_words(value, "is", "inch-pound")
    if claim.upper is not None:
        words = f"{words} to {claim.upper.text}"
    elif claim.sense:
        words = f"{_SENSE_WORDS.get(claim.sense, claim.sense)} {words}"
    if converted := " to ".join(filter(None, (_converted(end, system) for end in (value, claim.upper)))):
        words += f" ({converted})"
    return f"{words}, {claim.method}" if claim.method else words


def _converted(value: Value | None, system: str) -> str:
    """A quantity in the project's units; "" where it is written in them, and in a project of both."""
    if not isinstance(value, Quantity) or system == "both" or row_of(value).system in (system, "either"):
        return ""
    converted = show(value, system)
    return "" if converted == value.text else converted


def _as_read(read: Unconfirmed) -> str:
    words = ", ".join(part for part in (read.seen, read.method) if part)
    return f"{words} (not confirmed)" if words else "not confirmed"


def _to_confirm(requirement: Requirement, read: Unconfirmed) -> Judged:
    """A value that no person has compared with its evidence decides nothing, whatever it would show."""
    reason = f"The value was read from a data sheet and is not confirmed: {read.why}"
    return Judged(Result.CONFIRM, reason, _proof(requirement))


def judge(requirement: Requirement, claim: Claim | None, practice: Practice, system: str) -> Judged:
    """One requirement against one claim.

    A value that misses the limit fails by whatever method it was measured. A value that meets the limit
    counts only if it was measured by the wanted method and at the wanted condition. A stated bound or range counts
    as far as it decides: what it leaves open is to be confirmed.
    """
    if claim is None:
        return Judged(
            Result.NOT_STATED, f"the submittal does not state {requirement.title}", _proof(requirement)
        )
    limit = requirement_words(requirement, practice, system)
    proven = met(requirement.limit, claim)
    margin = _margin(requirement, claim) if proven is not None else ""
    held = f"{_as_submitted(claim, system)}; wanted: {limit}" + (f" ({margin})" if margin else "")
    if proven is None:
        what = "range" if claim.upper is not None else "bound"
        return Judged(
            Result.CONFIRM, f"{held}. The {what} leaves open whether the limit is met", _proof(requirement)
        )
    other = _method_doubt(requirement, claim, practice, system)
    if proven:
        return (
            _condition_doubt(requirement, claim.value) or other or Judged(Result.MEETS, held, margin=margin)
        )
    if _overstated(requirement, claim.value):
        return Judged(
            Result.CONFIRM,
            f"{held}. It was measured at more than {requirement.condition}, where the value is higher",
            _proof(requirement),
        )
    cure = f"submit a product with {requirement.title}: {limit}"
    if other is not None and other.result is Result.OTHER_METHOD:
        cure += f"; or, as the value is not by {requirement.method}, {_proof(requirement)}"
    return Judged(Result.FAILS, f"{held}. {requirement.reason}", cure, margin)


def _proof(requirement: Requirement) -> str:
    method = f" by {requirement.method}" if requirement.method else ""
    condition = f" at {requirement.condition}" if requirement.condition else ""
    article = "" if requirement.evidence == "product data" else "a "
    return f"submit {article}{requirement.evidence} that states {requirement.title}{method}{condition}"


def _margin(requirement: Requirement, claim: Claim) -> str:
    limit = requirement.limit.value
    value = deciding_end(requirement.limit, claim)
    if not isinstance(limit, Quantity) or not isinstance(value, Quantity):
        return ""
    if limit.value == 0 or limit.dimension == "temperature":
        return ""
    share = 100 * (value.value / limit.value - 1)
    side = "above" if share > 0 else "below"
    least = "at least " if claim.sense else ""
    if abs(share) >= 0.5:
        return f"{least}{abs(share):.0f} % {side} the limit"
    # A value that rounds to the limit and misses it would read as a contradiction.
    if abs(share) <= 1e-7:
        return "the bound is at the limit" if claim.sense else "at the limit"
    return f"less than 0.5 % {side} the limit"


def _overstated(requirement: Requirement, value: Value) -> bool:
    """Whether a leak was measured at more pressure than wanted: it does not show the leak at the wanted one."""
    if not requirement.condition or not isinstance(value, Quantity) or value.condition is None:
        return False
    wanted = parse(requirement.condition)
    return (
        requirement.limit.comparison == "at most"
        and value.condition.dimension == wanted.dimension == "pressure"
        and value.condition.value > 1.01 * wanted.value
    )


def _condition_doubt(requirement: Requirement, value: Value) -> Judged | None:
    if not requirement.condition or not isinstance(value, Quantity):
        return None
    wanted = parse(requirement.condition)
    given = value.condition
    if given is None:
        return Judged(
            Result.CONFIRM,
            f"{value.text} is stated without its test condition; {requirement.condition} is wanted",
            _proof(requirement),
        )
    if given.dimension != wanted.dimension or abs(given.value - wanted.value) > 0.01 * abs(wanted.value):
        return Judged(
            Result.CONFIRM,
            f"{value.text} is stated at another condition than {requirement.condition}",
            _proof(requirement),
        )
    return None


def _method_doubt(requirement: Requirement, claim: Claim, practice: Practice, system: str) -> Judged | None:
    if not requirement.method:
        return None
    if requirement.method == MAKERS_WORD and not claim.method:
        return None
    if not claim.method:
        return Judged(
            Result.CONFIRM,
            f"{_as_submitted(claim, system)} is stated without a test method; {requirement.method} is wanted",
            _proof(requirement),
        )
    field = practice.vocabulary.roles[requirement.role].fields[requirement.attribute]
    if same_method(claim.method, (requirement.method, *field.methods_accepted)):
        return None
    return Judged(
        Result.OTHER_METHOD,
        f"{_as_submitted(claim, system)}: measured by another method than {requirement.method}, not comparable",
        _proof(requirement),
    )


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
        return Recommendation.REJECTED, f"another kind of product than specified: {named}"
    counts = {result: sum(one.result is result for one in verdicts) for result in Result}
    heavy = [(result, counts[result]) for result in (Result.FAILS, Result.NOT_STATED, Result.OTHER_METHOD)]
    open_points = ", ".join(f"{count} {result.value}" for result, count in heavy if count)
    if open_points and counts[Result.CONFIRM]:
        open_points += f", {counts[Result.CONFIRM]} to confirm"
    if open_points:
        return Recommendation.RESUBMIT, open_points
    if counts[Result.CONFIRM]:
        return Recommendation.CORRECTIONS, f"{counts[Result.CONFIRM]} to confirm"
    return Recommendation.NO_EXCEPTIONS, f"all {len(verdicts)} requirements met"
