import pickle
import subprocess
import sys

import pytest

from specgen.files.marks import InputError, InputProblem, Mark, near, shown


def test_mark_prints_as_file_line_column_and_sorts_by_place() -> None:
    assert str(Mark("projects/x/project.yaml", 41, 9)) == "projects/x/project.yaml:41:9"
    assert sorted([Mark("a", 10, 1), Mark("a", 9, 5), Mark("a", 9, 2)])[0] == Mark("a", 9, 2)


def test_problem_prints_its_fix_on_a_second_line_only_if_there_is_one() -> None:
    mark = Mark("p.yaml", 4, 3)
    assert str(InputProblem(mark, "bad")) == "p.yaml:4:3: error: bad"
    assert str(InputProblem(mark, "bad", "mend it")) == "p.yaml:4:3: error: bad\n    fix: mend it"


def test_error_joins_its_problems_is_never_empty_and_survives_pickling() -> None:
    error = InputError([InputProblem(Mark("a", 1, 1), "one"), InputProblem(Mark("a", 2, 1), "two")])
    assert str(error) == "a:1:1: error: one\na:2:1: error: two"
    assert pickle.loads(pickle.dumps(error)).problems == error.problems
    with pytest.raises(ValueError, match="at least one"):
        InputError([])


@pytest.mark.parametrize(
    ("word", "choices", "found"),
    [
        ("hieght", ["width", "height"], "height"),
        ("Metal Thickness", ["metal_thickness", "metal"], "metal_thickness"),
        ("metal-thickness", ["metalthickness"], "metalthickness"),
        ("zebra", ["height", "width"], ""),
        ("", ["height"], ""),
        ("height", [], ""),
        ("x" * 1_000_000, ["x"], ""),
    ],
)
def test_near(word: str, choices: list[str], found: str) -> None:
    assert near(word, choices) == found


def test_shown_is_short_and_on_one_line() -> None:
    assert shown("a\nb") == r"'a\nb'"
    assert len(shown("y" * 1000)) == 42


def test_the_room_alone_loads_no_yaml() -> None:
    code = "import sys, specgen.files.marks, specgen.files.writing; sys.exit('yaml' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_problems_of_one_kind_are_folded_after_twenty() -> None:
    many = [InputProblem(Mark("p.yaml", line, 3), f"unknown key `k{line}`") for line in range(1, 90_001)]
    lines = str(
        InputError([*many, InputProblem(Mark("p.yaml", 90_001, 3), "`height` is missing")])
    ).splitlines()
    assert lines[19] == "p.yaml:20:3: error: unknown key `k20`"
    assert lines[20:] == [
        "... and 89,980 more of this kind",
        "p.yaml:90001:3: error: `height` is missing",
    ]
