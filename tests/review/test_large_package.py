"""A package of forty products with many conflicts: the same points as one by one, in a bounded number of trials."""

from __future__ import annotations

import random
from collections.abc import Sequence
from pathlib import Path

import pytest

from specgen.explain.bench import Bench
from specgen.intake.submittal import load_submission
from specgen.model.project import Project
from specgen.model.submission import Submission
from specgen.practice.load import load_practice
from specgen.review import package
from specgen.review.wall import Change
from specgen.specification import specify
from specgen.work.inputs import read_inputs

HUMID = Path(__file__).parents[1] / "stated" / "hot-humid-lowrise"
FAMILIES = (
    "butyl",
    "SBS bitumen",
    "silicone",
    "acrylic adhesive",
    "polyurethane fluid",
    "EPDM",
    "TPO",
    "PVC",
)
METALS = ("copper", "zinc", "aluminum", "galvanized steel")


def submitted(count: int, folder: Path) -> tuple[Submission, ...]:
    """Products of any kind, family and metal for every role of the wall, several for each: invented, seeded."""
    practice, rnd = load_practice(), random.Random(3)
    project = read_inputs(HUMID, None, False).project
    roles = [
        (role, one)
        for role, one in practice.vocabulary.roles.items()
        if one.kinds and any(parapet.all_of(role) for parapet in project.parapets)
    ]
    lines = ["format: 2", "submittal:", '  number: "1"', "products:"]
    for number in range(count):
        role, one = roles[number % len(roles)]
        lines += [
            f"  - role: {role}",
            f"    name: Product {number}",
            f"    kind: {rnd.choice(list(one.kinds))}",
        ]
        lines += [f"    family: {rnd.choice(FAMILIES)}"] if "family" in one.fields else []
        lines += [f"    metal: {rnd.choice(METALS)}"] if "metal" in one.fields else []
    path = folder / "package.yaml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return (load_submission(path, practice),)


@pytest.fixture
def trials(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every wall that is assessed, by its parapet."""
    found: list[str] = []
    before = Bench._assessed

    def assessed(self: Bench, project: Project, name: str) -> object:
        found.append(name)
        return before(self, project, name)

    monkeypatch.setattr(Bench, "_assessed", assessed)
    return found


def test_forty_products_with_many_conflicts(tmp_path: Path, trials: list[str]) -> None:
    spec = specify(read_inputs(HUMID, None, False).assessed())
    ((_, reviews),) = package.review_package(submitted(40, tmp_path), spec)
    points = [point for one in reviews for point in one.wall]
    assert len(reviews) == 40
    assert sum(bool(point.mended_by) for point in points) >= 5
    parapets = len(spec.assessment.project.parapets)
    assert (
        len(trials) <= 5 * 40 * parapets
    )  # 12 products a wall: each pair of them would be more than twice as many


def test_halves_find_what_one_after_the_other_finds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    spec = specify(read_inputs(HUMID, None, False).assessed())
    sent = submitted(14, tmp_path)
    quick = package.review_package(sent, spec)

    def slowly(
        bench: Bench, change: Change, changes: Sequence[Change], point: object, known: object
    ) -> tuple[str, ...]:
        others = [one for one in changes if one is not change]
        for one in others:
            if package._gone(point, package.wall_effects(bench, (change, one))):  # type: ignore[arg-type]
                return (one.name,)
        return tuple(one.name for one in others)

    monkeypatch.setattr(package, "_menders", slowly)
    assert package.review_package(sent, spec) == quick
    assert any(point.mended_by for _, reviews in quick for one in reviews for point in one.wall)
