"""All field papers of a project, by the name of their file."""

from __future__ import annotations

from collections.abc import Mapping

from specgen.assessment import Assessment
from specgen.field.conference import conference_agenda
from specgen.field.hold_points import hold_point_checklist
from specgen.field.tests_plan import test_plan
from specgen.field.trades import responsibility_matrix
from specgen.model.document import Document
from specgen.sections.build import SectionText


def field_papers(assessment: Assessment, sections: tuple[SectionText, ...]) -> Mapping[str, Document]:
    """The papers that go to the site.

    Args:
        assessment: the project.
        sections: as written of it.

    Returns:
        Conference agenda, hold-point checklist, mock-up and test plan, responsibility matrix, by file stem.
    """
    where = {key: ref for section in sections for key, ref in section.paragraphs.items()}
    return {
        "conference-agenda": conference_agenda(assessment, sections),
        "hold-point-checklist": hold_point_checklist(assessment, where),
        "mock-up-and-test-plan": test_plan(assessment, sections),
        "responsibility-matrix": responsibility_matrix(assessment),
    }
