"""What the file says does not apply: nothing asks for it any more, where common practice alone did.

A claim lifts no question of the code or of a standard, no defect, and no requirement that is in force at the place: these
apply by what else is known of the wall. There the question stands, and the claim fails at its own line.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from specgen.files.marks import Mark
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.project import Component, Record
from specgen.model.source import Source, Status
from specgen.rules.rule import Rule, RuleResult
from specgen.rules.wall import Wall
from specgen.wall.differing import Fact, own_records, records_at
from specgen.wall.memo import Memo

TELLS = "MV07"  # the rule that tells of what does not apply


@dataclass(frozen=True)
class _Held:
    """A value that a question has read and names, and nobody states."""

    record: Record
    name: str

    @property
    def why(self) -> str | None:
        """The reason why it does not apply; None where the file gives none."""
        return self.record.inapplicable.get(self.name)


def lifted(findings: Iterable[Finding], wall: Wall, memo: Memo) -> Iterator[Finding]:
    """The findings at a parapet, with the reasons of the file weighed against what asks for the values.

    Args:
        findings: of the rules at this parapet.
        wall: the parapet.
        memo: tells what each rule has read.
    """
    records = dict((*own_records(wall.project), *records_at(wall.parapet)))
    if not any(record.inapplicable for record in records.values()):
        yield from findings
        return
    asking: dict[tuple[Mark, str], list[Finding]] = {}
    settled = [_settled(one, records, memo, asking) for one in findings]
    for one in settled:
        asked = asking.get((one.mark, one.attribute), ()) if one.inapplicable else ()
        yield _refused(one, asked) if asked and one.code == TELLS else one


def _settled(
    one: Finding, records: Mapping[str, Record], memo: Memo, asking: dict[tuple[Mark, str], list[Finding]]
) -> Finding:
    """A question without what does not apply; one that stands all the same is noted by the place of each reason."""
    if one.outcome is not Outcome.UNKNOWN:
        return one
    wanted = _at_the_layer(one, list(_wanted(one, records, memo.read_for(one.code, one.parapet))))
    apart = [held for held in wanted if held.why is not None]
    if one.requirement or not by_practice(one.severity, one.sources):
        for held in apart:
            asking.setdefault((held.record.at(held.name), held.name), []).append(one)
        return one
    if not apart or len(apart) < len(wanted):
        return one
    reasons = "; ".join(dict.fromkeys(f"`{held.name}` does not apply: {held.why}" for held in apart))
    why = "; ".join(dict.fromkeys(str(held.why) for held in apart))
    words = f"{one.message}; {reasons}"
    return replace(one, outcome=Outcome.NOT_APPLICABLE, message=words, missing="", inapplicable=why)


def _refused(one: Finding, asked: Iterable[Finding]) -> Finding:
    """What is stated not to apply and is asked for: as grave as the gravest that asks, where it is no mere practice."""
    by = sorted(asked, key=lambda each: list(Severity).index(each.severity))
    grave = [each.severity for each in by if not by_practice(each.severity, each.sources)]
    names = ", ".join(dict.fromkeys(f"{each.code} {each.name}" for each in by))
    words = f"{one.message}; it is asked for all the same: {names}"
    return replace(one, outcome=Outcome.FAIL, severity=[*grave, Severity.QUERY][0], message=words)


def by_practice(severity: Severity, sources: Iterable[Source]) -> bool:
    """Whether nothing but common practice stands behind a finding, and no defect comes of it."""
    practice = all(source.status is Status.PRACTICE for source in sources)
    return practice and severity is not Severity.DEFECT


def without_role(
    result: RuleResult, rule: Rule, wall: Wall, sources: Iterable[Source]
) -> tuple[RuleResult, str]:
    """A failure for want of a role that the file gives a reason for, and the reason; "" where it gives none."""
    if result.outcome is not Outcome.FAIL or not result.without:
        return result, ""
    stated = [one for one in wall.parapet.absent if one.role in result.without]
    why = next((one.because["kind"] for one in stated if "kind" in one.because), "")
    if not why:
        return result, ""
    if by_practice(result.severity or rule.severity, sources):
        words = f"{result.message}; the parapet needs none: {why}"
        return replace(result, outcome=Outcome.NOT_APPLICABLE, message=words), why
    return replace(result, message=f"{result.message}; the reason that the file gives: {why}"), ""


def _wanted(one: Finding, records: Mapping[str, Record], read: Iterable[Fact]) -> Iterator[_Held]:
    """What a question has read and names, and nobody states."""
    for at, name in read:
        place, _, held = at.rpartition(".")
        record = records.get(place) if held == "values" else None
        if record is None or not isinstance(name, str) or record.has(name):
            continue
        if re.search(rf"\b{re.escape(name)}\b", one.missing):
            yield _Held(record, name)


def _at_the_layer(one: Finding, wanted: list[_Held]) -> list[_Held]:
    """What is wanted of the component that the question is about, where it is about one, and of what is none."""
    named = {id(held.record) for held in wanted if _id(held) and f"`{_id(held)}`" in one.missing}
    named = named or {id(held.record) for held in wanted if _id(held) and _id(held) == one.layer}
    return [held for held in wanted if not named or not _id(held) or id(held.record) in named]


def _id(held: _Held) -> str:
    return held.record.id if isinstance(held.record, Component) else ""
