"""Explanations in print, for an owner to read."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

from specgen.explain.bench import rank
from specgen.explain.chain import Explanation, StatedRequirement
from specgen.explain.options import TriedOption
from specgen.model.finding import Finding, Outcome

WIDTH = 110
STEP = "  "
RESULT_WORDS = {
    "closes": "Closes {code}.",
    "eases": "Does not close {code}, but eases it.",
    "leaves": "Does not close {code}.",
}


def explanation_text(explanations: Iterable[Explanation]) -> str:
    """The explanations; parapets that share a line, and for which every trial ends alike, share one."""
    groups: dict[tuple[object, ...], list[Explanation]] = {}
    for one in explanations:
        groups.setdefault(_alike(one), []).append(one)
    return "\n\n".join("\n".join(_lines(same)) for same in groups.values())


def _alike(one: Explanation) -> tuple[object, ...]:
    finding = one.finding
    trials = tuple(
        (
            tuple((edit.before, edit.after) for edit in option.edits),
            option.result,
            tuple(map(_statement, (*option.effect.closes, *option.effect.breaks))),
            tuple((_statement(pair.before), _statement(pair.after)) for pair in option.effect.alters),
            option.effect.requirements,
        )
        for option in one.options
    )
    return finding.code, str(finding.mark), finding.message, finding.layer, trials


def _statement(finding: Finding) -> tuple[object, ...]:
    return finding.code, finding.layer, finding.message, finding.outcome, finding.severity


def _lines(same: list[Explanation]) -> Iterator[str]:
    one = same[0]
    finding = one.finding
    layer = f", layer {finding.layer}" if finding.layer else ""
    yield f"{finding.mark}: {finding.word} {finding.code} {finding.message} (parapet {finding.parapet}{layer})"
    others = [other.finding.parapet for other in same[1:]]
    if others:
        yield from _wrapped(
            f"The same at {', '.join(others)}: the options were tried there too, and end alike."
        )
    yield from _wrapped(f"Rule: {one.title}. {finding.reason}")
    yield from _value(one)
    yield from _limit(one)
    for fact in finding.because:
        yield from _wrapped(f"Because: {fact}.")
    if finding.missing:
        yield from _wrapped(f"Missing: {finding.missing}.")
    yield from _dependents(one)
    yield from _options(one)


def _wrapped(text: str, depth: int = 1) -> list[str]:
    first, later = STEP * depth, STEP * (depth + 1)
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=later, break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip


def _value(one: Explanation) -> Iterator[str]:
    value = one.value
    if value is None:
        return
    yield from _wrapped(
        f"Value: `{value.path}` is {value.value}." if value.value else f"Place: `{value.path}`."
    )
    if value.quoted:
        yield f"{STEP * 2}line {value.line} | {value.quoted}"


def _limit(one: Explanation) -> Iterator[str]:
    limit = one.limit
    if limit is None:
        sources = "; ".join(dict.fromkeys(str(source) for source in one.finding.sources))
        yield from _wrapped(f"Limit: set by the rule. Source: {sources}.")
        return
    yield from _wrapped(
        f"Limit: {limit.limit}. Requirement `{limit.id}`, set by {limit.origin}. Source: {limit.source}."
    )


def _dependents(one: Explanation) -> Iterator[str]:
    found = one.dependents
    lines = [f"finding {_short(other)}" for other in found.findings]
    lines += [_requirement(requirement) for requirement in found.requirements]
    lines += [f"calculation: {subject}" for subject in found.calculations]
    if not lines:
        if one.finding.outcome is Outcome.FAIL:
            yield from _wrapped("Depends on it: no other finding, requirement or calculation.")
        return
    yield from _wrapped("Depends on it:")
    for line in lines:
        yield from _wrapped(line, 2)


def _requirement(one: StatedRequirement) -> str:
    where = f"stated in {one.paragraph}" if one.paragraph else "stated in no written section"
    return f"requirement `{one.id}` ({one.limit}), {where}"


def _short(finding: Finding) -> str:
    layer = f" ({finding.layer})" if finding.layer else ""
    message = f"{finding.message}; add: {finding.missing}" if finding.missing else finding.message
    return f"{finding.word} {finding.code}{layer}: {message}"


def _options(one: Explanation) -> Iterator[str]:
    if one.finding.outcome is not Outcome.FAIL:
        return  # the line that names the missing fact says what to do
    if not one.options:
        yield from _wrapped(f"Options: none that could be tried. Remedy: {one.finding.remedy}")
        return
    useful = [option for option in one.options if option.result != "leaves" or option.effect.closes]
    if useful:
        yield from _wrapped("Options, each tried on a copy of the project:")
    for number, option in enumerate(useful, start=1):
        yield from _option(number, option, one)
    rest = len(one.options) - len(useful)
    if rest:
        other = "other " if useful else ""
        were = "option was" if rest == 1 else "options were"
        yield from _wrapped(f"{rest} {other}{were} tried and {'closes' if rest == 1 else 'close'} nothing.")
        if not useful:
            yield from _wrapped(f"Remedy: {one.finding.remedy}")


def _option(number: int, option: TriedOption, one: Explanation) -> Iterator[str]:
    yield from _wrapped(f"{number}. {' '.join(edit.sentence for edit in option.edits)}", 2)
    for line in (*outcome_sentences(option, one), *paper_sentences(option, one)):
        yield from _wrapped(line, 3)


def outcome_sentences(option: TriedOption, one: Explanation) -> Iterator[str]:
    """What the option does to findings, its own first."""
    effect, finding = option.effect, one.finding
    yield from (f"Holds only with {need}." for need in option.needs)
    yield RESULT_WORDS[option.result].format(code=finding.code)
    also = [other for other in effect.closes if _statement(other) != _statement(finding)]
    if also:
        yield f"Also closes {_codes(also)}."
    elif option.result == "leaves":
        yield "Closes no other finding."
    for pair in effect.alters:
        worse = rank(pair.after) > rank(pair.before)
        yield f"{'Makes worse' if worse else 'Leaves open'}: {_short(pair.after)}."
    broken = [other for other in effect.breaks if other.outcome is Outcome.FAIL]
    yield from (f"Newly breaks: {_short(other)}." for other in broken)
    if not broken:
        yield "Breaks nothing new."
    asks = [other for other in effect.breaks if other not in broken]
    if asks:
        yield f"Newly asks for data ({_codes(asks)}): {'; '.join(other.missing for other in asks)}."


def paper_sentences(option: TriedOption, one: Explanation) -> Iterator[str]:
    """What the option does to calculations, requirements and paragraphs."""
    if option.effect.calculations:
        yield f"Changes the calculation: {', '.join(option.effect.calculations)}."
    changes = option.effect.requirements
    for change in changes:
        where = one.stated.get(change.name) or f"Section {change.section}"
        if change.before and change.after:
            yield f"Requirement `{change.name}`: {change.before} becomes {change.after} ({where})."
        elif change.before:
            yield f"Requirement `{change.name}` falls away ({where})."
    sections: dict[str, list[str]] = {}
    for change in changes:
        if not change.before:
            sections.setdefault(change.section, []).append(f"`{change.name}` ({change.after})")
    for section, added in sections.items():
        yield f"New in Section {section}: requirement {', '.join(added)}."


def _codes(findings: Iterable[Finding]) -> str:
    return ", ".join(dict.fromkeys(finding.code for finding in findings))
