"""What a rule says about one place of the project."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from specgen.files.marks import Mark
from specgen.model.source import Source


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


@dataclass(frozen=True)
class Finding:
    """One outcome of one rule at one place. Unknown names the missing datum; waived, who and why."""

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
    limit: str = ""  # the practice key, where the finding is about an office's own limit
    requirement: str = ""  # id of the requirement the place is held against; "" where there is none
    attribute: str = ""  # the value that is held against it

    @property
    def counts(self) -> bool:
        """Whether a reader must act on it."""
        return self.outcome in (Outcome.FAIL, Outcome.UNKNOWN)
