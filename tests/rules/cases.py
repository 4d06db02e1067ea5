"""Rule cases: a change to ``base.yaml``, written to a file, read by the real loader, run through the book.

A case names its sort and itself (``failing: not rolled``), then what it changes:
``site``, ``building``, ``parapet``: keys merged over the base's; null deletes a key.
``parts``: component id to keys merged over that component; null removes it (and its laps); a new id with a
``role`` is added behind the others. ``laps``: ``one / other`` to keys of that transition, likewise.
``waivers`` and ``letters``: the lists as they stand in a project file (``maker_letters``).

And what must come of it: ``outcome`` (a passing case passes, a failing one fails), ``severity``,
``line`` (text of the line the finding points at), ``message``, ``missing``, ``because`` (parts of them).
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.model.finding import Finding
from specgen.model.project import Project
from specgen.practice.load import load_practice

HERE = Path(__file__).parent
SORTS = {"passing": "pass", "failing": "fail", "boundary": ""}
BASE: Mapping[str, Any] = yaml.safe_load((HERE / "base.yaml").read_text())


@dataclass(frozen=True)
class Case:
    """One case of one rule."""

    code: str
    sort: str
    name: str
    content: Mapping[str, Any]

    @property
    def outcome(self) -> str:
        return str(self.content.get("outcome") or SORTS[self.sort])


def read_cases() -> list[Case]:
    """Every case of every file."""
    return [case for path in sorted(HERE.glob("*.yml")) for case in _of_file(path)]


def _of_file(path: Path) -> list[Case]:
    cases = []
    for node in yaml.safe_load(path.read_text()):
        sort = next(sort for sort in SORTS if sort in node)
        content = {key: value for key, value in node.items() if key != sort}
        assert not set(content) - {
            *("site", "building", "parapet", "parts", "laps", "waivers", "letters"),
            *("outcome", "severity", "line", "message", "missing", "because"),
        }, f"{path.name}: {node}"
        cases.append(Case(path.stem, sort, node[sort], content))
    return cases


def changed(content: Mapping[str, Any]) -> dict[str, Any]:
    """The base with a case's changes."""
    project = deepcopy(dict(BASE))
    parapet = project["parapets"][0]
    for section in ("site", "building"):
        _merge(project[section], content.get(section, {}))
    _merge(parapet, content.get("parapet", {}))
    for name, change in content.get("parts", {}).items():
        _change_part(parapet, name, change)
    for name, change in content.get("laps", {}).items():
        _change_lap(parapet, name.split(" / "), change)
    if "waivers" in content:
        project["waivers"] = content["waivers"]
    if "letters" in content:
        project["maker_letters"] = content["letters"]
    return project


def _merge(node: dict[str, Any], change: Mapping[str, Any]) -> None:
    for key, value in change.items():
        if value is None:
            del node[key]
        else:
            node[key] = value


def _change_part(parapet: dict[str, Any], name: str, change: Mapping[str, Any] | None) -> None:
    for parts in (parapet["build_up"], parapet["top"]):
        for part in parts:
            if part.get("id", part["role"]) != name:
                continue
            if change is None:
                parts.remove(part)
                parapet["transitions"] = [lap for lap in parapet["transitions"] if name not in lap["between"]]
            else:
                _merge(part, change)
            return
    assert change and "role" in change, f"no part {name}"
    where = "top" if load_practice().vocabulary.roles[change["role"]].where == "top" else "build_up"
    parapet[where].append({"role": change["role"], "id": name, **change})


def _change_lap(parapet: dict[str, Any], ends: list[str], change: Mapping[str, Any] | None) -> None:
    found = [lap for lap in parapet["transitions"] if lap["between"] == ends]
    if change is None:
        parapet["transitions"].remove(found[0])
    elif found:
        _merge(found[0], change)
    else:
        parapet["transitions"].append({"between": ends, **change})


def write(content: Mapping[str, Any], folder: Path) -> Path:
    """A project file with a case's changes."""
    path = folder / "project.yaml"
    path.write_text(yaml.safe_dump(changed(content), sort_keys=False, allow_unicode=True))
    return path


def load(content: Mapping[str, Any], folder: Path) -> Project:
    """The changed project through the real loader."""
    return load_project(write(content, folder), load_practice())


def findings_of(project: Project) -> tuple[Finding, ...]:
    """The whole pipeline up to the findings."""
    practice = load_practice()
    return assess(project, practice).findings
