"""Remedies that close a finding, written into the file: read again, it has the findings of the tried copy."""

from __future__ import annotations

import shutil
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from specgen.assessment import assess
from specgen.explain.bench import Bench
from specgen.explain.options import draft_of, options
from specgen.files.marks import refuse
from specgen.files.yaml_reader import read_yaml_text
from specgen.intake.project import ProjectReader, load_project
from specgen.model.finding import Finding
from specgen.model.project import Project
from specgen.practice.load import load_practice
from specgen.work.editing import apply_edits
from tests import plain_yaml
from tests.chain.runs import REPO
from tests.conftest import sampled
from tests.rules.mutations.demos import Demo
from tests.rules.mutations.document import changed
from tests.rules.mutations.table import Mutation, mutations

PRACTICE = load_practice()
FAULTY = REPO / "projects/faulty-parapet"


def statements(findings: tuple[Finding, ...]) -> Counter[tuple[object, ...]]:
    """What the findings say that someone must act on, without their places in the file."""
    return Counter(
        (one.code, one.parapet, one.layer, one.attribute, one.message) for one in findings if one.counts
    )


def read(text: str, file: Path) -> Project:
    reader = ProjectReader(PRACTICE, read_yaml_text(text, str(file), want=dict), str(file))
    project = reader.read()
    refuse(reader.problems)
    return project


def written(folder: Path, codes: tuple[str, ...] = ()) -> Iterator[str]:
    """Write each remedy that closes a finding of these rules, and hold what comes of it; its words."""
    file = folder / "project.yaml"
    text, project = file.read_text("utf-8"), load_project(folder, PRACTICE)
    bench = Bench(assess(project, PRACTICE))
    for finding in bench.assessment.findings:
        if not finding.counts or (codes and finding.code not in codes):
            continue
        closing = [one for one in options(bench, finding) if one.result == "closes"]
        for option in sampled("remedies that close, written", closing, f"{folder.name} {finding.code}"):
            draft = draft_of(bench, finding, option)
            one = apply_edits(text, project, PRACTICE, draft)
            now = bench.assessment.again(read(one.text, file)).findings
            tried = bench.assessment.again(draft.project).findings
            assert statements(now) == statements(tried), one.what
            gone = [
                each
                for each in now
                if each.counts and each.code == finding.code and each.parapet == finding.parapet
            ]
            assert finding.message not in [each.message for each in gone], one.what
            yield one.what


def test_every_remedy_of_the_example_with_faults() -> None:
    assert len(list(written(FAULTY))) >= 6


REASON_OF_A_TYPE = (
    "barrier-tight-cold-side"  # the reason of the type's value goes along where it is changed at one
)


def cases() -> list[Mutation]:
    drawn = sampled("remedies of broken examples, written", mutations())
    return drawn + [one for one in mutations() if one.id == REASON_OF_A_TYPE and one not in drawn]


@pytest.mark.parametrize("mutation", cases(), ids=lambda one: one.id)
def test_remedies_of_the_examples_broken_by_hand(mutation: Mutation, tmp_path: Path) -> None:
    demo = Demo(mutation.demo)
    folder = tmp_path / mutation.demo
    shutil.copytree(demo.folder, folder, ignore=shutil.ignore_patterns("submittals", "expected.yaml"))
    broken = changed(demo.document, mutation.path, mutation.value, mutation.before)
    (folder / "project.yaml").write_text(plain_yaml.dump(broken), "utf-8")
    assert all(list(written(folder, mutation.raises)))


def test_at_the_type_all_its_parapets_follow(tmp_path: Path) -> None:
    folder = tmp_path / "school"
    shutil.copytree(REPO / "projects/cold-continental-school", folder)
    file = folder / "project.yaml"
    sound = "kind: fluid-applied, family: acrylic fluid, vapor_permeance: 6 perm, because: {}"
    text = file.read_text("utf-8").replace(sound, "kind: mechanically fastened")
    file.write_text(text, "utf-8")
    project = load_project(folder, PRACTICE)
    bench = Bench(assess(project, PRACTICE))
    finding = next(one for one in bench.assessment.findings if one.code == "WB01" and one.parapet == "P-1")
    option = next(one for one in options(bench, finding) if one.result == "closes")
    draft = draft_of(bench, finding, option)
    for scope, follows in (("own", False), ("type", True)):
        now = read(apply_edits(text, project, PRACTICE, draft, scope).text, file)
        first, second = (parapet.by_id("barrier") for parapet in now.parapets[:2])
        assert first and second and first.kind != "mechanically fastened"
        assert (second.kind == first.kind) is follows
