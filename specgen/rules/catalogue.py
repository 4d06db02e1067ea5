"""The rule book and its findings in print: pages, sheets, lines."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from typing import ClassVar, Protocol

from specgen.model.finding import QUIET, Outcome, Severity
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


@dataclass(frozen=True)
class OptionLine:
    """What an office can set of a rule; ``type`` is the dimension of its value, or "words"."""

    name: str
    type: str
    default: str
    key: str  # of the practice entry that holds the default
    wording: str


@dataclass(frozen=True)
class CitedSource:
    """The practice entry on which a rule rests, with its source."""

    key: str
    source: Source
    SPREAD_PLAIN: ClassVar = ("source",)


@dataclass(frozen=True)
class RulePage:
    """One rule as the catalogue prints it; ``manual`` is its page without the heading."""

    code: str
    name: str
    title: str
    severity: Severity
    applies_to: str
    reason: str
    remedy: str
    options: tuple[OptionLine, ...]
    sources: tuple[CitedSource, ...]
    manual: str


def rule_page(entry: Described, practice: Practice) -> RulePage:
    """What the catalogue prints of a rule."""
    rule = entry.rule
    return RulePage(
        rule.code,
        rule.name,
        rule.title,
        rule.severity,
        rule.applies_to,
        rule.reason,
        rule.remedy,
        tuple(_option(option, practice) for option in rule.options),
        tuple(CitedSource(key, practice.source(key)) for key in rule.basis),
        manual(entry),
    )


def rule_sheet(entry: Described, practice: Practice) -> str:
    """One rule in print: what it asks, why, from where, what helps, and its examples."""
    page = rule_page(entry, practice)
    lines = [
        f"{page.code} {page.name}",
        page.title + ".",
        "",
        f"severity: {page.severity.value}",
        f"applies to: {page.applies_to}",
        f"reason: {page.reason}",
    ]
    lines += [
        f"option: {one.name} ({one.type}), default {one.default}: {one.wording}" for one in page.options
    ]
    lines += [f"source: {one.source} ({one.key})" for one in page.sources]
    lines += [f"remedy: {page.remedy}", "", page.manual]
    return "\n".join(lines)


def manual(entry: Described) -> str:
    """The manual page without its heading: what is checked, what is right, what is wrong."""
    body = entry.manual.partition("\n")[2].strip()
    return re.sub(r"^(Right|Wrong)::$", r"\1:", body, flags=re.MULTILINE)


def _option(option: Option, practice: Practice) -> OptionLine:
    value = practice.entry(option.default_key).value
    kind = value.dimension if isinstance(value, Quantity) else "words"
    default = "" if value is None else words(value)
    return OptionLine(option.name, kind, default, option.default_key, option.wording)


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
