"""Paragraphs that contradicted each other, the order of work or the drawing."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.specification import specify
from specgen.work.inputs import read_inputs
from tests.chain.runs import REPO

DEMOS = sorted(path.parent for path in (REPO / "tests" / "stated").glob("*/project.yaml"))


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_plastering_does_not_wait_for_the_barrier_that_waits_for_its_weep_screed(folder: Path) -> None:
    spec = specify(read_inputs(folder, None, False).assessed())
    for section in spec.sections:
        words = [block.text for block in section.document.blocks if hasattr(block, "text")]
        if any("Set the weep screed before the barrier" in one for one in words):
            assert not any(one.startswith("Start after the barrier") for one in words)
            assert any("Do not cover the barrier before it has passed the tests" in one for one in words)


@pytest.mark.parametrize("folder", DEMOS, ids=lambda path: path.name)
def test_stainless_fasteners_are_not_galvanized(folder: Path) -> None:
    spec = specify(read_inputs(folder, None, False).assessed())
    words = [
        block.text
        for section in spec.sections
        if section.number == "06 10 00"
        for block in section.document.blocks
        if hasattr(block, "text")
    ]
    chosen = {
        part.word("fasteners") for one in spec.assessment.project.parapets for part in one.all_of("blocking")
    }
    stainless = [
        one
        for one in words
        if one.startswith("Fasteners into preservative-treated blocking") and "stainless" in one
    ]
    assert not any("galvaniz" in one for one in stainless if "hot-dip" not in one)
    if chosen == {"stainless steel"}:
        assert not any("ASTM A153" in one for one in words)


def test_the_weep_screed_clears_the_roof_below_it() -> None:
    spec = specify(read_inputs(REPO / "tests" / "stated" / "mixed-humid-midrise", None, False).assessed())
    (section,) = [one for one in spec.sections if one.number == "09 24 00"]
    words = [block.text for block in section.document.blocks if hasattr(block, "text")]
    assert any("surface of the roof below the weep screed" in one for one in words)
    assert not any(one.startswith("Clearance above the finished roof") for one in words)
