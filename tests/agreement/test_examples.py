"""The documents of every worked example agree; so do those of walls made by chance."""

from __future__ import annotations

import pytest

from specgen.agreement.reader import contradictions
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from tests.agreement.issues import found_in, issue_of
from tests.agreement.papers import ids_that_are_no_words, papers, printed, strange
from tests.agreement.plants import put
from tests.agreement.walls import EXAMPLES, generated
from tests.chain.bare import bare
from tests.chain.runs import CONFORMING, copied
from tests.conftest import LONG

WALLS = 200 if LONG else 2


@pytest.mark.parametrize("example", EXAMPLES if LONG else EXAMPLES[::2])
def test_the_documents_of_an_example_agree(example):
    assert [str(one) for one in found_in(example)] == []


@pytest.mark.parametrize("example", EXAMPLES if LONG else [CONFORMING.name])
def test_the_documents_of_a_wall_of_kinds_alone_agree(example, tmp_path):
    """What is left to the sections is printed, drawn, asked and calculated as one."""
    folder = bare(CONFORMING.parent / example, tmp_path / "bare").parent
    assert [str(one) for one in contradictions(issue_of(folder))] == []


@pytest.mark.slow
def test_the_documents_of_walls_made_by_chance_agree(tmp_path):
    made, seed, wrong = 0, 0, []
    while made < WALLS:
        seed += 1
        assert seed < 10 * WALLS, f"only {made} of {seed} walls can be read"
        path = tmp_path / f"{seed}" / "project.yaml"
        path.parent.mkdir()
        path.write_text(generated(seed), "utf-8")
        try:
            load_project(path, load_practice())
        except InputError:
            continue
        made += 1
        found = contradictions(issue_of(path.parent))
        wrong += [f"wall {seed}: {one}" for one in found]
    assert wrong == []


def test_a_size_that_fails_is_told_at_the_size(tmp_path):
    short = ("        outer_drip: 1 in\n", "        outer_drip: 1/2 in\n")
    thin = ("        thickness: 0.050 in\n", "        thickness: 0.040 in\n")
    files = issue_of(copied(CONFORMING, tmp_path / "wall", short, thin))
    assert [str(one) for one in contradictions(files)] == []
    printed = "as described; 07 71 00, 2.5.D asks for at least 1 in"
    quiet = {"drawings/p-1-section.dxf": put(printed, "clear", 0)}
    silenced = {name: edit(files[name]) for name, edit in quiet.items()}
    assert "size" in {one.kind for one in contradictions({**files, **silenced})}


def test_a_size_that_fails_does_not_read_as_if_it_were_met(tmp_path):
    short = ("        outer_drip: 1 in\n", "        outer_drip: 1/2 in\n")
    files = issue_of(copied(CONFORMING, tmp_path / "wall", short))
    (sheet,) = (name for name in files if name == "drawings/p-1-section.svg")
    planted = {**files, sheet: files[sheet].replace(b"1/2 in as described", b"1 in as described")}
    assert planted[sheet] != files[sheet]
    assert [one for one in contradictions(planted) if one.kind == "size" and one.other.text == "1 in"]


@pytest.mark.parametrize("example", EXAMPLES if LONG else EXAMPLES[::2])
def test_no_paper_for_other_people_speaks_as_the_file_does(example):
    """No rule code, component id, status of a source, unit of a keyboard or placeholder; Appendix A may have them."""
    lines = list(printed(papers(example)))
    kinds = {name.rpartition("/")[2].partition("-")[0] for name, _ in lines}
    assert kinds >= {"request", "deficiency", "submittal", "hold", "conference", "project", "09"}, kinds
    assert list(strange(example, iter(lines))) == []


@pytest.mark.parametrize(
    "line",
    [
        "breaks the wall: PA02",
        "Wrb is loose",
        "IBC 2021 [C: model code]",
        "158 degF",
        "state `kind`",
        "{{ limit }}",
    ],
)
def test_what_a_paper_may_not_say_is_found(line):
    assert "wrb" in ids_that_are_no_words("faulty-parapet")
    assert len(list(strange("faulty-parapet", iter([("letter.docx", line)])))) == 1
