"""Which findings of a project are looked at: by parapet, severity and rule."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.assessment import Assessment
from specgen.files.marks import suggestion
from specgen.model.finding import Finding, Severity
from specgen.rules.existing.openings import PlannedOpenings, planned_openings
from specgen.rules.papers import PAPER_RULES

OPENINGS = "EX03"  # the rule that asks for openings


@dataclass(frozen=True)
class Filters:
    """Which findings are shown; an empty tuple shows all."""

    parapets: tuple[str, ...] = ()
    severities: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()

    def passes(self, finding: Finding) -> bool:
        """Whether a finding is shown. One about the whole project is shown at every parapet."""
        return (
            (not self.parapets or finding.parapet in (*self.parapets, "all"))
            and (not self.severities or finding.severity.value in self.severities)
            and (not self.codes or finding.code in self.codes)
        )

    def openings(self, assessment: Assessment) -> tuple[PlannedOpenings, ...]:
        """The openings wanted at the parapets shown; none where the rule that asks for them is not shown."""
        asked = (not self.codes or OPENINGS in self.codes) and (
            not self.severities or Severity.QUERY.value in self.severities
        )
        return planned_openings(assessment.project, assessment.practice, self.parapets) if asked else ()

    def strange(self, assessment: Assessment) -> list[str]:
        """A message for each word that names nothing, with the nearest that does."""
        parapets = [parapet.name for parapet in assessment.project.parapets]
        codes = [*(entry.rule.code for entry in assessment.book), *(rule.code for rule in PAPER_RULES)]
        severities = [severity.value for severity in Severity]
        out = []
        for what, given, known in (
            ("parapet", self.parapets, parapets),
            ("severity", self.severities, severities),
            ("rule", self.codes, codes),
        ):
            for word in given:
                if word not in known:
                    hint = suggestion(word, known, f"known: {', '.join(known)}")
                    out.append(f"no {what} `{word}`; {hint}")
        return out

    def __str__(self) -> str:
        given = {"parapet": self.parapets, "severity": self.severities, "code": self.codes}
        words = [f"{name} {', '.join(chosen)}" for name, chosen in given.items() if chosen]
        return f"shown: {'; '.join(words)}" if words else ""
