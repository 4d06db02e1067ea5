"""What a rule says about one place of the project."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from specgen.files.marks import Mark
from specgen.model.source import Source
from specgen.units.counted import many


class Severity(Enum):
    """How bad a failed rule is."""

    DEFECT = "defect"  # breaks a code or a condition the assembly depends on
    RISK = "risk"  # departs from good practice
    QUERY = "query"  # someone must answer or confirm in writing


class Outcome(Enum):
    """What a rule found."""

    PASS = "pass"  # noqa: S105 - not a password
    SPECIFIED = "specified"  # left to a requirement that the sections print
    FAIL = "fail"
    UNKNOWN = "unknown"  # the file does not say enough
    NOT_APPLICABLE = "not applicable"
    NOT_COVERED = "not covered"  # no rule of this country or edition; a named person must answer
    WAIVED = "waived"


QUIET = (Outcome.PASS, Outcome.SPECIFIED, Outcome.NOT_APPLICABLE)  # nobody must act on them


@dataclass(frozen=True)
class Finding:
    """One outcome of one rule at one place. Unknown names the missing datum; waived and answered, who and why."""

    code: str
    name: str
    severity: Severity
    outcome: Outcome
    message: str
    mark: Mark
    parapet: str
    layer: str  # component id; "" where the finding is about the whole parapet
    reason: str
    remedy: str
    sources: tuple[Source, ...]
    because: tuple[str, ...] = ()  # facts that switched the rule on: climate zone, edition …
    missing: str = ""
    waiver: str = ""
    answer: str = ""  # of a named person, where no rule covers the place
    limit: str = ""  # the practice key, where the finding is about an office's own limit
    requirement: str = ""  # id of the requirement the place is held against; "" where there is none
    attribute: str = ""  # the value that is held against it
    title: str = ""  # of the rule: what is right at the place, as a sentence
    inapplicable: str = ""  # the file's reason why what is looked at does not apply

    @property
    def failed(self) -> bool:
        """Whether a defect or a risk stands: it fails, and is no question to anybody."""
        return self.outcome is Outcome.FAIL and self.severity is not Severity.QUERY

    @property
    def open(self) -> bool:
        """Whether the answer is still wanted: of data that are missing, or of a person where no rule covers it."""
        return self.outcome is Outcome.UNKNOWN or (self.outcome is Outcome.NOT_COVERED and not self.answer)

    @property
    def counts(self) -> bool:
        """Whether a reader must act on it."""
        return self.outcome is Outcome.FAIL or self.open

    @property
    def shown(self) -> bool:
        """Whether a reader sees it: someone must act on it, has answered it, or gives a reason why it does not apply."""
        decided = (Outcome.WAIVED, Outcome.NOT_COVERED)
        return self.counts or self.outcome in decided or bool(self.inapplicable)

    @property
    def word(self) -> str:
        """How it is called in print: the severity of what fails, the outcome of the rest."""
        return self.severity.value if self.outcome is Outcome.FAIL else self.outcome.value


def count_words(count: int, word: str) -> str:
    """How many findings of one severity or outcome, in words.

    >>> count_words(2, "query"), count_words(1, "defect"), count_words(3, "unknown")
    ('2 queries', '1 defect', '3 unknown')
    """
    return many(count, word) if word in [one.value for one in Severity] else f"{count} {word}"
