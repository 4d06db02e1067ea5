"""Whether a stated value, bound or range meets a limit: yes, no, or left open."""

from __future__ import annotations

from specgen.model.project import Value
from specgen.model.requirement import Limit
from specgen.model.submission import Claim
from specgen.units.quantity import Quantity


def met(limit: Limit, claim: Claim) -> bool | None:
    """Whether a claim meets a limit; None where its bound or range leaves that open.

    A lower bound proves an "at least" limit that it meets itself, and disproves an "at most" limit that it
    exceeds; an upper bound the other way round.

    Raises:
        TypeError: the value is not of the limit's type or dimension.

    >>> from specgen.files.marks import Mark
    >>> from specgen.units.quantity import parse
    >>> def said(sense, text): return Claim(parse(text), "", "", Mark("s.yaml", 1, 1), sense)
    >>> least, most = Limit("at least", parse("10 perm")), Limit("at most", parse("10 perm"))
    >>> met(least, said("at least", "14 perm")), met(least, said("at least", "8 perm"))
    (True, None)
    >>> met(most, said("at least", "14 perm")), met(most, said("at least", "8 perm"))
    (False, None)
    """
    if not claim.sense:
        return limit.met_by(claim.value)
    low, high = _ends(claim)
    for end in (low, high):
        if end is not None:
            limit.met_by(end)  # raises where it cannot be held against the limit
    if limit.comparison == "is":
        outside = any(end is not None and _beyond(limit, end, upper=end is high) for end in (low, high))
        return False if outside else None
    good, bad = (low, high) if limit.comparison == "at least" else (high, low)
    if good is not None and limit.met_by(good):
        return True
    if bad is not None and (not limit.met_by(bad) or _just_missed(limit, claim, bad)):
        return False
    return None


def deciding_end(limit: Limit, claim: Claim) -> Value | None:
    """The end of a claim that decides whether it meets a limit; the value itself where it is exact."""
    if not claim.sense:
        return claim.value
    low, high = _ends(claim)
    good, bad = (low, high) if limit.comparison == "at least" else (high, low)
    return good if good is not None and limit.met_by(good) else bad


def _ends(claim: Claim) -> tuple[Quantity | None, Quantity | None]:
    value = claim.value
    assert isinstance(value, Quantity)
    if claim.sense == "to":
        return value, claim.upper
    return (value, None) if claim.sense in ("at least", "more than") else (None, value)


def _beyond(limit: Limit, end: Quantity, upper: bool) -> bool:
    """Whether everything on this side of an end differs from the value that a limit wants."""
    assert isinstance(limit.value, Quantity)
    if limit.met_by(end):
        return False
    return end.value < limit.value.value if upper else end.value > limit.value.value


def _just_missed(limit: Limit, claim: Claim, end: Quantity) -> bool:
    """An end that equals the limit and is itself shut out."""
    return claim.sense in ("more than", "less than") and Limit("is", limit.value).met_by(end)
