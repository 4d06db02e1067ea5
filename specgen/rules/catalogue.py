"""The rule book and its findings in print: sheets, lines, plain data."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import groupby
from typing import Any, Protocol

from specgen.model.finding import QUIET, Outcome
from specgen.model.folded import FoldedFinding
from specgen.model.source import Source
from specgen.practice.entries import Practice
from specgen.rules.existing.openings import PlannedOpenings
from specgen.rules.hold import words
from specgen.rules.rule import Option, Rule
from specgen.units.quantity import Quantity

INDENT = "    "


class Described(Protocol):
    """A rule with its manual page: an entry of the book, or a rule on the papers."""

    @property
    def rule(self) -> Rule:
        """The rule."""

    @property
    def manual(self) -> str:
        """Its manual page, heading first."""


def rule_sheet(entry: Described, practice: Practice) -> str:
    """One rule in print: what it asks, why, from where, what helps, and its examples."""
    rule = entry.rule
    lines = [
        f"{rule.code} {rule.name}",
        rule.title + ".",
        "",
        f"severity: {rule.severity.value}",
        f"applies to: {rule.applies_to}",
        f"reason: {rule.reason}",
    ]
    lines += [f"option: {_option(option, practice)}" for option in rule.options]
    lines += [f"source: {practice.source(key)} ({key})" for key in rule.basis]
    lines += [f"remedy: {rule.remedy}", "", manual(entry)]
    return "\n".join(lines)


def manual(entry: Described) -> str:
    """The manual page without its heading: what is checked, what is right, what is wrong."""
    body = entry.manual.partition("\n")[2].strip()
    return re.sub(r"^(Right|Wrong)::$", r"\1:", body, flags=re.MULTILINE)


def _option(option: Option, practice: Practice) -> str:
    return (
        f"{option.name} ({_type(option, practice)}), default {_default(option, practice)}: {option.wording}"
    )


def _default(option: Option, practice: Practice) -> str:
    value = practice.entry(option.default_key).value
    return "" if value is None else words(value)


def _type(option: Option, practice: Practice) -> str:
    """The dimension of an option's value, or "words"."""
    value = practice.entry(option.default_key).value
    return value.dimension if isinstance(value, Quantity) else "words"


def as_json(entry: Described, practice: Practice) -> dict[str, Any]:
    """One rule as plain data."""
    rule = entry.rule
    return {
        "code": rule.code,
        "name": rule.name,
        "title": rule.title,
        "severity": rule.severity.value,
        "applies_to": rule.applies_to,
        "reason": rule.reason,
        "remedy": rule.remedy,
        "options": [
            {
                "name": option.name,
                "type": _type(option, practice),
                "default": _default(option, practice),
                "key": option.default_key,
                "wording": option.wording,
            }
            for option in rule.options
        ],
        "sources": [{"key": key, **practice.source(key).as_json()} for key in rule.basis],
        "manual": manual(entry),
    }


def finding_lines(one: FoldedFinding) -> str:
    """A finding as the check command prints it: one line with its place, then the lines under it."""
    finding = one.finding
    place = f"parapet {one.places}" + (f", layer {finding.layer}" if finding.layer else "")
    first, *more = one.marks
    lines = [f"{first}: {finding.word} {finding.code} {finding.message} ({place})"]
    lines += [f"{INDENT}also at: {mark}" for mark in more]
    lines += [f"{INDENT}missing: {missing}" for missing in one.missing]
    if finding.waiver:
        lines.append(f"{INDENT}waiver: {finding.waiver}")
    if finding.answer:
        lines.append(f"{INDENT}answer: {finding.answer}")
    if finding.outcome not in QUIET:
        lines.append(f"{INDENT}reason: {finding.reason}")
        lines += [f"{INDENT}source: {source}" for source in finding.sources]
        lines += [f"{INDENT}because: {fact}" for fact in one.because]
    if finding.outcome is Outcome.FAIL:
        lines.append(f"{INDENT}remedy: {finding.remedy}")
    return "\n".join(lines)


def finding_json(one: FoldedFinding) -> dict[str, Any]:
    """A finding as plain data; the place is that at its first parapet."""
    finding = one.finding
    return {
        "code": finding.code,
        "name": finding.name,
        "severity": finding.severity.value,
        "outcome": finding.outcome.value,
        "message": finding.message,
        "file": finding.mark.file,
        "line": finding.mark.line,
        "column": finding.mark.column,
        "places": [str(mark) for mark in one.marks],
        "parapets": list(one.parapets),
        "layer": finding.layer,
        "reason": finding.reason,
        "remedy": finding.remedy,
        "sources": [source.as_json() for source in finding.sources],
        "because": list(one.because),
        "missing": list(one.missing),
        "waiver": finding.waiver,
        "answer": finding.answer,
    }


def openings_lines(planned: Iterable[PlannedOpenings]) -> str:
    """The openings wanted at standing parapets in print; nothing where there are none."""
    lines: list[str] = []
    for parapet, rows in groupby(planned, key=lambda one: one.parapet):
        lines.append(f"Openings before the repair of parapet {parapet} is specified:")
        sources: dict[Source, None] = {}
        for row in rows:
            wanted = row.wanted
            lines.append(
                f"{INDENT}{wanted.place}: {wanted.count} wanted, {wanted.done} made, {wanted.left} left"
            )
            lines.append(f"{INDENT * 2}look at: {'; '.join(wanted.why)}")
            if wanted.seen:
                lines.append(f"{INDENT * 2}observed: {', '.join(wanted.seen)}")
            if row.unknown:
                lines.append(f"{INDENT * 2}unknown until then: {'; '.join(row.unknown)}")
            sources[row.source] = None
        lines += [f"{INDENT}source of the counts: {source}" for source in sources]
    return "\n".join(lines)
