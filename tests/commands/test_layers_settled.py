"""``specgen layers`` and ``specgen check`` read one wall: as stated, with what the sections settle."""

from __future__ import annotations

import json

import pytest

from specgen.work.inputs import read_inputs
from tests.chain.runs import REPO, run

SHORT = sorted(path.parent for path in (REPO / "projects").glob("*/project.yaml"))


@pytest.mark.parametrize("project", SHORT, ids=lambda one: one.name)
def test_layers_prints_the_paths_that_the_rules_judge(project):
    printed = json.loads(run("layers", project, "--format", "json").out)["paths"]
    judged = read_inputs(project, None, False).assessed().paths
    assert [(one["chain"], one["unbroken"]) for one in printed] == [
        (one.chain, one.unbroken) for one in judged
    ]


def test_a_barrier_of_which_no_permeance_is_stated_is_no_vapor_layer_that_one_can_count_on(tmp_path):
    text = (REPO / "tests" / "stated" / "fluid-applied-roof" / "project.yaml").read_text("utf-8")
    (tmp_path / "project.yaml").write_text(text.replace("        vapor_permeance: 12 perm\n", ""), "utf-8")
    done = run("check", tmp_path, "--code", "PA03")
    assert "PMMA fluid and polyethylene" in done.out or "vapor control layer is not stated" in done.out
