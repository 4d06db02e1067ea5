"""Who does what, where a project states it: in Section 01 40 00, in the agenda, and in the responsibility matrix."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.assessment import assess
from specgen.field.papers import field_papers
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.model.document import Document, Table, numbered
from specgen.practice.load import load_practice
from specgen.specification import Specification, specify

PRACTICE = load_practice()
REPO = Path(__file__).parents[2]
STATED = REPO / "projects" / "hot-humid-lowrise" / "project.yaml"
TRADES = "trades: {top flashing: roofer, bridging tape: roofer}\n"


def written(text: str, folder: Path) -> Specification:
    folder.mkdir(exist_ok=True)
    (folder / "project.yaml").write_text(text)
    return specify(assess(load_project(folder, PRACTICE), PRACTICE))


@pytest.fixture(scope="module")
def spec(tmp_path_factory: pytest.TempPathFactory) -> Specification:
    return written(TRADES + STATED.read_text(), tmp_path_factory.mktemp("trades"))


def lines(spec: Specification, article: str) -> list[str]:
    (section,) = [one for one in spec.sections if one.number == "01 40 00"]
    found = [one.para.text for one in numbered(section.document.blocks)]
    at = next((n for n, one in enumerate(found) if one.startswith(article)), None)
    return found[at:] if at is not None else []


def cells(paper: Document) -> list[str]:
    return [cell for block in paper.blocks if isinstance(block, Table) for row in block.rows for cell in row]


def test_a_stated_trade_installs_the_part_makes_its_laps_and_is_printed(spec: Specification) -> None:
    (wall, *_) = spec.assessment.walls
    assert {one.trade for one in wall.order.steps if one.component == "top flashing"} == {"roofer"}
    found = lines(spec, "Parts of the parapet and the trade that installs them:")
    assert any(one.startswith("Roofer: ") and "top flashing (07 65 00)" in one for one in found), found[:9]
    laps = lines(spec, "Laps of the parapet, each made by one trade:")
    assert any(one.startswith("Roofer: top flashing over ") for one in laps), laps[:9]
    order = lines(spec, "Order of work, from the first part to the last:")
    assert any("top flashing" in one and one.startswith("Roofer") for one in order)
    (matrix,) = [paper for name, paper in field_papers(spec).items() if "responsib" in name]
    assert "roofer" in cells(matrix)


def test_each_handover_names_its_two_trades_and_what_is_inspected(spec: Specification) -> None:
    (wall, *_) = spec.assessment.walls
    found = lines(spec, "Handovers, each accepted in writing")
    (agenda,) = [
        paper for name, paper in field_papers(spec).items() if "agenda" in name or "conference" in name
    ]
    handed = [cell for cell in cells(agenda) if ", before " in cell]
    assert len(handed) >= wall.order.handovers > 3
    assert any("inspected there: " in one for one in handed) and any(
        "inspected there: " in one for one in found
    )


def test_nothing_is_divided_where_nothing_is_stated(tmp_path: Path) -> None:
    plain = written(STATED.read_text(), tmp_path)
    assert not lines(plain, "Parts of the parapet") and not lines(plain, "Handovers")


def test_a_stated_order_decides_among_what_is_ready_and_turns_no_lap(tmp_path: Path) -> None:
    text = STATED.read_text()
    at = text.index("parapets:\n") + len("parapets:\n")
    head, rest = text[:at], text[at:]
    line = "    work_order: roof turn-up, barrier\n"
    first = rest.index("\n") + 1
    project = written(head + rest[:first] + line + rest[first:], tmp_path)
    steps = [one.component for one in project.assessment.walls[0].order.steps]
    assert steps.index("roof turn-up") < steps.index("barrier")
    assert not [one for one in project.assessment.findings if one.code == "SQ02" and one.failed]


def test_an_order_that_names_no_component_is_told_with_its_line(tmp_path: Path) -> None:
    text = STATED.read_text()
    at = text.index("\n", text.index("parapets:\n") + len("parapets:\n")) + 1
    with pytest.raises(InputError, match="`work_order`: no component `barier`") as caught:
        written(text[:at] + "    work_order: barier, barrier, barrier\n" + text[at:], tmp_path)
    assert any("names `barrier` twice" in one.message for one in caught.value.problems)
