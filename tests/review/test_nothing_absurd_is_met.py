"""A submitted value far outside what a product can have is never met, whatever the checklist asks."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from specgen.intake.submittal import load_submission
from specgen.model.requirement import Requirement
from specgen.model.submission import Recommendation, Result
from specgen.practice.methods import MAKERS_WORD
from specgen.review.judge import review
from specgen.specification import Specification
from specgen.units.quantity import Quantity
from tests.review.conforming import EVIDENCE, design

EXAMPLES = (
    "cold-continental-school",
    "fluid-applied-roof",
    "hot-humid-lowrise",
    "marine-library",
    "mixed-humid-midrise",
    "plaster-covered-top",
)
# What a wall may have at the far end, and why.
LIKELY = {
    ("scupper", "inlet_most"): "a scupper at the low point lies on the roof",
    ("weep screed", "above_earth"): "a parapet stands on a tower",
    ("weep screed", "above_paving"): "a parapet stands on a tower",
}
FAR: dict[str, tuple[str, ...]] = {  # in the unit of the limit, as factors of it
    "at least": ("1000", "100000"),
    "at most": ("0", "0.0000001"),
}


def far(requirement: Requirement) -> Iterator[str]:
    """Values far on the side of the limit where a sound product lies."""
    limit = requirement.limit.stated
    if isinstance(limit, bool) or not isinstance(limit, Quantity | int):
        return
    if (
        isinstance(limit, Quantity)
        and limit.dimension == "ratio"
        and requirement.limit.comparison == "at least"
    ):
        yield "100000 %"
        return
    if isinstance(limit, Quantity) and limit.dimension == "temperature":
        yield from (
            ("2500 degF", "9000 degF") if requirement.limit.comparison == "at least" else ("-400 degF",)
        )
        return
    for factor in FAR.get(requirement.limit.comparison, ()):
        if isinstance(limit, int):
            yield f"{limit * max(1, int(float(factor)))}" if float(factor) >= 1 else "0"
        else:
            yield f"{limit.number * float(factor):.12f} {limit.unit}".strip()


def asked(spec: Specification) -> Iterator[tuple[Requirement, str]]:
    """Every quantity that a product can state, with the kind that stands in the wall."""
    assessment = spec.assessment
    kinds = {
        (part.role, parapet.name): part.kind
        for parapet in assessment.project.parapets
        for part in parapet.components()
    }
    fields = assessment.practice.vocabulary.roles
    for one in assessment.requirements.by_id.values():
        field = fields[one.role].fields.get(one.attribute)
        if (one.role, one.attribute) in LIKELY:
            continue
        if field is not None and not field.project_only and one.parapets:
            yield one, kinds.get((one.role, one.parapets[0]), "")


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_value_far_outside_is_never_met(name: str, tmp_path: Path) -> None:
    spec = design(name)
    assessment, met, tried = spec.assessment, [], set()
    for requirement, kind in asked(spec):
        for value in far(requirement):
            condition = f" @ {requirement.condition}" if requirement.condition else ""
            claim = {"value": int(value) if value.isdecimal() else value + condition, "evidence": EVIDENCE}
            if requirement.method and requirement.method != MAKERS_WORD:
                claim["method"] = requirement.method
            lines = f"    {requirement.attribute}: {json.dumps(claim)}\n"
            lines += f"    kind: {json.dumps(kind)}\n" if kind else ""
            path = tmp_path / "s.yaml"
            path.write_text(
                f'format: 2\nsubmittal: {{number: "1"}}\nproducts:\n'
                f"  - role: {requirement.role}\n    name: sample\n"
                f"    parapets: {json.dumps(list(requirement.parapets))}\n{lines}"
            )
            (found,) = review(
                load_submission(path, assessment.practice),
                assessment.requirements,
                {},
                assessment.practice,
                assessment.system,
            )
            rows = [row for row in found.verdicts if row.requirement.attribute == requirement.attribute]
            tried.add((requirement.role, requirement.attribute))
            assert rows, (requirement.id, value)
            met += [(requirement.id, value, row.reason) for row in rows if row.result is Result.MEETS]
            assert found.recommendation is not Recommendation.NO_EXCEPTIONS
    assert not met
    assert len(tried) >= 20
