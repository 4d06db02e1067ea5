"""The one judge: a stated value against a requirement. Nobody else compares the two.

The arithmetic is :mod:`specgen.units.compare`, which the rooms below this one ask as well: quantities are compared as
the rational numbers that were typed, so that 8 in and 203.2 mm are equal and no tolerance is needed.
A value written in the other language of units than the limit may meet the nominal value that the trade writes for the
limit there (:mod:`specgen.practice.nominal`), and nothing short of it: 300 mm is 12 in, 299 mm is not.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from fractions import Fraction

from specgen.model.project import Stated, Value
from specgen.model.requirement import Comparison, Limit, Requirement
from specgen.practice.entries import Practice, PracticeEntry
from specgen.practice.methods import MAKERS_WORD, Match, edition_of, match_method, standard_of
from specgen.practice.nominal import paired, same
from specgen.units.compare import deciding, keeps
from specgen.units.quantity import Quantity, parse, quantity


def meets(value: Value, comparison: Comparison, limit: Value | PracticeEntry) -> bool:
    """Whether a value meets a limit; equal to the limit counts as met.

    Args:
        value: a quantity, a count, a word, a flag or a tuple of words.
        comparison: "at least", "at most", "is", "one of" or "includes"; the last two take a tuple of words.
        limit: what the value is held against; one of the practice carries its nominal values.

    Raises:
        TypeError: the value is not of the limit's type or dimension.

    >>> meets(parse("203.2 mm"), "at least", parse("8 in")), meets(parse("203.19 mm"), "at least", parse("8 in"))
    (True, False)
    >>> [meets(parse(f"{mm} mm"), "at least", paired(parse("8 in"))) for mm in (199, 200, 201)]
    [False, True, True]
    """
    if isinstance(limit, PracticeEntry):
        limit = limit.quantity()
    if isinstance(limit, Quantity):
        return deciding(_as_quantity(value, limit), comparison, limit) is not None
    if isinstance(limit, tuple) and comparison == "includes":
        return isinstance(value, tuple) and set(limit) <= set(value)
    if isinstance(limit, tuple):
        return value in limit
    return type(value) is type(limit) and value == limit


def _as_quantity(value: Value, limit: Quantity) -> Quantity:
    if isinstance(value, int) and not isinstance(value, bool):  # a count
        value = quantity(value, "")
    if not isinstance(value, Quantity):
        raise TypeError(f"{value!r} cannot be held against {limit.text}")
    return value


class Standing(Enum):
    """How a stated value stands to a requirement."""

    MET = auto()
    MISSED = auto()
    OPEN = auto()  # the bound or range does not decide
    NO_CONDITION = auto()
    OTHER_CONDITION = auto()
    OVERSTATED = auto()  # misses the limit at more pressure than wanted, where every leak is larger
    NO_METHOD = auto()
    NO_PROCEDURE = auto()
    OTHER_METHOD = auto()
    OLDER_EDITION = auto()
    NOT_STATED = auto()


@dataclass(frozen=True)
class OtherEdition:
    """A value by another edition of its method than is wanted, each as its publisher writes it."""

    stated: str
    wanted: str
    older: bool


@dataclass(frozen=True)
class Judgement:
    """One stated value against one requirement: what a finding, a verdict and a form all read."""

    standing: Standing
    against: Value  # the limit, or the nominal value of it, that the value was held against
    share: Fraction | None = (
        None  # how far the deciding end lies above what it was held against; None: no number
    )
    other_method: bool = False
    edition: OtherEdition | None = None  # of the wanted method, where the stated one is another


def judge(requirement: Requirement, stated: Stated | None, practice: Practice) -> Judgement:
    """What is stated against one requirement.

    A value that misses the limit has missed it by whatever method it was measured. A value that meets the limit counts
    only if it was measured at the wanted condition and by the wanted method. A bound or range counts as far as it
    decides.

    Args:
        requirement: what is asked for.
        stated: what the project or a submittal states; None where it states nothing.
        practice: the vocabulary, for accepted methods.

    Raises:
        TypeError: the value is not of the limit's type or dimension.
    """
    limit = requirement.limit
    if stated is None:
        return Judgement(Standing.NOT_STATED, limit.stated)
    met = proven(limit, stated)
    against, share = _margin(limit, stated)
    if met is None:
        return Judgement(Standing.OPEN, against)
    method = _method(requirement, stated.method, practice)
    other = method is Standing.OTHER_METHOD
    condition = _condition(requirement, stated, met)
    edition = None if method else _edition(requirement, stated.method, practice)
    if not met and condition is not Standing.OVERSTATED:
        return Judgement(Standing.MISSED, against, share, other, edition)
    older = edition is not None and edition.older and practice.older_editions == "confirm"
    doubt = condition or method or (Standing.OLDER_EDITION if older else Standing.MET)
    return Judgement(doubt, against, share, other, edition)


def holds(value: Value, limit: Limit) -> bool:
    """Whether an exact value meets a limit as it was set."""
    return meets(value, limit.comparison, limit.stated)


def proven(limit: Limit, stated: Stated) -> bool | None:
    """Whether a stated value, bound or range meets a limit; None where it leaves that open.

    A lower bound proves an "at least" limit that it meets itself, and disproves an "at most" limit that it
    exceeds; an upper bound the other way round.

    >>> least, most = Limit("at least", parse("10 perm")), Limit("at most", parse("10 perm"))
    >>> proven(least, Stated(parse("14 perm"), "at least")), proven(least, Stated(parse("8 perm"), "at least"))
    (True, None)
    >>> proven(most, Stated(parse("14 perm"), "at least")), proven(most, Stated(parse("8 perm"), "at least"))
    (False, None)
    """
    if not stated.sense:
        return holds(stated.value, limit)
    low, high = stated.ends
    if limit.comparison == "is":
        return False if _beyond(limit, low, upper=False) or _beyond(limit, high, upper=True) else None
    good, bad = (low, high) if limit.comparison == "at least" else (high, low)
    if good is not None and holds(good, limit):
        return True
    if bad is not None and (not holds(bad, limit) or _shut_out(limit, stated, bad)):
        return False
    return None


def _beyond(limit: Limit, end: Quantity | None, upper: bool) -> bool:
    """Whether everything on this side of an end differs from the value that a limit wants."""
    if end is None or holds(end, limit):
        return False
    assert isinstance(limit.stated, Quantity)
    return end.exact < limit.stated.exact if upper else end.exact > limit.stated.exact


def _shut_out(limit: Limit, stated: Stated, end: Quantity) -> bool:
    """Whether an end equals the limit and is itself shut out."""
    return stated.sense in ("more than", "less than") and meets(end, "is", limit.stated)


def _margin(limit: Limit, stated: Stated) -> tuple[Value, Fraction | None]:
    """What decides, the printed limit where it tells the same, and how far above it the deciding end lies."""
    held, printed, value = limit.stated, limit.value, stated.value
    if not isinstance(held, Quantity):
        return held, None
    assert isinstance(printed, Quantity)
    if stated.sense:
        low, high = stated.ends
        good, bad = (low, high) if limit.comparison == "at least" else (high, low)
        end = good if good is not None and holds(good, limit) else bad
        if end is None:
            return held, None
        value = end
    value = _as_quantity(value, held)
    decides = deciding(value, limit.comparison, held)
    same_as_printed = keeps(value, limit.comparison, printed) is (decides is not None)
    against = printed if same_as_printed else decides or held
    if not against.exact or held.dimension == "temperature":
        return against, None
    return against, value.exact / against.exact - 1


def _condition(requirement: Requirement, stated: Stated, met: bool) -> Standing | None:
    """The doubt that the test condition leaves, if any."""
    if not requirement.condition or not isinstance(stated.value, Quantity):
        return None
    wanted, given = paired(parse(requirement.condition)), stated.value.condition
    if given is None:
        return Standing.NO_CONDITION
    if same(given, wanted):
        return None
    above = given.dimension == wanted.dimension == "pressure" and given.exact > wanted.exact
    if not met and above and requirement.limit.comparison == "at most":
        return Standing.OVERSTATED
    return Standing.OTHER_CONDITION


def _method(requirement: Requirement, stated: str | None, practice: Practice) -> Standing | None:
    """The doubt that the test method leaves, if any."""
    wanted = requirement.method
    if stated is None or not wanted or (wanted == MAKERS_WORD and not stated):
        return None
    if not stated:
        return Standing.NO_METHOD
    match match_method(stated, _accepted(requirement, practice)):
        case Match.OTHER:
            return Standing.OTHER_METHOD
        case Match.OPEN:
            return Standing.NO_PROCEDURE
    return None


def _accepted(requirement: Requirement, practice: Practice) -> tuple[str, ...]:
    field = practice.vocabulary.roles[requirement.role].fields[requirement.attribute]
    others = field.methods_accepted if requirement.method == field.method else ()
    return requirement.method, *others


def _edition(requirement: Requirement, stated: str | None, practice: Practice) -> OtherEdition | None:
    """How the edition of a stated method differs from the one that the method or the office wants, if it does."""
    if not stated:
        return None
    standard, given = standard_of(stated), edition_of(stated)
    named = (edition_of(one) for one in _accepted(requirement, practice) if standard_of(one) == standard)
    wanted = next((one for one in named if one), practice.editions.get(standard))
    if given is None or wanted is None or not (given.older_than(wanted) or given.newer_than(wanted)):
        return None
    return OtherEdition(given.of(standard), wanted.of(standard), given.older_than(wanted))
