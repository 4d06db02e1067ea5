"""The rule book: finds the rule modules, refuses those that cannot say why, and runs them at every parapet."""

from __future__ import annotations

import importlib
import pkgutil
import re
from collections.abc import Callable, Hashable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from types import ModuleType

import specgen.rules as room
from specgen.files.faults import Fault, stops_the_run
from specgen.model.finding import Finding, Outcome
from specgen.model.project import Project
from specgen.model.source import CODES, Source
from specgen.practice.entries import Practice, PracticeError
from specgen.rules.inapplicable import lifted, without_role
from specgen.rules.papers import OFFICE_RULE, PAPER_RULES
from specgen.rules.remedy import Remedy, strange
from specgen.rules.resting import on_limits
from specgen.rules.rule import Rule, RuleResult
from specgen.rules.undescribed import settled
from specgen.rules.waivers import apply_decisions
from specgen.rules.wall import Wall
from specgen.wall.code import beyond_rules
from specgen.wall.memo import Memo

Check = Callable[[Wall], Iterator[RuleResult]]

RULE_MODULE = re.compile(r"[a-z]{2}[0-9]{2}_[a-z0-9_]+")
CODE = re.compile(r"[A-Z]{2}[0-9]{2}")
REQUIRED_TEXTS = ("code", "name", "title", "applies_to", "reason", "remedy", "basis")


class RuleBookError(Fault):
    """A rule module that cannot be used; names the module."""


class RuleCrash(Fault):
    """A rule failed to run at a parapet. Never counted as a pass."""

    def __init__(self, rule: Rule, parapet: str, error: BaseException) -> None:
        super().__init__(
            f"rule {rule.code} ({rule.name}) failed to run at parapet {parapet}: {type(error).__name__}: {error}"
        )
        self.rule, self.parapet, self.error = rule, parapet, error


@dataclass(frozen=True)
class BookEntry:
    """A rule with its check and its manual page."""

    rule: Rule
    check: Check
    manual: str
    module: str
    remedies: tuple[Remedy, ...] = ()


_LOADED: list[tuple[Practice, tuple[BookEntry, ...]]] = []


def load_book(practice: Practice) -> tuple[BookEntry, ...]:
    """Every rule of this room, sorted by code; made once for a practice, and kept for the last one asked about.

    Raises:
        RuleBookError: a module that does not import, or a rule that is not complete.
    """
    if not _LOADED or _LOADED[0][0] is not practice:  # the very one: comparing costs as much
        _LOADED[:] = [(practice, book_of([_imported(name) for name in _modules()], practice))]
    return _LOADED[0][1]


def _modules() -> Iterator[str]:
    for found in pkgutil.walk_packages(room.__path__, f"{room.__name__}."):
        if RULE_MODULE.fullmatch(found.name.rpartition(".")[2]):
            yield found.name


def _imported(name: str) -> ModuleType:
    try:
        return importlib.import_module(name)
    except BaseException as error:
        if stops_the_run(error):
            raise
        raise RuleBookError(f"{name} does not import: {type(error).__name__}: {error}") from error


def book_of(
    modules: Iterable[ModuleType], practice: Practice, known: Iterable[BookEntry] = ()
) -> tuple[BookEntry, ...]:
    """The rules of these modules, and those of a book that is known, sorted by code.

    Raises:
        RuleBookError: a rule without reason, basis or remedy, with a basis that does not exist, or with a
            code or name that another rule has.
    """
    entries = list(known)
    taken = {word: "specgen.rules.papers" for rule in PAPER_RULES for word in (rule.code, rule.name)}
    taken |= {word: entry.module for entry in entries for word in (entry.rule.code, entry.rule.name)}
    for module in modules:
        entry = _entry(module, practice)
        for word in (entry.rule.code, entry.rule.name):
            if word in taken:
                raise RuleBookError(f"{module.__name__}: `{word}` is already taken by {taken[word]}")
            taken[word] = module.__name__
        entries.append(entry)
    return tuple(sorted(entries, key=lambda entry: entry.rule.code))


def _entry(module: ModuleType, practice: Practice) -> BookEntry:
    rule, check = getattr(module, "RULE", None), getattr(module, "check", None)
    if not isinstance(rule, Rule) or not callable(check):
        raise RuleBookError(f"{module.__name__}: RULE and check() are wanted")
    if not module.__doc__:
        raise RuleBookError(f"{module.__name__}: the rule has no manual page")
    rule = _named(rule, module)
    for name in REQUIRED_TEXTS:
        if not getattr(rule, name):
            raise RuleBookError(f"{module.__name__}: rule {rule.code} has no {name}")
    if not CODE.fullmatch(rule.code):
        raise RuleBookError(f"{module.__name__}: `{rule.code}` is no code; two letters and two digits")
    for key in (*rule.basis, *(option.default_key for option in rule.options)):
        try:
            practice.source(key)
        except PracticeError as error:
            raise RuleBookError(f"{module.__name__}: rule {rule.code}: {error}") from error
    remedies: tuple[Remedy, ...] = getattr(module, "REMEDIES", ())
    for wrong in strange(remedies, practice):
        raise RuleBookError(f"{module.__name__}: rule {rule.code}: remedy: {wrong}")
    return BookEntry(rule, check, module.__doc__.strip(), module.__name__, remedies)


