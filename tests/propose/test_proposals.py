"""Walls proposed for sets of facts: each as its file is read, the facts kept, and what to give up where none fits."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import lxml.html
import pytest

from specgen.files.writing import Written
from specgen.intake.project import load_project
from specgen.model.finding import Outcome
from specgen.practice.load import load_practice
from specgen.propose.give_up import GiveUp, least_given_up
from specgen.propose.omissions import NOT_CALCULATED
from specgen.propose.quantities import Prices
from specgen.render.proposals import proposals_page
from specgen.rules.existing.openings import planned_openings
from specgen.work.inputs import read_inputs
from specgen.work.proposals import Ready, _open_first, propose, write_proposals
from tests.chain.runs import contents, run
from tests.propose.sets import DECK, FEW, FOLDER, SETS, SHORT, WITHOUT, changed, proposer

LONG = os.environ.get("SPECGEN_LONG") == "1"
HERE = SETS if LONG else SHORT


@pytest.fixture(scope="module")
def ready() -> dict[str, Ready]:
    """The sets, each proposed once."""
    found = {}
    for name in HERE:
        path = FOLDER / f"{name}.yaml"
        found[name] = propose(read_inputs(path, None, False), workers=None if LONG else 1)
    return found


def test_every_wall_is_without_fault_and_open_in_facts_alone(ready: dict[str, Ready]) -> None:
    for name, one in ready.items():
        assert bool(one.proposed.walls) == (name != WITHOUT), name
        for wall, assessment in zip(one.proposed.walls, one.assessments, strict=True):
            assert not wall.failed and not any(finding.failed for finding in assessment.findings), name
            assert wall.open == bool(wall.open_facts)
            for finding in assessment.findings:
                if finding.outcome is Outcome.UNKNOWN:
                    assert any(finding.message in words for words in wall.open_facts), finding


def test_what_the_facts_state_stays(ready: dict[str, Ready], tmp_path: Path) -> None:
    practice = load_practice()
    for name, one in ready.items():
        facts = load_project(FOLDER / f"{name}.yaml", practice)
        for wall, text in one.texts.items():
            file = tmp_path / f"{name}-{wall}.yaml"
            file.write_text(text, "utf-8")
            read = load_project(file, practice)
            for before, after in (
                (facts.site, read.site),
                (facts.building, read.building),
                *zip(facts.parapets, read.parapets, strict=True),
            ):
                assert {key: after.values.get(key) for key in before.values} == dict(before.values)
            for part in facts.parapets[0].components():
                kept = read.parapets[0].by_id(part.id)
                assert kept is not None and kept.kind == part.kind
                assert {key: kept.values.get(key) for key in part.values} == dict(part.values)


def test_each_choice_has_its_reason_and_what_is_left_to_the_sections_is_not_written(
    ready: dict[str, Ready],
) -> None:
    one = ready["concrete-sbs-4c"]
    for wall in one.proposed.walls:
        assert all(reason.because for reason in wall.reasons)
        assert any(reason.next_best for reason in wall.reasons)
        text = one.texts[wall.name]
        for left in ("air_permeance", "vapor_permeance", "pull_adhesion", "outer_leg", "service_temperature"):
            assert left not in text
        barrier = text.index("- role: barrier")
        above = " ".join(text[:barrier].rsplit("- role", 1)[1].replace("#", " ").split())
        assert "[P: common practice]" in above


def test_single_omissions_are_tried_and_drying_is_not_claimed(ready: dict[str, Ready]) -> None:
    for wall in ready["concrete-sbs-4c"].proposed.walls:
        by_what = {one.what: one for one in wall.omissions}
        assert "water" in by_what["lap half as long, top flashing / barrier"].breaks
        assert "water" in by_what["lapped the wrong way, top flashing / barrier"].breaks
        assert by_what["lapped the wrong way, top flashing / barrier"].holds == ("air", "vapor")
        assert all(set(one.breaks) | set(one.holds) == {"water", "air", "vapor"} for one in wall.omissions)
        assert {one.drying for one in wall.omissions} == {NOT_CALCULATED}


def test_where_no_wall_fits_the_fewest_facts_to_give_up_are_told() -> None:
    here = proposer(WITHOUT, FEW)
    found = here.propose()
    assert not found.front
    given_up = least_given_up(here, found)
    assert [one.facts for one in given_up] == [("drainage layer: mesh",)]
    assert "dimpled sheet" in given_up[0].then


def test_prices_are_compared(ready: dict[str, Ready]) -> None:
    from specgen.propose.measure import measures

    assessment = ready["concrete-sbs-4c"].assessments[0]
    prices = Prices("USD", {"barrier": (6.0, "ft2"), "coping": (20.0, "ft")})
    (price,) = [one for one in measures(assessment, 0, prices) if one.title.startswith("price")]
    assert price.amount == 6.0 * 120 * 1.5 + 20.0 * 120


def test_a_written_wall_is_checked_and_issued_as_any_project(ready: dict[str, Ready], tmp_path: Path) -> None:
    one = ready["concrete-sbs-4c"]
    folder = tmp_path / "wall"
    folder.mkdir()
    (folder / "project.yaml").write_text(one.texts["wall-1"], "utf-8")
    assert run("check", folder).status == (3 if one.proposed.walls[0].open else 0)
    if LONG:
        assert run("write", folder, "-o", tmp_path / "out", "--strict").status in (0, 3)


@pytest.mark.skipif(not LONG, reason="SPECGEN_LONG=1: every wall of every set is issued")
def test_every_wall_is_issued_without_a_remark(ready: dict[str, Ready], tmp_path: Path) -> None:
    for name, one in ready.items():
        for wall in one.proposed.walls:
            folder = tmp_path / name / wall.name
            folder.mkdir(parents=True)
            (folder / "project.yaml").write_text(one.texts[wall.name], "utf-8")
            done = run("write", folder, "-o", folder / "out", "--strict")
            assert done.status == (3 if wall.open else 0), (name, done.err)


@pytest.mark.skipif(not LONG, reason="SPECGEN_LONG=1: walls with a seal at roof level are issued")
def test_paths_across_are_issued_without_a_remark(tmp_path: Path) -> None:
    ready = propose(read_inputs(changed("steel-tpo-4a", DECK, tmp_path), None, False))
    assert ready.texts
    for name, text in ready.texts.items():
        folder = tmp_path / name
        folder.mkdir()
        (folder / "project.yaml").write_text(text, "utf-8")
        assert run("check", folder).status == 0
        done = run("write", folder, "-o", folder / "out", "--strict")
        assert done.status == 0, (name, done.out, done.err)


def test_the_command_writes_the_walls_and_keeps_to_its_folder(
    ready: dict[str, Ready], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = ready["concrete-sbs-4c"]
    monkeypatch.setattr("specgen.work.proposals.propose", lambda *_: one)
    facts, folder = FOLDER / "concrete-sbs-4c.yaml", tmp_path / "out"
    done = run("propose", facts, "-o", folder)
    assert done.status == (3 if any(wall.open for wall in one.proposed.walls) else 0)
    assert "Why the others fell:" in done.out and "wall-1" in done.out
    before = contents(folder)
    assert {f"{name}/project.yaml" for name in one.texts} <= set(before)
    run("propose", facts, "-o", folder)
    assert contents(folder) == before
    (folder / "wall-1" / "project.yaml").write_text("mine", "utf-8")
    assert "edited by hand and kept" in run("propose", facts, "-o", folder).out
    assert (folder / "wall-1" / "project.yaml").read_text("utf-8") == "mine"
    other = replace(one, proposed=one.proposed)
    monkeypatch.setattr("specgen.work.proposals.propose", lambda *_: other)
    refused = run("propose", FOLDER / "steel-tpo-4a.yaml", "-o", folder)
    assert refused.status == 2 and "holds the papers of" in refused.err
    assert '"walls"' in run("propose", facts, "-o", folder, "--format", "json", "--force").out


def test_the_page_shows_each_wall_drawn_its_omissions_and_why_the_others_fell(
    ready: dict[str, Ready], tmp_path: Path
) -> None:
    one, facts = ready["concrete-sbs-4c"], FOLDER / "concrete-sbs-4c.yaml"
    inputs = read_inputs(facts, None, False)
    write_proposals(one, inputs, tmp_path, force=False, other_project=False)
    root = lxml.html.fromstring((tmp_path / "comparison.html").read_bytes())
    assert len(root.xpath("//img[starts-with(@src, 'data:image/svg+xml')]")) == len(one.proposed.walls)
    captions = root.xpath("//caption/text()")
    assert len(captions) == len(set(captions))
    for wall in one.proposed.walls:
        name = wall.name.replace("wall-", "Wall ")
        rows = root.xpath(f"//table[caption='Single omissions of {name}']/tbody/tr")
        assert len(rows) == len(wall.omissions)
        leaks = [row for row in rows if "water" in row[2].text_content()]
        assert len(leaks) == sum("water" in omission.breaks for omission in wall.omissions) > 0
        assert {row[4].text_content() for row in leaks} == {NOT_CALCULATED}
    counts = root.xpath("//table[caption='Walls removed by each reason']/tbody/tr/td/text()")
    assert [int(words.replace(",", "")) for words in counts] == list(one.proposed.fallen.values())
    assert "roof turn-up" not in root.xpath("//main")[0].text_content()


def test_a_standing_wall_is_opened_first(ready: dict[str, Ready], monkeypatch: pytest.MonkeyPatch) -> None:
    standing = read_inputs(FOLDER / "standing-cmu-sbs-4a.yaml", None, False)
    wall = standing.project.parapets[0]
    assert wall.existing is not None
    fewer = replace(wall, existing=replace(wall.existing, openings=wall.existing.openings[:2]))
    project = replace(standing.project, parapets=(fewer,))
    openings = planned_openings(project, standing.practice)
    assert any(one.wanted.left for one in openings)
    one = ready["concrete-sbs-4c"]
    none: dict[str, tuple[()]] = dict.fromkeys(one.texts, ())
    page = proposals_page(one.proposed, none, none, openings, str).decode()
    places = [page.index(f'id="{name}"') for name in ("summary", "openings", "compared", "wall-1")]
    assert places == sorted(places) and "Open it before one of these repairs is decided" in page
    opened = _open_first(replace(standing, project=project))
    assert opened and all("more; look at" in words for words in opened)
    found = replace(one, proposed=replace(one.proposed, open_first=opened))
    monkeypatch.setattr("specgen.work.proposals.propose", lambda *_: found)
    monkeypatch.setattr(
        "specgen.work.proposals.write_proposals", lambda *_, **__: Written(Path(), (), (), (), ())
    )
    lines = run("propose", FOLDER / "concrete-sbs-4c.yaml", "-o", "nowhere").out.splitlines()
    assert [line.startswith("open first: ") for line in lines[: len(opened) + 2]] == [
        False,
        *[True] * len(opened),
        False,
    ]


def test_no_wall_ends_with_1_and_writes_nothing(
    ready: dict[str, Ready], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = ready["concrete-sbs-4c"]
    give_up = (GiveUp(("drainage layer: mesh",), "drainage layer: dimpled sheet"),)
    none = replace(one, proposed=replace(one.proposed, walls=(), give_up=give_up), texts={}, assessments=())
    monkeypatch.setattr("specgen.work.proposals.propose", lambda *_: none)
    done = run("propose", FOLDER / f"{WITHOUT}.yaml", "-o", tmp_path / "out")
    assert done.status == 1 and "Give up `drainage layer: mesh`" in done.out
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "empty"),
        ("walls: [", "project.yaml"),
        ("project: {name: A, number: '1', issue_date: 2026-11-02}\nsite: {place: x}\nbuilding: {}\n"
         "parapets:\n  - {name: P-1, height: 18 in}\n", "needed to propose a wall"),
    ],
)  # fmt: skip
def test_unusable_facts_are_told_and_nothing_is_written(tmp_path: Path, text: str, words: str) -> None:
    file = tmp_path / "project.yaml"
    file.write_text(text, "utf-8")
    done = run("propose", file, "-o", tmp_path / "out")
    assert done.status == 2 and words in done.err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("currency: USD\n", "`prices` is missing"),
        ("currency: USD\nprices: {barier: 6 per ft2}\n", "no part that has a price"),
        ("currency: USD\nprices: {barrier: cheap}\n", "is not understood"),
        ("currency: USD\nprices: {barrier: 6 per acre}\n", "is not understood"),
        ("prices: {barrier: 6 per ft2}\nrate: 2\n", "unknown key `rate`"),
    ],
)
def test_unusable_prices_are_told(tmp_path: Path, text: str, words: str) -> None:
    file = tmp_path / "prices.yaml"
    file.write_text(text, "utf-8")
    done = run("propose", FOLDER / "concrete-sbs-4c.yaml", "-o", tmp_path / "out", "--prices", file)
    assert done.status == 2 and words in done.err
