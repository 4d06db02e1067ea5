"""Explained findings: each option tried, what it closes and breaks, on worked and altered projects."""

from __future__ import annotations

import hashlib
import json
import time
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from specgen.assessment import assess
from specgen.commands import main
from specgen.explain.bench import Bench
from specgen.explain.chain import Explanation
from specgen.explain.edits import Draft, Editor
from specgen.explain.options import TriedOption
from specgen.explain.show import explanation_text
from specgen.intake.project import load_project
from specgen.model.finding import Outcome, Severity
from specgen.model.plain import plain
from specgen.practice.load import load_practice
from specgen.rules.book import load_book
from specgen.rules.remedy import (
    AddPart,
    Asked,
    FitKind,
    Known,
    MovePart,
    SetKind,
    SetLap,
    SetValue,
    Stated,
    TapeLap,
    strange,
)
from specgen.specification import specify
from specgen.work.explained import explained

FAULTY = Path("tests/stated/faulty-parapet")
GOOD = Path("tests/stated/mixed-humid-midrise")
PRACTICE = load_practice()
CLEAT = """      - role: cleat
        kind: continuous
        metal: galvanized steel
        thickness: 22 ga
        fastener_spacing: 12 in
"""


def explain(project: Path) -> tuple[Explanation, ...]:
    assessment = assess(load_project(project, PRACTICE), PRACTICE)
    return explained(specify(assessment), assessment.findings)