def _named(rule: Rule, module: ModuleType) -> Rule:
    """The rule with the code and title of its manual page and the name of its module, where it gives none itself."""
    code, _, title = (module.__doc__ or "").strip().partition("\n")[0].partition(": ")
    return replace(
        rule,
        code=rule.code or code,
        name=rule.name or module.__name__.rpartition(".")[2].partition("_")[2].replace("_", " "),
        title=rule.title or (title[:1].upper() + title[1:]).removesuffix("."),
    )


def run_book(
    book: Iterable[BookEntry],
    walls: Iterable[Wall],
    project: Project,
    practice: Practice,
    papers: Iterable[Finding] = (),
    adjusted: Callable[[Finding], Finding] | None = None,
    memo: Memo | None = None,
) -> tuple[Finding, ...]:
    """Every rule at every parapet, the project's waivers and answers applied.

    Args:
        book: the rules.
        walls: the parapets, as rules see them.
        project: holds the waivers and answers.
        practice: the trade's values, with their sources.
        papers: findings on the project's papers, to be waived like the others.
        adjusted: changes a finding of a rule before waivers are applied.
        memo: keeps what each rule says at each parapet; None: nothing is kept.

    Returns:
        All outcomes, passes included, in the order of the file and then of the codes.

    Raises:
        RuleCrash: a rule failed to run, or said nothing.
    """
    entries = tuple(book)
    cited = Cited(practice)
    memo = memo or Memo(project, practice)
    findings = [one for wall in walls for one in lifted(_at(wall, entries, cited, memo), wall, memo)]
    if adjusted is not None:
        findings = [adjusted(one) for one in findings]
    codes = [*(entry.rule.code for entry in entries), OFFICE_RULE.code]
    findings = apply_decisions([*findings, *papers], project, codes, practice)
    return tuple(sorted(findings, key=_in_order))


def _at(wall: Wall, entries: Iterable[BookEntry], cited: Cited, memo: Memo) -> Iterator[Finding]:
    """What every rule says at a parapet."""
    works: dict[Hashable, Callable[[], list[Finding]]] = {
        entry.rule.code: partial(_findings, entry, wall, cited) for entry in entries
    }
    for found in memo.each("findings", wall.parapet.name, works).values():
        yield from found


def _in_order(finding: Finding) -> tuple[str, int, int, str, str]:
    # The fields of the mark, not the mark: that of a tried value is of another class and does not compare.
    mark = finding.mark
    return mark.file, mark.line, mark.column, finding.code, finding.parapet


class Cited(dict[tuple[str, ...], tuple[Source, ...]]):
    """The sources of some practice keys, each once: several keys may rest on one place of one document.

    Looked up once a run: a rule cites the same keys at every parapet.
    """

    def __init__(self, practice: Practice) -> None:
        super().__init__()
        self._practice = practice

    def __missing__(self, keys: tuple[str, ...]) -> tuple[Source, ...]:
        self[keys] = tuple(dict.fromkeys(self._practice.source(key) for key in keys))
        return self[keys]


def _findings(entry: BookEntry, wall: Wall, cited: Cited) -> list[Finding]:
    try:
        results = [settled(one, wall) for one in on_limits(entry.check(wall), wall)]
        if not results:
            raise ValueError("the check said nothing")
        # That something does not apply is told once, and only where nothing else is, in whatever order layers stand.
        first = min(results, key=lambda one: one.message)
        kept = (one for one in results if one.inapplicable or one.outcome is not Outcome.NOT_APPLICABLE)
        shown = list(kept) or [first]
        return [_finding(entry.rule, one, wall, cited) for one in shown]
    except BaseException as error:
        if stops_the_run(error):
            raise
        raise RuleCrash(entry.rule, wall.parapet.name, error) from error


def _finding(rule: Rule, result: RuleResult, wall: Wall, cited: Cited) -> Finding:
    stray = [key for key in result.basis if key not in rule.basis]
    if stray:
        raise ValueError(f"the check cites {sorted(stray)}, which the rule does not name in its basis")
    sources = result.sources or cited[result.basis or rule.basis]
    result, why = without_role(result, rule, wall, sources)
    outcome, message, missing = result.outcome, result.message, result.missing
    if (
        (beyond := beyond_rules(wall.project))
        and outcome is not Outcome.NOT_APPLICABLE
        and all(source.document in CODES for source in sources)
    ):
        outcome, missing = Outcome.NOT_COVERED, "what the code in force at the site asks for"
        message = f"{message}: not covered {beyond}"
    if outcome is Outcome.UNKNOWN and missing.startswith(Outcome.NOT_COVERED.value):
        outcome = (
            Outcome.NOT_COVERED
        )  # no datum would tell, as that of a calculation that holds in the US alone
    if outcome is Outcome.NOT_COVERED:
        missing = f"{missing.removeprefix(f'{outcome.value}: ')}; `answers` records who says so"
    return Finding(
        code=rule.code,
        name=rule.name,
        severity=result.severity or rule.severity,
        outcome=outcome,
        message=message,
        mark=result.mark or wall.parapet.mark,
        parapet=wall.parapet.name,
        layer=result.layer,
        reason=rule.reason,
        remedy=rule.remedy,
        sources=sources,
        because=(*result.because, *_weighed(result, wall)),
        missing=missing,
        requirement=result.requirement,
        attribute=result.attribute,
        title=rule.title,
        inapplicable=result.inapplicable or why,
    )


def _weighed(result: RuleResult, wall: Wall) -> tuple[str, ...]:
    """How rule and calculation were weighed for the requirement that the place is held against."""
    requirement = wall.requirements.with_id(result.requirement)
    found = requirement.weighing_at(wall.parapet.name) if requirement else None
    return (str(found),) if found else ()
