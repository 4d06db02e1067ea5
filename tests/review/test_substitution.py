"""A substitution request: point by point, and every reading of the project that it changes."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest

from specgen.drawing.sheets import sheets
from specgen.explain.bench import Bench
from specgen.model.document import Document, Table
from specgen.model.plain import plain
from specgen.model.submission import Recommendation
from specgen.review.compare import TextChange, compare, trades_touched
from specgen.review.substitution import Proposal, Substitution, combined, substitution
from specgen.review.substitution_form import substitution_form
from specgen.specification import Specification, specify
from specgen.work.inputs import Inputs, read_inputs
from specgen.work.requests import load_requests, proposed
from tests import plain_yaml
from tests.chain.runs import CONFORMING, contents, run

REQUESTS = CONFORMING / "substitutions"


@pytest.fixture(scope="module")
def inputs() -> Inputs:
    return read_inputs(CONFORMING, None, False)


@pytest.fixture(scope="module")
def before(inputs: Inputs) -> Specification:
    return specify(inputs.assessed())


@pytest.fixture(scope="module")
def bench(before: Specification) -> Bench:
    return Bench(before.assessment)


def held(path: Path, inputs: Inputs, before: Specification, bench: Bench) -> Substitution:
    (request,) = load_requests([path], inputs)
    proposal = Proposal(request, partial(proposed, practice=inputs.practice, request=request))
    return substitution(proposal, bench, before, before.again(proposal.made(inputs.project)), sheets(before))


def request(folder: Path, *lines: str, number: str = "S-9", head: str = "") -> Path:
    path = folder / f"{number}.yaml"
    body = "\n".join(lines)
    path.write_text(f"request:\n  number: {number}\n{head}{body}\n", encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def wrap(inputs: Inputs, before: Specification, bench: Bench) -> Substitution:
    return held(REQUESTS / "wrap.yaml", inputs, before, bench)


def test_a_fastened_wrap_for_a_fluid_barrier_is_told_with_all_it_breaks(wrap: Substitution) -> None:
    assert wrap.recommendation is Recommendation.RESUBMIT
    assert "WB01" in {point.finding.code for point in wrap.points}
    assert any("pull adhesion" in one for one in wrap.to_show)
    assert any("time" in one for one in wrap.unstated) and not any("cost" in one for one in wrap.unstated)
    changed = {change.place: change for change in wrap.difference.paragraphs}
    assert any("Barrier: mechanically fastened" in change.after for change in changed.values())
    assert any(change.before and not change.after for change in changed.values())
    assert wrap.difference.submittals and wrap.difference.drawings
    assert any("Revision and reissue" in cost for cost in wrap.costs)
    assert {change.place.partition(",")[0] for change in wrap.proposed} == {"barrier"}


def test_values_that_nobody_measured_on_the_new_product_are_gone(wrap: Substitution) -> None:
    gone = {change.place: (change.before, change.after) for change in wrap.proposed}
    assert gone["barrier, pull adhesion to the substrate, at parapets P-1, P-2, and P-3"] == ("40 psi", "")


def test_a_change_of_the_assembly_moves_the_calculations(
    inputs: Inputs, before: Specification, bench: Bench
) -> None:
    one = held(REQUESTS / "mesh.yaml", inputs, before, bench)
    assert any(change.subject in ("vapor drive", "gap drainage") for change in one.difference.results)
    assert one.products == () and not one.difference.empty


def test_what_changes_nothing_is_told_as_nothing(
    tmp_path: Path, inputs: Inputs, before: Specification, bench: Bench
) -> None:
    same = request(tmp_path, "changes:", "  - {set: drainage layer.kind, to: dimpled sheet}")
    one = held(same, inputs, before, bench)
    assert one.difference.empty and not one.points and not one.proposed
    assert one.recommendation is Recommendation.NO_EXCEPTIONS


def test_requests_that_break_the_wall_only_together(
    tmp_path: Path, inputs: Inputs, before: Specification, bench: Bench, wrap: Substitution
) -> None:
    """A barrier that may stand in the sun for 120 days, and a schedule that leaves it there for 150."""
    paths = [
        request(tmp_path, "changes:", "  - {set: barrier.exposure_limit, to: 120 days}", number="S-1"),
        request(tmp_path, "changes:", "  - {set: barrier.planned_exposure, to: 150 days}", number="S-2"),
        request(tmp_path, "changes:", "  - {set: coping.color, to: light}", number="S-3"),
    ]
    read = load_requests(paths, inputs)
    proposals = [Proposal(one, partial(proposed, practice=inputs.practice, request=one)) for one in read]
    sets = combined(proposals, bench)
    assert {one.changes for one in sets} == {("S-1", "S-2")}
    assert {one.finding.attribute for one in sets} <= {"planned_exposure", "exposure_limit"}
    assert {one.parapet for one in sets} == {"P-1", "P-2", "P-3"}
    form = substitution_form(replace(wrap, together=sets), before.assessment)
    assert "S-1 and S-2" in everything(form) and "S-1 and S-2" not in everything(
        substitution_form(wrap, before.assessment)
    )


def test_another_sheet_at_the_lap_costs_letters_of_both_manufacturers(
    tmp_path: Path, inputs: Inputs, before: Specification, bench: Bench
) -> None:
    one = held(request(tmp_path, "changes:", "  - {set: roof turn-up.kind, to: PVC}"), inputs, before, bench)
    assert one.costs[-1].startswith("Compatibility letters of the manufacturers")


def test_what_a_request_leaves_out_is_listed(
    tmp_path: Path, inputs: Inputs, before: Specification, bench: Bench
) -> None:
    lines = (
        "products:",
        "  - role: barrier",
        "    name: Film B",
        "    kind: fluid-applied",
        "    pull_adhesion: 45 psi",
    )
    one = held(request(tmp_path, *lines), inputs, before, bench)
    assert {"its effect on cost", "its date"} <= set(one.unstated)
    of_pull = [words for words in one.unstated if "adhesion" in words]
    assert [words.partition(": ")[2].partition(" for ")[0] for words in of_pull] == [
        "the evidence",
        "the test method",
    ]
    assert any("permeance" in words and " for " not in words for words in one.unstated)


def test_trades_are_touched_by_another_order_of_work(before: Specification) -> None:
    same = compare(before, before, sheets(before))
    order = TextChange(
        "P-1", "studs (framer) > sheet (roofer)", "sheet (roofer) > studs (framer) > film (plasterer)"
    )
    assert trades_touched(replace(same, order=(order,)), before, before) == ("plasterer",)
    assert trades_touched(same, before, before) == ()


def test_the_form_and_the_data_say_the_same(wrap: Substitution, before: Specification) -> None:
    form = substitution_form(wrap, before.assessment)
    data = plain(wrap)
    assert data == json.loads(json.dumps(data))
    words = everything(form)
    for key in ("paragraphs", "submittals", "paths"):
        for change in data["difference"][key]:
            assert change["place"] in words
    for point in data["points"]:
        assert point["title"] in words and point["code"] not in words
    for key in ("to_show", "unstated", "costs"):
        assert all(item[1:].rstrip(".") in words for item in data[key])
    assert "It is not a decision." in words and "fall protection" in words
    assert form.properties.state == "Recommendation"


def everything(document: Document) -> str:
    parts = [para.text for para in document.paragraphs()]
    for block in document.blocks:
        if isinstance(block, Table):
            parts += [block.caption, *(cell for row in block.rows for cell in row)]
    return "\n".join(parts)


def test_comparing_a_project_with_itself_finds_nothing(before: Specification) -> None:
    assert compare(before, before, sheets(before)).empty


def test_the_command_writes_a_form_and_its_data_and_touches_no_project_file(tmp_path: Path) -> None:
    project = (CONFORMING / "project.yaml").read_bytes()
    done = run("substitute", CONFORMING, *sorted(REQUESTS.glob("*.yaml")), "-o", tmp_path / "out")
    assert done.status == 1
    assert set(contents(tmp_path / "out")) == {
        "manifest.json", "substitution-s-1.docx", "substitution-s-1.json",
        "substitution-s-2.docx", "substitution-s-2.json",
    }  # fmt: skip
    assert "A person decides and signs." in done.out
    assert (CONFORMING / "project.yaml").read_bytes() == project


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ((), "the request proposes nothing"),
        (("changes:", "  - {set: P-1.dranage layer.kind, to: mesh}"), "no component `dranage layer`"),
        (("changes:", "  - {set: P-1.drainage layer.kind, to: meshh}"), "meshh"),
        (("changes:", "  - {set: practice.coping.slope, to: 1 in/ft}"), "not for a request to change"),
        (("changes:", "  - {set: P-1.drainage layer.kind}"), "does not say `to`"),
        (("changes:", "  - {put: a, to: b}"), "put"),
        (("changes: mesh",), "stands where changes are wanted"),
        (("changes:", "  - {set: [a], to: b}"), "is no value"),
        (
            ("products:", "  - {role: scupper, name: Sleeve S, kind: flanged sleeve}"),
            "no parapet it is meant for",
        ),
        (("producs: []",), "products"),
    ],
)
def test_a_wrong_request_is_told_with_its_line_and_nothing_is_written(
    tmp_path: Path, lines: tuple[str, ...], expected: str
) -> None:
    path = request(tmp_path, *lines)
    done = run("substitute", CONFORMING, path, "-o", tmp_path / "out")
    assert done.status == 2
    assert expected in done.err and f"{path}:" in done.err
    assert not (tmp_path / "out").exists()


def test_two_requests_of_one_number_are_refused(tmp_path: Path) -> None:
    line = "  - {set: drainage layer.kind, to: mesh}"
    one = request(tmp_path, "changes:", line, number="S-1")
    (tmp_path / "b").mkdir()
    other = request(tmp_path / "b", "changes:", line, number="S-1")
    done = run("substitute", CONFORMING, one, other, "-o", tmp_path / "out")
    assert done.status == 2 and "given twice" in done.err


def test_the_schema_of_a_request_agrees_with_the_reader() -> None:
    import jsonschema

    from specgen.intake.json_schema_papers import request_schema
    from specgen.practice.load import load_practice

    validator = jsonschema.Draft202012Validator(request_schema(load_practice()))
    for path in sorted(REQUESTS.glob("*.yaml")):
        content = json.loads(json.dumps(plain_yaml.load(path.read_text("utf-8")), default=str))
        assert list(validator.iter_errors(content)) == []
    assert list(validator.iter_errors({"request": {"number": "S-1"}}))
    assert list(validator.iter_errors({"request": {"number": "S-1"}, "changes": [{"set": "a"}]}))


@pytest.mark.parametrize("name", ["top-failing.yaml"])
def test_a_submittal_given_as_a_request_is_one_message(name: str, tmp_path: Path) -> None:
    done = run("substitute", CONFORMING, CONFORMING / "submittals" / name, "-o", tmp_path / "out")
    assert done.status == 2 and "this is a submittal file; a request file is wanted here" in done.err
    assert "1 problem" in done.err
    back = run("review", CONFORMING, REQUESTS / "mesh.yaml", "-o", tmp_path / "out")
    assert back.status == 2 and "this is a request file; a submittal file is wanted here" in back.err
