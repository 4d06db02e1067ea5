"""The file of a proposed wall keeps what a person typed: values, comments, what there is none of, what is unknown."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from specgen.files.yaml_comments import comments
from specgen.files.yaml_reader import read_yaml_text
from specgen.intake.project import ProjectReader
from specgen.intake.start import start_text
from specgen.model.project import Project
from specgen.practice.load import load_practice
from specgen.propose.build import Builder
from specgen.propose.offers import Offers
from specgen.work.proposal_file import proposal_text
from tests.propose.sets import FOLDER, SETS

PRACTICE = load_practice()
HEAD = ("of a test",)


def read(text: str) -> Project:
    root = read_yaml_text(text, "project.yaml", want=dict)
    reader = ProjectReader(PRACTICE, root, "project.yaml")
    project = reader.read()
    assert not reader.problems, reader.problems
    return project


def first_wall(text: str) -> str:
    """The file of the wall of the first options, not judged."""
    offers = Offers(read(text), PRACTICE)
    wall = Builder(offers).project(choice.options[0] for choice in offers.choices)
    root = read_yaml_text(text, "project.yaml", want=dict)
    return proposal_text(root, comments(text), wall, PRACTICE, HEAD, {})


@pytest.mark.parametrize("name", SETS)
def test_a_comment_on_any_line_stays_beside_or_above_it(name: str) -> None:
    plain = (FOLDER / f"{name}.yaml").read_text("utf-8").splitlines()[1:]
    text = "\n".join(
        ["# before all"]
        + [f"{line}  # beside {number}" for number, line in enumerate(plain)]
        + ["# after all", ""]
    )
    made = first_wall(text)
    lines = made.splitlines()
    for number, line in enumerate(plain):
        (at,) = [one for one in lines if one.endswith(f"# beside {number}")]
        if line.strip().startswith("- {"):
            role = line.partition("role: ")[2].partition(",")[0]
            before = made[: made.index(f"# beside {number}\n")]
            assert before[before.rindex("- role: ") :].startswith(f"- role: {role}"), line
        else:
            key = line.strip().removeprefix("- ").partition(":")[0]
            assert at.strip().removeprefix("- ").startswith(f"{key}:"), (line, at)
    assert made.index("# before all") < made.index("format:") and "# after all" in made
    assert read(made).site.values == read(text).site.values


@pytest.mark.parametrize("name", SETS)
def test_a_comment_of_its_own_stays_above_what_follows(name: str) -> None:
    plain = (FOLDER / f"{name}.yaml").read_text("utf-8").splitlines()[1:]
    text = ""
    for number, line in enumerate(plain):
        indent = line[: len(line) - len(line.lstrip())]
        text += f"{indent}# above {number}\n{line}\n"
    made = first_wall(text).splitlines()
    for number, line in enumerate(plain):
        (at,) = [place for place, one in enumerate(made) if one.strip() == f"# above {number}"]
        below = next(one.strip() for one in made[at + 1 :] if not one.strip().startswith("#"))
        key = line.strip().removeprefix("- ").strip("{").partition(",")[0].partition(":")[0]
        assert below.removeprefix("- ").startswith(f"{key}:"), (line, below)


def test_comments_inside_brackets_and_below_the_last_key_are_kept() -> None:
    facts = (FOLDER / "concrete-sbs-4c.yaml").read_text("utf-8")
    facts = facts.replace(
        "  conditions: [straight lengths only]\n",
        "  conditions:  # of the survey\n    - straight lengths only  # walked in May\n    # and no corner\n",
    )
    facts = facts.replace(
        "anchors_by: structural engineer of record}",
        "anchors_by: |  # by letter\n          me\n          too}",
    )
    facts = facts.replace(
        "{role: blocking, kind: preservative-treated wood, anchors_by: |",
        "role: blocking\n        kind: preservative-treated wood\n        anchors_by: |",
    ).replace("too}", "too")
    made = first_wall(f"{facts}        # under the last\n    # and less deep\n# for the drawing\n")
    for words in (
        "of the survey",
        "walked in May",
        "and no corner",
        "by letter",
        "under the last",
        "and less deep",
    ):
        assert made.count(f"# {words}") == 1, words
    assert made.index("# walked in May") < made.index("# of the survey") < made.index("risk_category")
    assert read(made)


def test_what_a_start_file_explains_is_left_out_and_what_is_typed_into_it_stays() -> None:
    answers = {
        "name": "Hill School",
        "roof-membrane": "TPO",
        "backup-wall": "concrete",
        "parapet-height": "30 in",
    }
    text = start_text(answers, PRACTICE).replace("height: 30 in", "height: 30 in  # of the owner")
    made = first_wall(text)
    assert "When they are decided" not in made and "yaml-language-server" not in made
    assert "height: 30 in  # of the owner" in made
    assert "wind_speed: unknown  # basic wind speed" in made


def test_none_stays_none_and_an_unknown_kind_is_chosen_with_its_values() -> None:
    facts = (FOLDER / "concrete-sbs-4c.yaml").read_text("utf-8")
    facts = facts.replace(
        "    top:\n",
        "    air_path: unknown  # to be asked\n    top:\n"
        "      - {role: coping, kind: unknown, metal: copper}  # the owner's metal\n"
        "      - {role: cleat, kind: none}  # none wanted\n",
    )
    offers = Offers(read(facts), PRACTICE)
    assert "cleat" not in {choice.name for choice in offers.choices}
    (coping,) = [choice for choice in offers.choices if choice.name == "coping"]
    assert {dict(one.parts[0].values).get("metal", "copper") for one in coping.options} == {"copper"}
    made = first_wall(facts)
    wall = read(made).parapets[0]
    (part,) = wall.all_of("coping")
    assert (part.kind, part.word("metal")) == ("formed metal", "copper")
    assert [one.role for one in wall.absent] == ["cleat"] and not wall.undecided
    assert wall.word("air_path") == "over the top"
    for words in ("the owner's metal", "none wanted", "to be asked"):
        assert made.count(f"# {words}") == 1
    again = replace(read(made), path="project.yaml")
    assert again.parapets[0].word("air_path") == "over the top"


def test_a_facts_file_is_read_as_a_person_saves_it(tmp_path: Path) -> None:
    text = "\ufeffa: 1  # one\r\n# two\r\nb: '# no'\r\n"
    assert [(one.text, one.alone, one.line) for one in comments(text)] == [
        ("# one", False, 1),
        ("# two", True, 2),
    ]


def test_a_project_in_si_is_offered_values_in_si() -> None:
    text = (FOLDER / "steel-pvc-7-si.yaml").read_text("utf-8")
    assert "outer_face_height: 150 mm" in first_wall(text) and " in\n" not in first_wall(text)
