"""What is open is asked in the order of what hangs on it: each is tried at its answers, and counted by hand too."""

from __future__ import annotations

import json
import os
import random
import re
from copy import deepcopy
from pathlib import Path
from typing import Any

import docx
import pytest

from specgen.assessment import Assessment, assess
from specgen.explain import questions as engine
from specgen.intake.project import load_project
from specgen.intake.start import start_text
from specgen.intake.worked import worked_examples
from specgen.model.question import OpenQuestion, OpenQuestions
from specgen.practice.load import load_practice
from specgen.work.questions import questions_of
from tests import plain_yaml
from tests.chain.runs import REPO, run
from tests.explain import questions_page
from tests.rules import cases

LONG = os.environ.get("SPECGEN_LONG") == "1"
PRACTICE = load_practice()
BASE = dict(cases.base())
REPAIR = plain_yaml.load((REPO / "tests" / "stated" / "existing-repair" / "project.yaml").read_text("utf-8"))
SURVEY = ("hazardous_materials", "surveyed", "surveyed_by")
CODE = re.compile(r"\b[A-Z]{2}\d\d\b|`|\b[a-z]+_[a-z_]+\b")


def assessed(content: Any, folder: Path) -> Assessment:
    file = folder / "project.yaml"
    file.write_text(plain_yaml.dump(content), "utf-8")
    return assess(load_project(file, PRACTICE), PRACTICE)


def base(*gone: tuple[str, str], **more: Any) -> Any:
    """The wall of the rules' cases without some facts of its site, building or parapet."""
    content = deepcopy(BASE)
    for part, key in gone:
        (content["parapets"][0] if part == "parapet" else content[part]).pop(key, None)
    return {**content, **more}


def by_key(found: OpenQuestions) -> dict[str, OpenQuestion]:
    return {one.key: one for one in found.questions}


def test_a_repair_without_its_survey_is_asked_for_the_survey(tmp_path: Path) -> None:
    content = deepcopy(REPAIR)
    for key in SURVEY:
        content["parapets"][0]["existing"].pop(key)
    found = questions_of(assessed(content, tmp_path))
    assert [one.key for one in found.questions] == [f"existing.{key}" for key in SURVEY]
    first = found.questions[0]
    assert first.who == "accredited inspector" and "hold the work" in first.meanwhile
    assert first.findings["risk"] == 1 and first.where == ("C-1",)
    assert found.trials < engine.MOST_TRIALS and not found.untried


def test_what_needs_several_answers_at_once_is_counted_for_each(tmp_path: Path) -> None:
    gone = (("site", "wind_speed"), ("site", "exposure"), ("building", "height"))
    found = by_key(questions_of(assessed(base(*gone), tmp_path)))
    for key in ("site.wind_speed", "site.exposure", "building.height"):
        assert found[key].calculations, key  # none of them alone makes one possible
        assert "wind" in found[key].decides


def test_a_count_is_that_of_assessing_each_answer_anew(tmp_path: Path) -> None:
    """The second method: no trial, no memo, the file itself written with each answer."""
    content = base(("parapet", "fire_rated"))
    asked = by_key(questions_of(assessed(content, tmp_path)))["parapet.fire_rated"]
    seen = []
    for answer in (None, True, False):
        one = deepcopy(content)
        if answer is not None:
            one["parapets"][0]["fire_rated"] = answer
        worst: dict[tuple[str, str, str], set[str]] = {}
        for each in assessed(one, tmp_path).findings:
            if each.counts:
                worst.setdefault((each.code, each.layer, each.attribute), set()).add(each.word)
        seen.append(worst)
    keys = {key for each in seen for key in each}
    differ = [key for key in keys if len({frozenset(each.get(key, ())) for each in seen}) > 1]
    assert sum(asked.findings.values()) == len(differ) > 0
    assert asked.tried == 2 and asked.who == "fire consultant"


def test_the_answers_close_what_is_open(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every question of the check is one of the list: with all of them answered, none of the check's own stands."""
    content = deepcopy(REPAIR)
    for key in SURVEY:
        content["parapets"][0]["existing"].pop(key)
    content["site"].pop("rain_exposure", None)
    content["parapets"][0].pop("fire_rated", None)
    one = assessed(content, tmp_path)
    seen: list[Any] = []
    real = engine._filled
    monkeypatch.setattr(engine, "_filled", lambda *words: seen.append(made := real(*words)) or made)
    questions_of(one)
    assert any(each.open for each in one.findings)
    assert [each.message for _, filled in seen for each in filled.findings if each.open] == []


def test_what_decides_more_stands_first_and_an_answer_ends_the_question(tmp_path: Path) -> None:
    gone = (("site", "wind_speed"), ("parapet", "fire_rated"), ("parapet", "interior_retarder"))
    found = questions_of(assessed(base(*gone), tmp_path))
    counts = [one.count for one in found.questions]
    assert counts == sorted(counts, reverse=True) and [one.number for one in found.questions] == [1, 2, 3]
    fewer = questions_of(assessed(base(*gone[1:]), tmp_path))
    assert set(by_key(found)) - set(by_key(fewer)) == {"site.wind_speed"}
    assert questions_of(assessed(BASE, tmp_path)).questions == ()


@pytest.mark.parametrize("kind", ["left out", "unknown", "none"])
def test_a_component_that_nobody_has_described_is_asked_for(kind: str, tmp_path: Path) -> None:
    content = base()
    wall = content["parapets"][0]
    gone = next(part["id"] for part in wall["build_up"] if part["role"] == "drainage layer")
    wall["build_up"] = [part for part in wall["build_up"] if part["role"] != "drainage layer"]
    wall["transitions"] = [lap for lap in wall["transitions"] if gone not in lap["between"]]
    if kind != "left out":
        wall["build_up"].append({"role": "drainage layer", "kind": kind})
    asked = by_key(questions_of(assessed(content, tmp_path)))
    if kind == "none":
        assert "drainage layer.kind" not in asked
        return
    one = asked["drainage layer.kind"]
    assert one.number == 1 and one.findings["defect"] > 0 and one.paragraphs > 0
    assert one.question == "Which kind of drainage layer" and one.answers.endswith(", none")


def test_a_cap_is_kept_and_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "MOST_TRIALS", 6)
    one = assessed(base(("site", "wind_speed"), ("parapet", "interior_retarder")), tmp_path)
    found = questions_of(one)
    assert found.trials <= 6 and found.untried > 0 and len(found.questions) == 2


