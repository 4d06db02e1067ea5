"""Findings as they are printed and counted: what several parapets share is one finding, wherever it is read."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from specgen.files.marks import Mark
from specgen.model.finding import QUIET, Finding, Outcome, Severity

OPEN_WORDS = (*(one.value for one in Severity), Outcome.UNKNOWN.value, Outcome.NOT_COVERED.value)  # to act on
ANSWERED = "answered"  # not covered, and closed by a named person
WORDS = (*OPEN_WORDS, Outcome.WAIVED.value, ANSWERED, *(one.value for one in QUIET))


@dataclass(frozen=True)
class FoldedFinding:
    """One finding at every parapet that has it: the same rule, component and words."""

    finding: Finding  # as the first parapet has it
    parapets: tuple[str, ...]  # "all" where it is about the whole project
    marks: tuple[Mark, ...]
    because: tuple[str, ...]  # a fact that not every parapet shares names those that do
    missing: tuple[str, ...]
    SPREAD_PLAIN: ClassVar = ("finding",)

    @property
    def places(self) -> str:
        """The parapets as a list."""
        return ", ".join(self.parapets)


def folded(findings: Iterable[Finding]) -> tuple[FoldedFinding, ...]:
    """The findings, those that say the same of several parapets once, in the order in which each comes first.

    Two findings of one parapet are never one, whatever they say: each is about a place of its own.
    """
    groups: dict[tuple[object, ...], list[Finding]] = {}
    before: Counter[tuple[object, ...]] = Counter()
    for one in findings:
        words = (one.code, one.severity, one.outcome, one.layer, one.message, one.waiver, one.answer)
        groups.setdefault((*words, before[one.parapet, words]), []).append(one)
        before[one.parapet, words] += 1
    return tuple(_folded(same) for same in groups.values())


def _folded(same: Sequence[Finding]) -> FoldedFinding:
    facts: dict[str, list[str]] = {}
    for one in same:
        for fact in one.because:
            facts.setdefault(fact, []).append(one.parapet)
    return FoldedFinding(
        same[0],
        tuple(one.parapet for one in same),
        tuple(dict.fromkeys(one.mark for one in same)),
        tuple(
            fact if len(names) == len(same) else f"{fact} ({', '.join(names)})"
            for fact, names in facts.items()
        ),
        tuple(dict.fromkeys(one.missing for one in same if one.missing)),
    )


def summary(findings: Iterable[Finding]) -> dict[str, int]:
    """How many findings of each severity and outcome; every reader counts with this.

    What someone must act on, or has accepted, counts once for all parapets that share it. What passed, does not
    apply or is left to the sections counts as a check, at each parapet where it was made.
    """
    every = tuple(findings)
    counts = Counter(one.word for one in every if one.outcome in QUIET)
    counts.update(
        ANSWERED if one.finding.answer else one.finding.word
        for one in folded(one for one in every if one.outcome not in QUIET)
    )
    return {word: counts[word] for word in WORDS}