def altered(tmp_path: Path, source: Path, *changes: tuple[str, str]) -> Path:
    text = (source / "project.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / "project.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def by_code(explanations: Iterable[Explanation], code: str) -> Explanation:
    return next(one for one in explanations if one.finding.code == code)


def option(one: Explanation, words: str) -> TriedOption:
    return next(each for each in one.options if words in " ".join(edit.sentence for edit in each.edits))


@pytest.fixture(scope="module")
def faulty() -> tuple[Explanation, ...]:
    return explain(FAULTY)


def test_each_planted_defect_of_the_faulty_parapet_has_an_option_that_closes_it(
    faulty: tuple[Explanation, ...],
) -> None:
    planted = {"CP03", "DL01", "PL02", "TF02", "VD01", "WB01"}
    defects = [
        one
        for one in faulty
        if one.finding.outcome is Outcome.FAIL
        and one.finding.severity is Severity.DEFECT
        and one.finding.code in planted
    ]
    assert {one.finding.code for one in defects} == planted
    assert len(defects) == 7
    for one in defects:
        assert one.options[0].result == "closes", one.finding.message


def test_second_method_each_closing_option_closes_when_the_whole_project_is_assessed(
    faulty: tuple[Explanation, ...],
) -> None:
    project = load_project(FAULTY, PRACTICE)
    before = assess(project, PRACTICE)
    editor = Editor(PRACTICE, before.requirements)
    book = {entry.rule.code: entry for entry in load_book(PRACTICE)}
    tried = 0
    for one in faulty:
        for remedy in book[one.finding.code].remedies:
            for draft in editor.drafts(Draft(project, "P-1"), remedy):
                after = assess(draft.project, PRACTICE).findings
                stands = any(
                    other.counts and other.code == one.finding.code and other.message == one.finding.message
                    for other in after
                )
                option = next((each for each in one.options if each.edits == draft.edits), None)
                if option is not None:
                    tried += 1
                    assert (option.result == "leaves") >= stands
    assert tried > 10


def test_a_fastened_barrier_is_closed_by_each_bonded_kind_and_asks_for_the_new_products_tests(
    faulty: tuple[Explanation, ...],
) -> None:
    one = by_code(faulty, "WB01")
    assert one.value is not None
    assert (one.value.path, one.value.value) == ("P-1.wrb.kind", "mechanically fastened")
    assert one.value.quoted == "        kind: mechanically fastened"
    assert one.value.place.endswith(f":{one.value.line}:15")
    fluid = option(one, "to fluid-applied")
    assert [each.result for each in one.options] == ["closes", "closes"]
    assert "PL02" in {other.code for other in fluid.effect.closes}
    assert "VD03" in {other.code for other in fluid.effect.breaks if other.outcome is Outcome.UNKNOWN}
    assert one.stated["barrier.kind"].startswith("07 27 00 2.")
    assert any(change.name == "barrier.kind" for change in fluid.effect.requirements)
    assert "PL02" in {other.code for other in one.dependents.findings}
    assert any(each.id == "barrier.kind" for each in one.dependents.requirements)


def test_a_drip_is_tried_at_the_limit_and_both_drips_together(faulty: tuple[Explanation, ...]) -> None:
    one = by_code(faulty, "CP03")
    assert one.limit is not None
    assert (one.limit.id, one.limit.limit) == ("coping.outer_drip", "at least 1 in")
    assert one.limit.origin == "practice coping.drip"
    assert "[P: common practice]" in one.limit.source
    assert one.limit.paragraph.startswith("07 71 00 2.")
    single, both = one.options
    assert [edit.path for edit in single.edits] == ["P-1.coping.outer_drip"]
    assert len(single.effect.closes) == 1 and len(both.effect.closes) == 2
    assert not single.effect.breaks


def test_a_flashing_of_another_family_is_no_cure_and_the_question_it_raises_is_told(
    faulty: tuple[Explanation, ...],
) -> None:
    butyl = option(by_code(faulty, "TF02"), "to self-adhered butyl")
    assert butyl.result == "eases"
    raised = {pair.after.code: pair.after for pair in butyl.effect.alters}
    assert raised["TF02"].severity is Severity.QUERY
    assert "butyl and polyolefin wrap" in raised["TF03"].message
    assert "TF08" not in {other.code for other in butyl.effect.breaks}  # 07 65 00 asks for the primer


def test_a_tape_the_table_does_not_allow_outright_needs_its_makers_letter(
    faulty: tuple[Explanation, ...],
) -> None:
    tapes = [one for one in by_code(faulty, "TF02").options if "bridging tape" in one.edits[0].sentence]
    assert {one.result for one in tapes} == {"closes"}
    assert all("written approval" in one.needs[0] for one in tapes)
    # Uncured EPDM is forbidden beside SBS bitumen: never offered.
    assert not any("EPDM" in one.edits[0].sentence for one in tapes)


def test_a_mesh_does_not_close_the_inward_drive_and_is_not_told_to(faulty: tuple[Explanation, ...]) -> None:
    mesh = option(by_code(faulty, "DL01"), "kind mesh")
    assert mesh.result == "closes"
    assert "VD01" not in {other.code for other in mesh.effect.closes}
    assert [pair.after.code for pair in mesh.effect.alters] == ["VD01"]


def test_options_that_close_nothing_are_counted_only(faulty: tuple[Explanation, ...]) -> None:
    one = by_code(faulty, "PL02")
    idle = option(one, "relies_on_sealed_face")
    assert (idle.result, idle.effect.closes) == ("leaves", ())
    printed = explanation_text([one])
    assert "tried and close" in printed and "relies_on_sealed_face" not in printed.partition("Options")[2]


def test_a_dimpled_sheet_before_a_tight_barrier_newly_breaks_the_drying_rule(tmp_path: Path) -> None:
    tight = ("        air_permeance: 0.003", "        vapor_permeance: 1 perm\n        air_permeance: 0.003")
    one = by_code(explain(altered(tmp_path, FAULTY, tight)), "DL01")
    sheet = option(one, "kind dimpled sheet")
    broken = [other for other in sheet.effect.breaks if other.outcome is Outcome.FAIL]
    assert sheet.result == "closes"
    assert [(other.code, other.severity) for other in broken] == [("VD02", Severity.RISK)]
    assert "Newly breaks: risk VD02" in explanation_text([one])


def test_a_choice_of_words_is_tried_word_by_word(tmp_path: Path) -> None:
    loose = ("        attachment: fully adhered", "        attachment: loose")
    one = by_code(explain(altered(tmp_path, FAULTY, loose)), "RT01")
    assert [edit.after for each in one.options for edit in each.edits] == ["fully adhered", "fluid-applied"]
    assert {each.result for each in one.options} == {"closes"}


def test_a_short_lap_is_set_at_its_transition(tmp_path: Path) -> None:
    short = (
        "      - between: [top flashing, wrb]\n        lap: 4 in",
        "      - between: [top flashing, wrb]\n        lap: 1 in",
    )
    one = by_code(explain(altered(tmp_path, FAULTY, short)), "LP01")
    assert one.value is not None and one.value.quoted.strip() == "lap: 1 in"
    assert one.options[0].result == "closes"
    assert one.options[0].edits[0].sentence == (
        "Change `lap` of the lap between `top flashing` and `wrb` from 1 in to 4 in."
    )


@pytest.mark.parametrize(
    ("code", "old", "new"),
    [
        ("LP02", "between: [top flashing, wrb]\n        lap: 4 in\n        upper: top flashing",
         "between: [top flashing, wrb]\n        lap: 4 in\n        upper: wrb"),
        ("LP01", "      - between: [top flashing, wrb]\n        lap: 4 in\n        upper: top flashing\n"
         "        sealed: yes\n", "      - between: [top flashing, wrb]\n        lap: 0 in\n"
         "        upper: top flashing\n        sealed: yes\n"),
        ("OU01", "lap: 3 in\n        upper: wrb\n", "lap: 3 in\n        upper: weep screed\n"),
        ("CP05", "        thickness: 24 ga\n        color", "        thickness: 0.012 in\n        color"),
        ("CP06", CLEAT, "      - role: cleat\n        kind: none\n"),
        ("RT02", "        kind: TPO\n        attachment", "        kind: EPDM\n        attachment"),
        ("WB03", "        planned_exposure: 60 days", "        planned_exposure: 160 days"),
    ],
)  # fmt: skip
def test_the_remedies_of_the_rules_close_what_they_are_for(
    tmp_path: Path, code: str, old: str, new: str
) -> None:
    found = explain(altered(tmp_path, FAULTY, (old, new)))
    one = next(each for each in found if each.finding.code == code and each.finding.outcome is Outcome.FAIL)
    assert one.options and one.options[0].result == "closes"


def test_a_missing_fact_is_named_and_nothing_is_tried(tmp_path: Path) -> None:
    bare = ("air_permeance: 0.003 cfm/ft2 @ 75 Pa\n", "air_permeance: unknown\n")
    one = by_code(explain(altered(tmp_path, FAULTY, bare)), "WB02")
    assert one.finding.outcome is Outcome.UNKNOWN
    assert one.options == ()
    assert one.limit is not None and one.limit.limit == "at most 0.004 cfm/ft² at 75 Pa"
    assert "Missing: layer `wrb`: find out `air_permeance`." in explanation_text([one])
    assert "Options" not in explanation_text([one])


def test_calculations_that_read_the_value_are_named(tmp_path: Path) -> None:
    one = by_code(
        explain(altered(tmp_path, GOOD, ("vapor_permeance: 14 perm", "vapor_permeance: 1 perm"))), "VD02"
    )
    assert {"vapor drive", "inward drive"} <= set(one.dependents.calculations)
    limit = option(one, "from 1 perm to 10 perm")
    assert (limit.result, limit.effect.breaks) == ("closes", ())
    mesh = option(one, "to mesh")
    assert mesh.result == "closes"
    assert "VD01" in {other.code for other in mesh.effect.breaks}


def test_three_parapets_share_one_text_and_stay_quick(tmp_path: Path) -> None:
    path = altered(
        tmp_path, GOOD,
        ("        kind: fluid-applied", "        kind: mechanically fastened"),
        ("        outer_drip: 1 in", "        outer_drip: 0 in"),
        ("        attachment: fully adhered", "        attachment: loose"),
        ("        open: yes", "        open: no"),
        ("        rolled: yes", "        rolled: no"),
    )  # fmt: skip
    assessment = assess(load_project(path, PRACTICE), PRACTICE)
    failed = [one for one in assessment.findings if one.outcome is Outcome.FAIL]
    assert len({one.code for one in failed}) >= 5
    begin = time.process_time()
    found = explained(specify(assessment), failed)
    assert time.process_time() - begin < 6  # about a third of it on an idle machine
    text = explanation_text(found)
    assert text.count("defect WB01 ") < 3
    assert "The same at" in text


def test_the_effect_at_a_parapet_alone_is_that_of_the_whole_project() -> None:
    assessment = assess(load_project(GOOD, PRACTICE), PRACTICE)
    bench = Bench(assessment)
    for parapet in assessment.project.parapets:
        whole = {
            (one.code, one.message)
            for one in assessment.findings
            if one.counts and one.parapet == parapet.name
        }
        assert {(one.code, one.message) for one in bench.standing(parapet.name)} == whole


def _hash(folder: Path) -> dict[str, str]:
    return {
        str(path): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file()
    }


def test_the_command_writes_nothing_and_says_the_same_twice() -> None:
    before = _hash(FAULTY)
    runs = [CliRunner().invoke(main, ["check", str(FAULTY), "--explain"]) for _ in range(2)]
    assert [run.exit_code for run in runs] == [1, 1]
    assert runs[0].output == runs[1].output
    assert "Options, each tried on a copy of the project:" in runs[0].output
    assert _hash(FAULTY) == before


def test_json_carries_what_the_text_says(faulty: tuple[Explanation, ...]) -> None:
    run = CliRunner().invoke(main, ["check", str(FAULTY), "--explain", "--code", "CP03", "--format", "json"])
    data: dict[str, Any] = json.loads(run.output)
    assert len(data["explanations"]) == 2
    first = data["explanations"][0]
    assert first == json.loads(json.dumps(plain(by_code(faulty, "CP03"))))
    assert first["value"]["quoted"].strip() == "outer_drip: 0 in"
    assert first["options"][0]["result"] == "closes"
    assert first["options"][0]["edits"][0]["after"] == "1 in"


def test_sarif_is_not_explained() -> None:
    run = CliRunner().invoke(main, ["check", str(FAULTY), "--explain", "--format", "sarif"])
    assert run.exit_code == 2
    assert "--explain prints as text or json" in run.output


def test_a_remedy_that_names_nothing_known_is_told() -> None:
    remedies = (
        (SetKind("barier", "x"), SetKind("barrier", "woven")),
        (SetValue("barrier", "vapor", Known("no.key")), SetValue("hall", "x", True)),
        (AddPart("cleat", "loose", (("metall", "zinc"),), ("lintel",)),),
        (SetLap("top flashing", "roof", Known("flashing.lap")), TapeLap("top flashing", "wall")),
        (FitKind("flashing", "barrier"), MovePart("barrier", "plaister")),
        (SetValue("barrier", "layers", Stated("site", "mood")), SetKind("coping", Asked("coping.kind"))),
    )
    problems = list(strange(remedies, PRACTICE))
    assert len(problems) == 14, problems
    assert "no practice entry `no.key`" in problems and "no kind `woven` of barrier" in problems
