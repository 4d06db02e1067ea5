"""Findings as a SARIF 2.1.0 log (OASIS Standard, 27 March 2020), the form in which review tools take them."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from pathlib import Path
from typing import Any
from urllib.parse import quote

from specgen import __version__
from specgen.assessment import Assessment
from specgen.files.marks import Mark
from specgen.model.finding import Finding, Outcome, Severity
from specgen.practice.entries import Practice
from specgen.rules.catalogue import Described, manual
from specgen.rules.papers import PAPER_BOOK

VERSION = "2.1.0"
SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
BASE = "SRCROOT"
LEVELS = {Severity.DEFECT: "error", Severity.RISK: "warning", Severity.QUERY: "note"}


def sarif_log(findings: Iterable[Finding], assessment: Assessment, root: Path) -> dict[str, Any]:
    """The log as plain data, the same for the same input.

    Failed findings have the level of their severity; waived ones the same with a suppression. What is unknown or not
    covered has level ``note``, and a suppression once a person has answered. All have kind ``fail``: with kind
    ``open`` the level could only be ``none``, and viewers hide that (3.27.9, 3.27.10). What does not apply has kind
    ``notApplicable``.

    Args:
        findings: failed, unknown, not covered and waived ones.
        assessment: holds the rule book, to which the rules on the project's papers are added, and the practice.
        root: folder that file addresses are relative to.
    """
    entries: tuple[Described, ...] = (*assessment.book, *PAPER_BOOK)
    ordered = sorted(entries, key=lambda entry: entry.rule.code)
    index = {entry.rule.code: number for number, entry in enumerate(ordered)}
    file = relative_uri(Mark(assessment.project.path, 1, 1), root)
    return _log(
        [_rule(entry, assessment.practice) for entry in ordered],
        {"executionSuccessful": True},
        [_result(one, index[one.code], root) for one in findings],
        {"project": assessment.project.title},
        f"specgen/{file}/",
    )


def sarif_failure(
    places: Iterable[tuple[str, int | None, int | None, str]], status: int, root: Path
) -> dict[str, Any]:
    """The log of a run that could not do its work: no result, a notification for each reason (3.20.21).

    Args:
        places: file, line, column and message of each reason; file "" and line None where there is none.
        status: the exit status.
        root: folder that file addresses are relative to.
    """
    notifications = []
    for file, line, column, message in places:
        one: dict[str, Any] = {"level": "error", "message": {"text": message}}
        if file:
            one["locations"] = [{"physicalLocation": _physical(Mark(file, line or 1, column or 1), root)}]
        notifications.append(one)
    invocation = {
        "executionSuccessful": False,
        "exitCode": status,
        "toolExecutionNotifications": notifications,
    }
    return _log([], invocation, [], {})


def _log(
    rules: list[dict[str, Any]],
    invocation: dict[str, Any],
    results: list[dict[str, Any]],
    properties: dict[str, Any],
    category: str = "specgen/",
) -> dict[str, Any]:
    """One run: its category tells the logs of several projects apart where they are taken in together (3.17.3).

    ``informationUri`` is left out: the program has no public address.
    """
    driver = {
        "name": "specgen",
        "version": __version__,
        "semanticVersion": __version__,
        "language": "en-US",
        "shortDescription": {"text": "Stucco-clad parapets against best practice and the code."},
        "rules": rules,
    }
    run = {
        "tool": {"driver": driver},
        "automationDetails": {"id": category},
        "invocations": [invocation],
        "originalUriBaseIds": {BASE: {"description": {"text": "The folder in which specgen was run."}}},
        "columnKind": "unicodeCodePoints",
        "results": results,
        "properties": properties,
    }
    return {"$schema": SCHEMA, "version": VERSION, "runs": [run]}


def _rule(entry: Described, practice: Practice) -> dict[str, Any]:
    rule = entry.rule
    sources = [str(practice.source(key)) for key in rule.basis]
    cited = [f"- {source}" for source in sources]
    page = [rule.reason, f"**Remedy:** {rule.remedy}", manual(entry), "\n".join(["**Sources:**", "", *cited])]
    return {
        "id": rule.code,
        "name": "".join(word.capitalize() for word in rule.name.split()),
        "shortDescription": {"text": f"{rule.title}."},
        "fullDescription": {"text": rule.reason},
        "help": {
            "text": "\n".join([rule.remedy, "Sources:", *sources]),
            "markdown": "\n\n".join(one for one in page if one),
        },
        "defaultConfiguration": {"level": LEVELS[rule.severity]},
        "properties": {
            "severity": rule.severity.value,
            "appliesTo": rule.applies_to,
            "basis": list(rule.basis),
        },
    }


def _result(finding: Finding, index: int, root: Path) -> dict[str, Any]:
    decided = finding.outcome in (Outcome.FAIL, Outcome.WAIVED)
    result: dict[str, Any] = {
        "ruleId": finding.code,
        "ruleIndex": index,
        "kind": "notApplicable" if finding.inapplicable else "fail",
        "level": "none" if finding.inapplicable else LEVELS[finding.severity] if decided else "note",
        "message": {"text": _message(finding)},
        "locations": [_location(finding, root)],
        "partialFingerprints": {"specgenFinding/v1": _fingerprint(finding)},
    }
    if accepted := finding.waiver or finding.answer:
        result["suppressions"] = [{"kind": "inSource", "status": "accepted", "justification": accepted}]
    result["properties"] = {
        "severity": finding.severity.value,
        "outcome": finding.outcome.value,
        "reason": finding.reason,
        "remedy": finding.remedy,
        "because": list(finding.because),
        "sources": [str(source) for source in finding.sources],
    }
    return result


def _message(finding: Finding) -> str:
    place = f" (parapet {finding.parapet}" + (f", layer {finding.layer})" if finding.layer else ")")
    missing = f" Missing: {finding.missing}." if finding.missing else ""
    return f"{finding.message[:1].upper()}{finding.message[1:]}{place}.{missing}"


def _location(finding: Finding, root: Path) -> dict[str, Any]:
    name = f"{finding.parapet}/{finding.layer}" if finding.layer else finding.parapet
    return {
        "physicalLocation": _physical(finding.mark, root),
        "logicalLocations": [{"name": finding.layer or finding.parapet, "fullyQualifiedName": name}],
    }


def _physical(mark: Mark, root: Path) -> dict[str, Any]:
    return {
        "artifactLocation": {"uri": relative_uri(mark, root), "uriBaseId": BASE},
        "region": {"startLine": mark.line, "startColumn": mark.column},
    }


def relative_uri(mark: Mark, root: Path) -> str:
    """The address of a file relative to a folder; a file outside the folder keeps its name alone.

    >>> relative_uri(Mark("a b/project.yaml", 1, 1), Path("/work"))
    'a%20b/project.yaml'
    >>> relative_uri(Mark("/elsewhere/project.yaml", 1, 1), Path("/work"))
    'project.yaml'
    """
    path = (root / mark.file).resolve()
    base = root.resolve()
    inside = path.relative_to(base).as_posix() if path.is_relative_to(base) else path.name
    return quote(inside)


def _fingerprint(finding: Finding) -> str:
    """What stays the same where lines move: rule, place and message."""
    words = "\x1f".join((finding.code, finding.parapet, finding.layer, finding.limit, finding.message))
    return hashlib.sha256(words.encode()).hexdigest()[:32]
