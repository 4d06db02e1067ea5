"""DEVELOPERS.md: each recipe is followed in a copy of the house and must keep its promise."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
RECIPES = re.split(r"^## (?=Add )", (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), flags=re.MULTILINE)[
    1:
]
STEP = re.compile(
    r"<!-- (file|append to|insert into|run|expect): (.+?) -->(?:\n```\w+\n(.*?)^```$)?",
    re.DOTALL | re.MULTILINE,
)


def copy_of_the_house(folder: Path) -> None:
    for name in ("specgen", "clauses", "templates", "projects"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    (folder / "tests").mkdir()
    shutil.copytree(
        ROOT / "tests" / "rules", folder / "tests" / "rules", ignore=shutil.ignore_patterns("__pycache__")
    )
    shutil.copytree(ROOT / "tests" / "stated", folder / "tests" / "stated")
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, folder / name)
    # What tests share stands beside them: all of it, for nothing here knows who imports what.
    for shared in (ROOT / "tests").glob("*.py"):
        if not shared.name.startswith("test_"):
            shutil.copy(shared, folder / "tests")


def insert(path: Path, after: str, lines: str) -> None:
    written = path.read_text(encoding="utf-8").splitlines(keepends=True)
    at = next(index for index, line in enumerate(written) if after in line)
    path.write_text("".join([*written[: at + 1], lines, *written[at + 1 :]]), encoding="utf-8")


def run(folder: Path, command: str) -> str:
    words = shlex.split(command)
    assert words[0] == "python"
    environment = {**os.environ, "PYTHONPATH": str(folder)}
    done = subprocess.run(
        [sys.executable, *words[1:]],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        encoding="utf-8",
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout + done.stderr


@pytest.mark.parametrize("recipe", RECIPES, ids=[recipe.splitlines()[0] for recipe in RECIPES])
def test_recipe(recipe: str, tmp_path: Path) -> None:
    copy_of_the_house(tmp_path)
    printed = ""
    runs = 0
    for what, where, lines in STEP.findall(recipe):
        if what == "file":
            assert not (tmp_path / where).exists(), f"{where} stands in the house already"
            (tmp_path / where).write_text(lines, encoding="utf-8")
        elif what == "append to":
            with (tmp_path / where).open("a", encoding="utf-8") as file:
                file.write(lines)
        elif what == "insert into":
            name, after = where.split(", after: ")
            insert(tmp_path / name, after, lines)
        elif what == "run":
            printed = run(tmp_path, where)
            runs += 1
        else:
            assert where in printed
    assert runs >= 1


def test_each_recipe_has_five_steps() -> None:
    assert len(RECIPES) == 6
    for recipe in RECIPES:
        assert [int(step) for step in re.findall(r"^(\d)\. ", recipe, flags=re.MULTILINE)] == [1, 2, 3, 4, 5]
