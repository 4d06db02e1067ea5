"""The catalogue of requirements: whole, and refused where it is not."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from specgen.practice.entries import PracticeError
from specgen.practice.load import load_practice
from specgen.requirements import catalogue_file
from specgen.requirements.catalogue_file import EVIDENCE, CatalogueEntry, load_catalogue, title_of
from tests import plain_yaml

PRACTICE = load_practice()
CATALOGUE = load_catalogue()


@pytest.mark.parametrize("entry", CATALOGUE, ids=lambda entry: entry.name)
def test_an_entry(entry: CatalogueEntry) -> None:
    role = PRACTICE.vocabulary.roles[entry.role]
    assert title_of(entry, PRACTICE)
    field = role.fields.get(entry.attribute)
    assert entry.attribute == "kind" or field is not None or entry.title
    assert entry.evidence in EVIDENCE
    assert entry.reason.endswith(".") and entry.reason[0].isupper()
    assert entry.origins
    if entry.evidence == "test report":
        assert field is not None and field.method, "a test report is by a method"
    if field is not None and field.project_only:
        pytest.fail("a fact of the project is not asked of a product")
    if entry.identity:
        assert entry.comparison == "is" and entry.stage == "product"


def test_every_evidence_is_used_and_explained_to_the_reader() -> None:
    assert {entry.evidence for entry in CATALOGUE} == set(EVIDENCE)
    explained = plain_yaml.load((Path(__file__).parents[2] / "clauses/evidence.yaml").read_text())
    assert set(EVIDENCE) <= set(explained)


@pytest.fixture
def broken(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str, str], object]:
    def change(old: str, new: str) -> object:
        folder = tmp_path / "catalogue"
        shutil.copytree(catalogue_file.FOLDER, folder)
        file = folder / "coping.yaml"
        text = file.read_text()
        assert old in text
        file.write_text(text.replace(old, new, 1))
        monkeypatch.setattr(catalogue_file, "FOLDER", folder)
        return load_catalogue.__wrapped__()

    return change


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("role: coping", "role: copin", "unknown role 'copin'"),
        (
            "attribute: metal\n",
            "attribute: metall\n",
            "coping has no attribute 'metall', and no title is given",
        ),
        ("stage: product", "stage: products", "unknown stage 'products'"),
        ("evidence: product data", "evidence: data", "unknown evidence 'data'"),
        ("  reason: The top", "  raeson: The top", "'reason' is missing"),
        ("  when: [coping is metal]", "  wen: [coping is metal]", "unknown key wen"),
        ("when: [coping is metal]", "when: [coping is metallic]", "unknown condition 'coping is metallic'"),
        ("limit: {is: [choice]}", "limit: {equals: [choice]}", "one comparison of"),
        ("limit: {is: [choice]}", "limit: {is: [choice], one of: [choice]}", "one comparison of"),
        ("limit: {is: [choice]}", "limit: {is: [chosen]}", "unknown origin 'chosen'"),
        (
            "practice coping.metal_floor",
            "practice coping.metal_flor",
            "no practice entry 'coping.metal_flor'",
        ),
        ("lookup coping thickness", "lookup copings thickness", "unknown origin"),
        ("calculation coping wind.resistance_face", "calculation coping wind", "names no result"),
        (
            "step: {inch-pound: 1 psf, SI: 0.05 kPa}",
            "step: {inch-pound: 1 psf}",
            "a step for each of SI, inch-pound",
        ),
        ("coping.metal:", "barrier.kind:", "requirement 'barrier.kind' is defined twice"),
        (
            "evidence: product data\n  identity: true",
            "evidence: product data\n  options: {metal: metals}\n  identity: true",
            "options are of practice values, and none is among the origins",
        ),
        (
            "      says: tested resistance",
            "      words: tested resistance",
            "`beside` wants result: SUBJECT.RESULT",
        ),
        (
            "result: coping wind.resistance_face\n      says",
            "result: coping wind\n      says",
            "`beside` wants result",
        ),
    ],
)
def test_a_broken_catalogue_is_refused(
    old: str, new: str, message: str, broken: Callable[[str, str], object]
) -> None:
    with pytest.raises(PracticeError, match=message):
        broken(old, new)
