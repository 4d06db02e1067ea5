"""Candidates of one attribute to what is written: the value, or what a person must confirm."""

from __future__ import annotations

from collections.abc import Sequence

from specgen.intake.datasheet.prose import WHY
from specgen.model.datasheet import Candidate, ReadValue, Standing
from specgen.practice.entries import Field
from specgen.practice.methods import designation
from specgen.units.compare import computed_at_most

MOST_EVIDENCE = 6
ROUNDING = 0.03  # of the value: two statements in different units can be parted by that and no more


def combined(field: Field, found: Sequence[Candidate], least_confidence: float) -> ReadValue:
    """What all candidates of one attribute come to.

    A value is taken only if nothing speaks against it, it was read with at least ``least_confidence``, and
    everything else that was seen of the attribute says the same.

    Args:
        field: the attribute.
        found: every candidate of it, in the order of the files.
        least_confidence: from 0 to 1.
    """
    if not found:
        return ReadValue(field.name, field.title, Standing.NOT_FOUND, "", "", "", (), 0.0, ())
    ordered = sorted(found, key=lambda one: (not one.value, -one.confidence, len(one.doubts)))
    best = ordered[0]
    against = _against(best, ordered[1:])
    if not against and not best.doubts and best.confidence < least_confidence:
        against = f"read with confidence {best.confidence:.2f}, at least {least_confidence:.2f} is wanted"
    reasons = [*([against] if against else []), *best.doubts]
    standing = Standing.CONFIRM if reasons else Standing.READ
    evidence = tuple(dict.fromkeys(one.evidence for one in ordered))[:MOST_EVIDENCE]
    value = "" if against else best.value
    notes = (*((f"holds for {best.variant}",) if best.variant and not against else ()), *best.notes)
    confirm = "; ".join(reasons)
    return ReadValue(
        field.name, field.title, standing, value, best.method, confirm, notes, best.confidence, evidence
    )


def _against(best: Candidate, others: Sequence[Candidate]) -> str:
    """Why the best candidate is not alone: another value, another method, or a cell that was not understood."""
    if not best.value:
        return ""
    differing = [one for one in others if _differs(best, one)]
    if not differing:
        return ""
    shown = dict.fromkeys(_seen(one) for one in (best, *differing))
    words = "; ".join(list(shown)[:6])
    more = f"; and {len(shown) - 6} more" if len(shown) > 6 else ""
    return f"several values are stated: {words}{more}"


def _differs(best: Candidate, other: Candidate) -> bool:
    if not other.value:
        return bool(other.confidence >= 0.4 or other.variant or best.variant)
    if best.method and other.method and designation(best.method) != designation(other.method):
        return True
    if best.high == best.low == 0.0 or other.high == other.low == 0.0:
        return best.value != other.value  # words
    if _at(best.value) and _at(other.value) and _condition(best.value) != _condition(other.value):
        return True
    room = 0.0 if _unit(best.value) == _unit(other.value) else ROUNDING
    near = all(
        computed_at_most(abs(a - b), room * max(abs(a), abs(b)), of=a)
        for a, b in ((best.low, other.low), (best.high, other.high))
    )
    return not (near or _bounded(best, other))


def _bounded(best: Candidate, other: Candidate) -> bool:
    """A sentence that claims less than the table does not contradict it: "less than 0.004" beside 0.0009."""
    if WHY not in other.doubts:
        return False
    stated = " ".join((*other.doubts, *other.notes))
    return ("at most" in stated and best.high <= other.high) or (
        "at least" in stated and best.low >= other.low
    )


def _unit(value: str) -> str:
    return value.partition(" @ ")[0].lstrip("+-0123456789./ ").rstrip("s.")


def _at(value: str) -> bool:
    return " @ " in value


def _condition(value: str) -> str:
    return value.rpartition(" @ ")[2]


def _seen(one: Candidate) -> str:
    value = one.value or f"`{one.evidence.words[:60]}`"
    method = f" by {one.method}" if one.method else ""
    variant = f" for {one.variant}" if one.variant else ""
    return f"{value}{method}{variant} ({one.evidence.file}, {one.evidence.page})"
