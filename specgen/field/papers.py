"""All field papers of a project, by the name of their file."""

from __future__ import annotations

from collections.abc import Mapping

from specgen.field.conference import conference_agenda
from specgen.field.hold_points import hold_point_checklist
from specgen.field.tests_plan import test_plan
from specgen.field.trades import responsibility_matrix
from specgen.model.document import Document
from specgen.specification import Specification


def field_papers(spec: Specification) -> Mapping[str, Document]:
    """The papers that go to the site.

    Args:
        spec: the project as written.

    Returns:
        Conference agenda, hold-point checklist, mock-up and test plan, responsibility matrix, by file stem.
    """
    return {
        "conference-agenda": conference_agenda(spec),
        "hold-point-checklist": hold_point_checklist(spec),
        "mock-up-and-test-plan": test_plan(spec),
        "responsibility-matrix": responsibility_matrix(spec.assessment),
    }
