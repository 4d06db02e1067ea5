"""A rule as it describes itself, and what its check may say about one place."""

from __future__ import annotations

from dataclasses import dataclass, replace

from specgen.files.marks import Mark
from specgen.model.finding import Outcome, Severity
from specgen.model.source import Source


@dataclass(frozen=True)
class Option:
    """A number of a rule. Its default is a practice entry, so that the number stands in one place."""

    name: str
    default_key: str  # key of the practice entry
    wording: str


@dataclass(frozen=True)
class Rule:
    """What a rule is. The module it stands in carries ``check()`` and, as docstring, its manual page.

    Code and title are the first line of that page; the name is that of the module unless the rule has another.
    """

    severity: Severity  # a check may raise or lower it at a place
    applies_to: str
    reason: str
    basis: tuple[str, ...]  # practice keys; "table KEY" for a table
    remedy: str
    code: str = ""  # never changes: projects waive by it
    name: str = ""
    title: str = ""
    options: tuple[Option, ...] = ()
    holds: tuple[str, ...] = ()  # catalogue names of the requirements it holds


@dataclass(frozen=True)
class RuleResult:
    """What a check says about one place. ``basis`` narrows the rule's own to the keys that matter here.

    ``sources`` stand in place of the basis where a row of a table has a source of its own.
    """

    outcome: Outcome
    message: str
    mark: Mark | None = None  # None: the parapet's own
    layer: str = ""
    severity: Severity | None = None
    because: tuple[str, ...] = ()
    missing: str = ""
    basis: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()
    requirement: str = ""  # id of the requirement the place is held against
    attribute: str = ""  # the value that is held
    without: tuple[str, ...] = ()  # the roles whose absence makes the failure
    inapplicable: str = ""  # the file's reason why what is looked at does not apply


def ok(
    message: str,
    mark: Mark | None = None,
    layer: str = "",
    because: tuple[str, ...] = (),
    basis: tuple[str, ...] = (),
) -> RuleResult:
    """The place is right."""
    return RuleResult(Outcome.PASS, message, mark, layer, because=because, basis=basis)


def specified(passed: RuleResult, message: str) -> RuleResult:
    """What would pass is left to a requirement that the sections print."""
    return replace(passed, outcome=Outcome.SPECIFIED, message=message)


def fail(
    message: str,
    mark: Mark | None = None,
    layer: str = "",
    severity: Severity | None = None,
    because: tuple[str, ...] = (),
    basis: tuple[str, ...] = (),
    without: tuple[str, ...] = (),
) -> RuleResult:
    """The place is wrong. ``without``: for want of these roles, so that it is unknown while nothing is said of one."""
    return RuleResult(Outcome.FAIL, message, mark, layer, severity, because, basis=basis, without=without)


def unknown(
    message: str,
    missing: str,
    mark: Mark | None = None,
    layer: str = "",
    because: tuple[str, ...] = (),
    basis: tuple[str, ...] = (),
) -> RuleResult:
    """The project file does not say enough; ``missing`` names the key to add."""
    return RuleResult(Outcome.UNKNOWN, message, mark, layer, None, because, missing, basis)


def not_applicable(why: str) -> RuleResult:
    """The rule has nothing to look at here."""
    return RuleResult(Outcome.NOT_APPLICABLE, why)
