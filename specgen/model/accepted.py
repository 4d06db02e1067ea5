"""What was accepted on a project: submittals and substitutions, when, by whom, with what result."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from specgen.model.project import Record

SUBMITTAL, SUBSTITUTION = "submittal", "substitution"
PAPERS = (SUBMITTAL, SUBSTITUTION)


@dataclass(frozen=True)
class Acceptance(Record):
    """One accepted paper; its values are ``date``, ``by``, ``result`` and ``note``."""

    paper: str  # one of PAPERS
    file: str  # as written, relative to the project folder

    @property
    def date(self) -> date:
        """The day of the acceptance."""
        value = self.values["date"]
        assert isinstance(value, date)
        return value
