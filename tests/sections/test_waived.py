"""A waiver in force stands in the section whose requirement it lifts, and nowhere else."""

from __future__ import annotations

import docx

from tests.chain.runs import CONFORMING, copied, run

WAIVER = """
waivers:
  - rule: CP05
    by: architect of record
    date: 2026-10-01
    reason: the sheet is what the building next door has
"""


def test_the_section_of_the_requirement_lists_the_waiver(tmp_path):
    project = copied(
        CONFORMING, tmp_path / "p", ("        thickness: 0.050 in\n", "        thickness: 0.020 in\n")
    )
    path = project / "project.yaml"
    path.write_text(path.read_text() + WAIVER)
    done = run("write", project, "-o", tmp_path / "out", "--strict")
    assert done.status in (0, 1) and not done.err
    listed = {}
    for file in sorted((tmp_path / "out").glob("[0-9]*.docx")):
        tables = docx.Document(str(file)).tables
        if tables:
            listed[file.name[:8]] = tables[0].rows[1].cells[4].text
    assert listed == {"07-71-00": "the sheet is what the building next door has"}
