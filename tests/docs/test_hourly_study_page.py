"""The page of the hours is what its script writes of the data beside it; its words hold in them; stale ones are told.

Nothing is simulated here: ``python docs/make_hourly_study.py --run`` does that, and goes on where it was stopped.
"""

from __future__ import annotations

import importlib
import itertools
import re
import sys
from collections.abc import Mapping
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from specgen.model.hourly import BELOW, MID_HEIGHT, TOP
from specgen.render.svg import svg_bytes
from tests.conftest import LONG

DOCS = Path(__file__).parents[2] / "docs"
PRINTED = (DOCS / "hourly-moisture.md").read_text(encoding="utf-8")
STATE = re.compile(r"^(All results are of the program.*|\*\*Stale\*\*.*)$", re.MULTILINE)


def module(name: str) -> ModuleType:
    if str(DOCS) not in sys.path:
        sys.path.insert(0, str(DOCS))
    return importlib.import_module(name)


@pytest.fixture(scope="module")
def kept() -> Mapping[str, Any]:
    return dict(module("hourly_runs").load())


def forgiven(kept: Mapping[str, Any], name: str) -> float:
    """What a case forgives, -1 where it fails without a leak."""
    found = kept["cases"][name]["forgiven"]
    return -1.0 if found is None else float(found)


def test_the_page_is_what_the_data_say(kept: Mapping[str, Any]) -> None:
    assert len(STATE.findall(PRINTED)) == 1
    assert STATE.sub("", module("hourly_page").text(kept, ())) == STATE.sub("", PRINTED)


def test_every_case_is_kept_under_a_key_and_no_other(kept: Mapping[str, Any]) -> None:
    known = [case.id for case in module("hourly_runs").cases()]
    assert set(kept["cases"]) <= set(known)
    assert {f"walls / {wall.name}" for wall in module("hourly_walls").WALLS} <= set(kept["cases"])
    lacking = [one for one in known if one not in kept["cases"]]
    assert (f"{len(lacking)} of {len(known)} cases are not run**" in PRINTED) == bool(lacking)
    assert all(re.fullmatch("[0-9a-f]{64}", found["key"]) for found in kept["cases"].values())


def test_plots_are_those_of_the_data_and_small(kept: Mapping[str, Any]) -> None:
    page, walls = module("hourly_page"), module("hourly_walls")
    for wall in walls.WALLS:
        for name, drawing in page.plots(wall, module("hourly_runs").result_of(kept, wall.name)):
            content = (page.PLOTS / f"{name}.svg").read_bytes()
            assert content == svg_bytes(drawing) and len(content) <= page.MOST_BYTES, name
    linked = set(re.findall(r"\(hourly/([\w-]+)\.svg\)", PRINTED))
    assert linked == {path.stem for path in page.PLOTS.glob("*.svg")}


def test_every_balance_of_the_walls_closes(kept: Mapping[str, Any]) -> None:
    runs = module("hourly_runs")
    for wall in module("hourly_walls").WALLS:
        for cut in runs.result_of(kept, wall.name).cuts:
            assert all(max(run.mass_error, run.heat_error) < 1e-6 for run in cut.runs)


def test_what_the_page_claims_is_in_the_data(kept: Mapping[str, Any]) -> None:
    """The sentences of `FINDINGS` and `OVERTURNED`, one after the other."""
    runs, walls = module("hourly_runs"), module("hourly_walls")
    found = {wall.name: runs.result_of(kept, wall.name) for wall in walls.WALLS}
    for name in ("mixed-humid midrise", "existing repair"):
        cut = found[name].cut(MID_HEIGHT)
        assert not cut.holds and cut.uncertainty["air mold"] > 2.5
    below = found["mixed-humid midrise"].cut(BELOW)
    assert below.holds and below.forgiven_all
    tops = [found[wall.name].cut(TOP).forgiven for wall in walls.EXAMPLES]
    assert len(tops) == 7 and max(tops) <= 0.01 and tops.count(0.0) >= 2
    assert found["no drainage gap"].cut(MID_HEIGHT).forgiven_all
    for name in ("existing repair", "mixed-humid midrise"):
        at = [forgiven(kept, f"exchange / {name} / {changes:g}") for changes in runs.EXCHANGES]
        assert at[0] == at[1] == -1.0 and at[-1] > 0.0
    for name, barrier in itertools.product(
        ("vapor open", "class III", "class II"), ("mixed-humid", "hot-humid")
    ):
        closed = f"classes / {barrier} / dimpled sheet, open at the bottom alone / {name}"
        opened = f"classes / {barrier} / dimpled sheet, open at top and bottom / {name}"
        assert forgiven(kept, closed) == -1.0 and forgiven(kept, opened) > 0.0
    slow = [one.cut(MID_HEIGHT).half_days is None for one in found.values()]
    assert sum(slow) > len(slow) / 2


def test_a_change_of_a_wall_is_in_its_file() -> None:
    walls = module("hourly_walls")
    with pytest.raises(ValueError, match="nothing matches"):
        walls.project("mixed-humid-midrise", walls.MIXED, (("no such words", ""),))


def test_what_is_kept_is_not_run_again_and_another_key_is_stale(kept: Mapping[str, Any]) -> None:
    runs = module("hourly_runs")
    case = next(one for one in runs.cases() if one.id == "exchange / mixed-humid midrise / 10")
    now = runs.key(case)
    assert runs._unless_kept(case, now) is None

    def alone(one: object) -> bool:
        return one == case

    other = {"cases": {case.id: {**kept["cases"][case.id], "key": "0" * 64}}}
    assert runs.stale(other, alone) == (case.id,)
    assert runs.stale({"cases": {case.id: {"key": now}}}, alone) == ()
    assert case.id in module("hourly_page").state((case.id,))


@pytest.mark.long
@pytest.mark.skipif(not LONG, reason="asks every key of the pages again, run by SPECGEN_LONG=1")
def test_the_page_says_what_is_stale(kept: Mapping[str, Any]) -> None:
    runs, page = module("hourly_runs"), module("hourly_page")
    assert STATE.findall(PRINTED) == [page.state(runs.stale(kept, runs.of_a_page))]
