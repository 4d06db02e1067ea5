"""An office's standards and the rule book: what an office file may change, and what of it the code refuses."""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from types import ModuleType

from specgen.files.faults import stops_the_run
from specgen.files.foreign import foreign_bytes
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.project import Project
from specgen.practice.amendments import amended, in_edition
from specgen.practice.chosen import chosen
from specgen.practice.entries import Practice
from specgen.practice.office import Changeable, LimitChange, Office, RuleFacts, change_of, overlay
from specgen.requirements.catalogue_file import load_catalogue, practice_keys
from specgen.rules.book import RULE_MODULE, BookEntry, RuleBookError, load_book
from specgen.rules.hold import words
from specgen.rules.papers import OFFICE_RULE, paper_finding
from specgen.rules.rule import Rule
from specgen.rules.waivers import waiver_for

MOST_BYTES = 1_000_000  # of a rule module
CHANGEABLE_DIRECTIONS = ("at least", "at most", "one of")
WORSE = (Severity.QUERY, Severity.RISK, Severity.DEFECT)  # in rising order


def changeable(practice: Practice, book: Iterable[BookEntry] | None = None) -> Changeable:
    """What an office file may change: the limits of the catalogue, severities and options of the rules."""
    entries = load_book(practice) if book is None else tuple(book)
    rules = {entry.rule.code: _facts(entry.rule, practice) for entry in entries}
    return Changeable(_directions(practice), rules)


def _facts(rule: Rule, practice: Practice) -> RuleFacts:
    code = any(practice.source(key).of_code for key in rule.basis)
    return RuleFacts(rule.severity, code, {option.name: option.default_key for option in rule.options})


def _directions(practice: Practice) -> dict[str, str]:
    """How the catalogue of requirements uses each practice key; a key used in two ways is left out."""
    used: dict[str, set[str]] = {}
    for entry in load_catalogue():
        for key in (one for one in practice_keys(entry) if one in practice.entries):
            used.setdefault(key, set()).add(entry.comparison)
    return {
        key: next(iter(ways))
        for key, ways in sorted(used.items())
        if len(ways) == 1 and ways <= set(CHANGEABLE_DIRECTIONS)
    }


def under_office(
    practice: Practice, office: Office | None, project: Project
) -> tuple[Practice, tuple[Finding, ...]]:
    """The practice as it holds for a project, and a finding for each limit of the office that lies below the code.

    The amendments of the project's jurisdiction that are in force at its issue date change the code first. A limit of
    the office below the code takes effect only where the project waives its finding. What the project chooses under
    `quality` goes before both.
    """
    directions = _directions(practice)
    practice = in_edition(practice, project.site.word("code") or "")
    practice = amended(practice, office.amendments if office else (), project)
    if office is None:
        return chosen(practice, project), ()
    changes = tuple(
        change_of(practice.entry(one.entry.key), one.entry, directions.get(one.entry.key, ""), one.mark)
        for one in office.changes
    )
    office = replace(office, changes=changes)
    found = tuple(_below(change, practice) for change in office.changes if change.below_code)
    accepted = {one.limit for one in found if waiver_for(one, project)}
    return chosen(overlay(practice, office, accepted), project), found


def _below(change: LimitChange, practice: Practice) -> Finding:
    old, new = change.original, change.entry
    assert old.value is not None and new.value is not None
    way = f"{change.direction} " if change.direction else ""
    message = (
        f"the office file sets `{old.key}` ({old.title}) to {way}{words(new.value)}, weaker than "
        f"{way}{words(old.value)} of the code, which stands unless the project waives this finding"
    )
    found = paper_finding(OFFICE_RULE, message, change.mark, practice, limit=old.key)
    return replace(found, sources=(old.source, *found.sources))


def with_office_severity(finding: Finding, office: Office) -> Finding:
    """The finding with the severity the office gives its rule; a defect that rests on the code stays one."""
    wanted = office.severity.get(finding.code)
    if wanted in (None, finding.severity) or finding.outcome in (Outcome.PASS, Outcome.NOT_APPLICABLE):
        return finding
    assert wanted is not None
    lower = WORSE.index(wanted) < WORSE.index(finding.severity)
    on_code = any(source.rests_on_code for source in finding.sources)
    if lower and finding.severity is Severity.DEFECT and on_code:
        return finding
    because = (*finding.because, f"{wanted.value} by decision of {office.name}")
    return replace(finding, severity=wanted, because=because)


def office_modules(folder: Path) -> Iterator[ModuleType]:
    """Run the rule modules of an office's own folder; only where the user allowed it.

    Raises:
        RuleBookError: a module that does not import, or a folder without rule modules.
    """
    files = sorted(path for path in folder.glob("*.py") if RULE_MODULE.fullmatch(path.stem))
    if not files:
        raise RuleBookError(f"{folder} holds no rule modules; name them like ab01_what_it_checks.py")
    for path in files:
        yield _run(path)


def _run(path: Path) -> ModuleType:
    foreign_bytes(path, MOST_BYTES, "a rule module")  # the import would wait for a pipe
    name = f"specgen_office_{path.stem}"
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    kept, sys.dont_write_bytecode = (
        sys.dont_write_bytecode,
        True,
    )  # nothing is written beside the office's file
    try:
        spec.loader.exec_module(module)
    except BaseException as error:
        if stops_the_run(error):
            raise
        raise RuleBookError(f"{path} does not import: {type(error).__name__}: {error}") from error
    finally:
        sys.dont_write_bytecode = kept
    return module
