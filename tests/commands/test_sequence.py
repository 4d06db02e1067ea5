"""``specgen sequence``: order of work, trades, hold points; a reversed lap changes the order or reports a cycle."""

from __future__ import annotations

import json
from pathlib import Path

from tests.chain.runs import CONFORMING, copied, run

OUTER_LAP = "      - between: [top flashing, barrier]\n        lap: 4 in\n        upper: {}\n"
SCREED_LAP = "        lap: 3 in\n        upper: {}\n"


def steps(job: Path) -> list[str]:
    """The components of P-1 in the order of work."""
    data = json.loads(run("sequence", job, "--parapet", "P-1", "--format", "json").out)
    return [one["component"] for one in data["sequences"][0]["steps"]]


def test_the_order_is_told_once_for_parapets_of_one_type() -> None:
    done = run("sequence", CONFORMING)
    assert done.status == 0
    assert done.out.startswith("order of work at P-1, P-2:\n   1. framing (framer)\n")
    assert done.out.count("order of work at") == 2  # the rated parapet has more to inspect
    assert (
        "     hold: inspect lath: furred, fastened, stopped at control joints\n  12. plaster (plasterer)"
        in done.out
    )


def test_a_reversed_lap_changes_the_order(tmp_path: Path) -> None:
    before = steps(CONFORMING)
    assert before.index("barrier") < before.index("top flashing")
    job = copied(
        CONFORMING, tmp_path / "job", (OUTER_LAP.format("top flashing"), OUTER_LAP.format("barrier"))
    )
    after = steps(job)
    assert after.index("top flashing") < after.index("barrier")
    assert sorted(after) == sorted(before) and run("sequence", job).status == 0
    assert "lay top flashing over barrier: barrier first (air barrier installer)" in run("layers", job).out


def test_laps_that_contradict_each_other_are_a_cycle_named_with_its_trades(tmp_path: Path) -> None:
    more = "      - between: [top flashing, weep screed]\n        upper: weep screed\n"
    old = "      - between: [top flashing, drainage layer]\n"
    job = copied(CONFORMING, tmp_path / "job", (old, more + old))
    done = run("sequence", job, "--parapet", "P-2")
    assert done.status == 1
    named = "barrier (air barrier installer) before top flashing (air barrier installer) before weep screed (plasterer)"
    assert f"  no order of work: {named} before barrier (air barrier installer)\n" in done.out
    data = json.loads(run("sequence", job, "--format", "json").out)["sequences"][0]["cycle"]
    assert set(data["components"]) == {"barrier", "top flashing", "weep screed"}
    assert run("sequence", job, "--format", "md").status == 1


def test_markdown_is_a_table() -> None:
    lines = run("sequence", CONFORMING, "--format", "md", "--parapet", "P-1").out.splitlines()
    assert lines[0] == "## Order of work at P-1"
    rows = [line for line in lines if line.startswith("|")]
    assert len(rows) == 2 + len(steps(CONFORMING)) and {row.count("|") for row in rows} == {6}


def test_a_bar_in_a_name_does_not_break_the_table(tmp_path: Path) -> None:
    id_line = "        id: roof-side sheathing\n"
    job = copied(CONFORMING, tmp_path / "job", (id_line, '        id: "inner|outer"\n'))
    assert "| inner\\|outer |" in run("sequence", job, "--format", "md").out


def test_a_misspelt_parapet() -> None:
    done = run("sequence", CONFORMING, "--parapet", "P1")
    assert (done.status, done.out, done.err) == (2, "", "no parapet `P1`; did you mean `P-1`?\n")
