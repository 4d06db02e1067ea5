"""Continuous checking: hook, action and shell recipe, run on the worked repository of walls that the manual shows."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

from specgen.commands import hook
from specgen.commands.hook import WORST_LAST, worst_of
from tests.conftest import LONG

ROOT = Path(__file__).parents[2]
SCRIPT = ROOT / ".github" / "actions" / "check" / "walls.sh"
WALLS = ROOT / "docs" / "walls"
PAGE = (ROOT / "docs" / "manual" / "continuous.md").read_text("utf-8")
WORKED = {"offices": "mixed-humid-midrise", "library": "fluid-applied-roof"}
HOOKS = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))

need_shell = pytest.mark.skipif(
    shutil.which("sh") is None or shutil.which("git") is None, reason="the recipe needs `sh` and `git`"
)


def environment(**more: str) -> dict[str, str]:
    """Of a runner that has this checkout's specgen, and a git that knows nobody of this machine."""
    who = {f"GIT_{one}_{what}": "walls" for one in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")}
    none = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1"}
    keep = {key: os.environ[key] for key in ("PATH", "HOME") if key in os.environ}
    return {**keep, **who, **none, "PYTHONPATH": str(ROOT), **more}


def git(folder: Path, *words: str) -> None:
    subprocess.run(["git", *words], cwd=folder, env=environment(), check=True, capture_output=True)


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    """The worked repository, committed; on the branch `change` one wall is broken and one is new."""
    place = tmp_path / "walls of ours"
    shutil.copytree(WALLS, place)
    git(place, "init", "--quiet", "--initial-branch=main")
    git(place, "add", ".")
    git(place, "commit", "--quiet", "-m", "two walls")
    git(place, "checkout", "--quiet", "-b", "change")
    file = place / "offices" / "project.yaml"
    text = file.read_text("utf-8")
    assert "slope_toward: roof" in text
    file.write_text(text.replace("slope_toward: roof", "slope_toward: outer face"), "utf-8")
    shutil.copytree(place / "library", place / "annex")
    git(place, "add", ".")
    git(place, "commit", "--quiet", "-m", "the coping slopes outward; an annex")
    return place


def specgen(folder: Path) -> str:
    """A command `specgen` that runs this checkout."""
    file = folder / "specgen"
    file.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m specgen "$@"\n', "utf-8")
    file.chmod(0o755)
    return str(file)


@need_shell
@pytest.mark.skipif(not LONG, reason="some half a minute: run by make test-long")
def test_the_recipe_checks_all_walls_and_tells_what_a_change_makes_of_them(
    repository: Path, tmp_path: Path
) -> None:
    done = subprocess.run(
        ["bash", SCRIPT, "check", "main"],
        cwd=repository,
        env=environment(SPECGEN=specgen(tmp_path)),
        capture_output=True,
        text=True,
    )
    assert done.returncode == 1, done.stderr
    out = repository / "walls-out"
    logs = {path.stem: json.loads(path.read_text("utf-8")) for path in (out / "sarif").glob("*.sarif")}
    assert set(logs) == {"offices", "library", "annex"}
    (run,) = logs["offices"]["runs"]
    broken = [one for one in run["results"] if one["level"] in ("error", "warning")]
    assert broken and all(
        one["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] == "offices/project.yaml"
        for one in broken
    )
    categories = {log["runs"][0]["automationDetails"]["id"] for log in logs.values()}
    assert len(categories) == len(logs)
    for name in logs:
        assert (out / "documents" / name / "manifest.json").is_file()
    comment = (out / "comment.md").read_text("utf-8")
    assert done.stdout == comment
    head, _, offices = comment.partition("### offices: a defect or a risk stands")
    assert "What changed:" in offices and "new: " in offices and broken[0]["ruleId"] in offices
    assert "### annex: nothing stands against it\n\nA new wall." in head
    assert "### library: nothing stands against it\n\nWhat changed:\n\n```text\nNothing differs." in head
    listed = subprocess.run(["git", "worktree", "list"], cwd=repository, capture_output=True, text=True)
    assert len(listed.stdout.splitlines()) == 1  # nothing is left in the repository


@need_shell
@pytest.mark.skipif(not LONG, reason="some half a minute: run by make test-long")
def test_the_hook_stops_a_broken_wall(repository: Path, tmp_path: Path) -> None:
    pytest.importorskip("pre_commit", reason="the hook needs pre-commit")
    (shipped,) = HOOKS
    local = {**shipped, "language": "system", "entry": f"{sys.executable} -m specgen.commands.hook"}
    config = tmp_path / "config.yaml"
    config.write_text(yaml.safe_dump({"repos": [{"repo": "local", "hooks": [local]}]}), "utf-8")

    def hooked(*words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "pre_commit", "run", "--config", config, "--verbose", *words],
            cwd=repository,
            env=environment(PRE_COMMIT_HOME=str(tmp_path / "home")),
            capture_output=True,
            text=True,
        )

    stopped = hooked("--from-ref", "main", "--to-ref", "change")
    assert stopped.returncode == 1 and "offices/project.yaml:" in stopped.stdout, stopped.stdout
    assert "library/" not in stopped.stdout  # it did not change
    passed = hooked("--files", "library/project.yaml")
    assert passed.returncode == 0 and "Passed" in passed.stdout, passed.stdout


@pytest.mark.skipif(not LONG or shutil.which("shellcheck") is None, reason="needs shellcheck, in a long run")
def test_the_script_is_plain_shell() -> None:
    done = subprocess.run(["shellcheck", "--shell=sh", SCRIPT], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout


@need_shell
def test_the_script_says_how_it_is_used_and_picks_the_worst(tmp_path: Path) -> None:
    done = subprocess.run(["sh", SCRIPT], capture_output=True, text=True, cwd=tmp_path)
    assert done.returncode == 2 and "walls.sh check [BASE]" in done.stderr and "set -u" not in done.stderr
    functions = SCRIPT.read_text("utf-8").partition("\ncase ${1:-} in")[0]
    pairs = [(one, other) for one in WORST_LAST for other in WORST_LAST]
    asked = "\n".join(f"worse {one} {other}" for one, other in pairs)
    printed = subprocess.run(["sh", "-c", f"{functions}\n{asked}"], capture_output=True, text=True)
    assert [int(one) for one in printed.stdout.split()] == [worst_of(pair) for pair in pairs]


def test_every_run_of_the_action_is_the_script() -> None:
    action = yaml.safe_load((SCRIPT.parent / "action.yml").read_text("utf-8"))
    runs = [step["run"] for step in action["runs"]["steps"] if "run" in step]
    assert len(runs) == 3 and all(one.startswith('"$GITHUB_ACTION_PATH/walls.sh" ') for one in runs)
    for step in action["runs"]["steps"]:
        assert "shell" in step or "uses" in step
        assert "${{" not in step.get(
            "run", ""
        )  # what comes from outside is handed over, never put into the script


def test_the_manual_shows_the_files_as_they_are() -> None:
    for file in (SCRIPT, WALLS / ".pre-commit-config.yaml", WALLS / ".github" / "workflows" / "walls.yml"):
        assert f"\n{file.read_text('utf-8')}```" in PAGE, file.name
    for name, worked in WORKED.items():
        shown, shipped = WALLS / name / "project.yaml", ROOT / "projects" / worked / "project.yaml"
        assert shown.read_bytes() == shipped.read_bytes()
    assert {file.parent.name for file in WALLS.glob("*/project.yaml")} == set(WORKED)


def test_the_hook_is_what_is_installed() -> None:
    (shipped,) = HOOKS
    assert shipped["id"] in (WALLS / ".pre-commit-config.yaml").read_text("utf-8")
    scripts = (ROOT / "pyproject.toml").read_text("utf-8")
    assert f'{shipped["entry"]} = "specgen.commands.hook:command"' in scripts


def test_each_project_is_checked_once_and_the_worst_counts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    statuses = {"a": 3, "b": 0}
    asked: list[list[str]] = []

    def checked(words: list[str], **_: object) -> None:
        asked.append(words)
        sys.exit(statuses[Path(words[1]).parent.name])

    monkeypatch.setattr(hook, "main", checked)
    for name in statuses:
        (tmp_path / name).mkdir()
        (tmp_path / name / "project.yaml").touch()
    files = [
        str(tmp_path / one) for one in ("a/project.yaml", "a/office.yaml", "b/project.yaml", "c/office.yaml")
    ]
    for more, status in (([], 3), (["--allow-unknown"], 0)):
        with pytest.raises(SystemExit) as ended:
            hook.command([*files, "--severity", "defect", *more])
        assert ended.value.code == status
    assert "c: no project.yaml stands here; nothing was checked" in capsys.readouterr().err
    places = [str(tmp_path / name / "project.yaml") for name in statuses]
    assert asked == 2 * [["check", place, "--severity", "defect"] for place in places]
