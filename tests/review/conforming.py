"""A product that meets every row asked of its role, and what a case changes of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from specgen.assessment import Assessment
from specgen.files.marks import Mark
from specgen.intake.bounds import stated
from specgen.model.project import Record
from specgen.model.requirement import Requirement
from specgen.model.submission import Claim, Product, ProductReview, Submission
from specgen.practice.methods import MAKERS_WORD
from specgen.requirements.judge import holds
from specgen.review.package import review_package
from specgen.specification import Specification, specify
from specgen.units.quantity import Quantity, parse
from specgen.work.inputs import read_inputs

MARK = Mark("s.yaml", 1, 1)
EVIDENCE = "test report, page 1"
ROOT = Path(__file__).parents[2] / "tests" / "stated"
Edits = tuple[tuple[str, str], ...]


def design(name: str, edits: Edits = (), folder: Path | None = None) -> Specification:
    """A worked project, with texts of its file replaced."""
    path = ROOT / name
    if edits:
        assert folder is not None
        text = (path / "project.yaml").read_text()
        for old, new in edits:
            assert old in text, f"{name}: no `{old}`"
            text = text.replace(old, new)
        path = folder / f"{name}-{abs(hash(edits))}.yaml"
        path.write_text(text)
    return assessed(path)


@lru_cache(maxsize=16)
def assessed(path: Path) -> Specification:
    return specify(read_inputs(path, None, False).assessed())


def product(
    assessment: Assessment, role: str, given: Mapping[str, Any], at: Sequence[str], name: str
) -> Product:
    """A product of a role at the limit of every row, with the attributes that are given in their place."""
    claims: dict[str, Claim] = {}
    for one in assessment.requirements.of_role(role):
        if one.stage == "product" and (not at or set(at) & set(one.parapets)):
            claims[one.attribute] = _stricter(one, claims.get(one.attribute))
    role_of = assessment.practice.vocabulary.roles[role]
    for key, written in given.items():
        if key == "meant":
            continue
        if key == "kind":
            claims["kind"] = Claim(written, "", EVIDENCE, MARK)
            continue
        field = role_of.fields[key]
        found = stated(field, written, assessment.practice.vocabulary)
        claims[key] = Claim(found.value, _method(field.method), EVIDENCE, MARK, found.sense, found.upper)
    kind = str(claims["kind"].value) if "kind" in claims else ""
    return Product(role, name, kind, claims, MARK, tuple(at), meant=given.get("meant", {}))


def _stricter(requirement: Requirement, known: Claim | None) -> Claim:
    value = requirement.limit.value
    if requirement.limit.comparison == "one of":
        assert isinstance(value, tuple)
        value = value[0]
    if requirement.condition and isinstance(value, Quantity):
        value = replace(value, condition=parse(requirement.condition))
    claim = Claim(value, _method(requirement.method), EVIDENCE, MARK)
    return known if known is not None and holds(known.value, requirement.limit) else claim


def _method(method: str) -> str:
    return "" if method == MAKERS_WORD else method


def reviewed(
    case: Mapping[str, Any], products: Sequence[tuple[str, Mapping[str, Any]]], folder: Path
) -> tuple[ProductReview, ...]:
    """The reviews of products submitted in files of their own for the project of a case."""
    spec = design(case["project"], tuple(map(tuple, case.get("edits", ()))), folder)
    files = tuple(
        Submission(
            Record("submittal", {"number": str(number)}, {}, MARK),
            (product(spec.assessment, role, given, case.get("at", ()), f"{role} {number}"),),
            f"{number}.yaml",
        )
        for number, (role, given) in enumerate(products, 1)
    )
    return tuple(one for _, reviews in review_package(files, spec) for one in reviews)