def test_who_answers_is_told_of_values_that_exist() -> None:
    known = PRACTICE.vocabulary
    for row in PRACTICE.table(engine.WHO).rows:
        what, name = str(row["what"]), row["attribute"]
        assert what in known.records or what in known.roles
        assert name in (None, "kind") or known.field(what, str(name)) is not None, row


def test_the_command_prints_writes_and_needs_no_number(tmp_path: Path) -> None:
    content = base(("parapet", "fire_rated"), ("project", "number"), ("project", "issue_date"))
    assessed(content, tmp_path)
    out = tmp_path / "out"
    done = run("check", tmp_path, "--questions", "-o", out)
    assert done.status == 3 or done.status == 0 or done.status == 1
    assert done.out.startswith("1. Fire-rated exterior wall that needs a parapet at ")
    assert "Number of the project? [project.number]\n    decides: no paper is issued without it" in done.out
    assert re.search(r"\d+ trials in \d+\.\d s", done.err)
    page = (out / "open-questions.html").read_text("utf-8")
    paper = docx.Document(str(out / "open-questions.docx"))
    people, table = paper.tables
    assert people.rows[0].cells[0].text == "Who can answer"
    assert sorted(", ".join(row.cells[1].text for row in people.rows[1:]).split(", ")) == ["1", "2", "3"]
    cells = [cell.text for row in table.rows for cell in row.cells]
    for words in (
        *cells,
        *(one.text for one in paper.paragraphs),
        re.sub(r"(?s)<style>.*?</style>|<[^>]+>", " ", page),
    ):
        assert not CODE.search(words), CODE.search(words)
    assert [row.cells[0].text for row in table.rows[1:]] == ["1", "2", "3"]
    assert all(row.cells[6].text == row.cells[7].text == "" for row in table.rows[1:])
    assert any("Nothing reads this form back" in one.text for one in paper.paragraphs)
    assert all(f'href="#q{number}"' in page and f'id="q{number}"' in page for number in (1, 2, 3))
    data = json.loads(run("check", tmp_path, "--questions", "--format", "json").out)
    assert data["questions"][0]["key"] == "parapet.fire_rated"


@pytest.mark.parametrize(
    "words",
    [
        ("-o", "out"),
        ("--questions", "--explain"),
        ("--questions", "--code", "WB01"),
        ("--questions", "--format", "sarif"),
    ],
)
def test_words_that_do_not_go_together_are_refused(words: tuple[str, ...], tmp_path: Path) -> None:
    assessed(BASE, tmp_path)
    assert run("check", tmp_path, *words).status == 2


@pytest.mark.skipif(not LONG, reason="minutes: SPECGEN_LONG=1")
@pytest.mark.parametrize("name", sorted(worked_examples()))
def test_whatever_is_missing_of_an_example_can_be_asked(name: str, tmp_path: Path) -> None:
    from tests.intake.test_half_filled import paths, without

    content = plain_yaml.load(worked_examples()[name].read_text("utf-8"))
    every, chance = (
        [one for one in paths(content) if one[0] in ("site", "building", "types")],
        random.Random(name),
    )
    for _ in range(6):
        half = without(content, chance.sample(every, len(every) // 4))
        try:
            one = assessed(half, tmp_path)
        except Exception as error:  # told by the reader, which has its own test
            assert type(error).__name__ == "InputError"
            continue
        found = questions_of(one)
        counts = [each.count for each in found.questions]
        assert counts == sorted(counts, reverse=True)


@pytest.mark.parametrize(
    "wall", questions_page.WALLS if LONG else questions_page.WALLS[-1:], ids=lambda wall: wall["key"]
)
def test_the_page_has_the_order_that_is_computed(wall: dict[str, Any]) -> None:
    lines = "\n".join(questions_page.section(wall, questions_page.asked(wall["key"])))
    assert lines in questions_page.PAGE.read_text("utf-8"), "python -m tests.docs.pages"


@pytest.mark.skipif(not LONG, reason="ten seconds: SPECGEN_LONG=1")
def test_a_start_without_answers_is_asked_first_for_its_wall(tmp_path: Path) -> None:
    (tmp_path / "project.yaml").write_text(start_text({"name": "mill"}, PRACTICE), "utf-8")
    found = questions_of(assess(load_project(tmp_path, PRACTICE), PRACTICE))
    keys = [one.key for one in found.questions]
    assert keys[0] == "barrier.kind" and keys.index("site.code") < keys.index("building.risk_category")
    assert {"site.climate_zone", "parapet.height", "framing.kind", "project.number"} <= set(keys)
