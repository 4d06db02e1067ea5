"""Rule cases: a change to ``base.yaml``, written to a file, read by the real loader, run through the book.

A case names its sort and itself (``failing: not rolled``), then what it changes:
``project``, ``site``, ``building``, ``parapet``: keys merged over the base's; null deletes a key.
``parts``: component id to keys merged over that component; null removes it (and its laps); a new id with a
``role`` is added behind the others, or before the one that its key ``before`` names. ``laps``: ``one / other`` to keys
of that transition, likewise.
``waivers`` and ``letters``: the lists as they stand in a project file (``maker_letters``).
``hourly``: the kept result of the parapet: ``stale``, ``missing`` (what its key lacks), ``on_limits``; ``cut``: fields
of its one cut; ``run``: fields of its run at the leak of the criterion; ``leaking``: of its run with a leak past the
barrier; ``place``: fields of the one place of both.

A file may begin with ``base:``, the same changes, which every case of every rule finds made: what a new rule wants to
read of a wall that conforms. ``base.yaml`` and the other rules' cases stay as they are.

And what must come of it: ``outcome`` (a passing case passes, a failing one fails), ``severity``,
``line`` (text of the line the finding points at), ``message``, ``missing``, ``because`` (parts of them).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from copy import deepcopy
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any
from unittest.mock import patch

from specgen.assessment import assess
from specgen.design.hourly_kept import KeyNow
from specgen.intake.project import load_project
from specgen.model.finding import Finding
from specgen.model.hourly import HourlyResult
from specgen.model.project import Project
from specgen.practice.load import load_practice
from specgen.rules.book import load_book
from tests import plain_yaml
from tests.hourly_results import SOUND, cut_of, result_of, run_of

HERE = Path(__file__).parent
SORTS = {"passing": "pass", "failing": "fail", "boundary": ""}
FILES = sorted(HERE.glob("*.yml"))
CHANGES = ("project", "site", "building", "parapet", "parts", "laps", "waivers", "letters", "hourly")
EXPECTED = ("outcome", "severity", "line", "message", "missing", "because")
OF_A_FAILURE = {
    "severity": "defect, risk or query",
    "line": "the text of the line that the finding points at",
    "message": "a part of what the finding says",
}


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
    return [case for path in FILES for case in cases_of(path.stem, plain_yaml.load(path.read_text()))]


def cases_of(code: str, rows: list[dict[str, Any]]) -> list[Case]:
    """The cases of one file; a row that lacks a key says which, and what it holds."""
    cases = []
    for number, row in enumerate(rows, start=1):
        if "base" in row:
            assert number == 1, f"tests/rules/{code}.yml: `base` is the first row, and this is row {number}"
            continue
        where = f"tests/rules/{code}.yml, row {number}"
        sort = next((sort for sort in SORTS if sort in row), "")
        assert sort, f"{where}: add `passing`, `failing` or `boundary`: the name of the case"
        content = {key: value for key, value in row.items() if key != sort}
        strange = sorted(set(content) - {*CHANGES, *EXPECTED})
        assert not strange, f"{where}: {strange} is none of {[*CHANGES, *EXPECTED]}"
        if sort == "boundary":
            wanted = {"outcome": "pass, specified, fail, unknown or not applicable"}
        else:
            wanted = OF_A_FAILURE if sort == "failing" else {}
        lacking = [f"`{key}`: {what}" for key, what in wanted.items() if key not in content]
        assert not lacking, f"{where} ({sort}: {row[sort]}): add {'; '.join(lacking)}"
        cases.append(Case(code, sort, row[sort], content))
    return cases


def lacking_sorts(codes: Iterable[str], cases: Iterable[Case]) -> list[str]:
    """What to add, so that every rule has a case of each sort."""
    there = {(case.code, case.sort) for case in cases}
    return [
        f"tests/rules/{code}.yml: add a case `{sort}`: its name"
        for code in codes
        for sort in SORTS
        if (code, sort) not in there
    ]


UNMENTIONED = "unmentioned"  # in place of a part: nothing is said of it


@cache
def base() -> Mapping[str, Any]:
    """The base wall with what each rule's cases ask of it."""
    project: dict[str, Any] = plain_yaml.load((HERE / "base.yaml").read_text())
    for path in FILES:
        first = plain_yaml.load(path.read_text())[0]
        _change(project, first.get("base", {}))
    return project


def changed(content: Mapping[str, Any]) -> dict[str, Any]:
    """The base with a case's changes."""
    project = deepcopy(dict(base()))
    was = _roles(project)
    _change(project, content)
    gone = set(was) - set(_roles(project))
    for name in [role for role in was if role in gone]:  # that there is none, not that nobody says
        if content["parts"].get(was[name]) != UNMENTIONED:
            where = "top" if load_practice().vocabulary.roles[name].where == "top" else "build_up"
            project["parapets"][0][where].append({"role": name, "kind": "none"})
    return project


def _roles(project: dict[str, Any]) -> dict[str, str]:
    """The roles of the parapet, each with the name of one of its parts."""
    parapet = project["parapets"][0]
    return {part["role"]: part.get("id", part["role"]) for part in (*parapet["build_up"], *parapet["top"])}


def _change(project: dict[str, Any], content: Mapping[str, Any]) -> None:
    parapet = project["parapets"][0]
    for section in ("project", "site", "building"):
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


def _merge(node: dict[str, Any], change: Mapping[str, Any]) -> None:
    for key, value in change.items():
        if value is None:
            assert key in node, f"tests/rules/base.yaml states no `{key}`: the case has nothing to take out"
            del node[key]
        else:
            node[key] = value


def _change_part(parapet: dict[str, Any], name: str, change: Mapping[str, Any] | str | None) -> None:
    for parts in (parapet["build_up"], parapet["top"]):
        for part in parts:
            if part.get("id", part["role"]) != name:
                continue
            if change is None or change == UNMENTIONED:
                parts.remove(part)
                parapet["transitions"] = [lap for lap in parapet["transitions"] if name not in lap["between"]]
            else:
                _merge(part, change)
            return
    assert isinstance(change, dict) and "role" in change, f"no part {name}"
    where = "top" if load_practice().vocabulary.roles[change["role"]].where == "top" else "build_up"
    own = {key: value for key, value in change.items() if key != "before"}
    names = [part.get("id", part["role"]) for part in parapet[where]]
    at = names.index(change["before"]) if "before" in change else len(names)
    parapet[where].insert(at, {"role": change["role"], "id": name, **own})


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
    path.write_text(plain_yaml.dump(changed(content)))
    return path


def load(content: Mapping[str, Any], folder: Path) -> Project:
    """The changed project through the real loader."""
    project = load_project(write(content, folder), load_practice())
    kept = content.get("hourly")
    return replace(project, hourly={"P-1": _hourly(kept)}) if kept is not None else project


STALE, LACKING, ON_LIMITS = "stale", "lacking ", "on limits"  # how keys of cases begin


def _hourly(kept: Mapping[str, Any]) -> HourlyResult:
    """The kept result of a case; its key says how it is to be held against that of the wall."""
    key = LACKING + kept["missing"] if "missing" in kept else STALE if kept.get("stale") else "as it is"
    place = replace(SOUND, **_tuples(kept.get("place", {})))
    runs = [run_of(0.0, place, **kept.get("run", {}))]
    runs += [run_of(0.02, place, **kept["leaking"])] if "leaking" in kept else []
    cut = cut_of(runs, **kept.get("cut", {}))
    return result_of("P-1", cut, key=f"{key}, {ON_LIMITS}" if kept.get("on_limits") else key)


def _tuples(fields: Mapping[str, Any]) -> dict[str, Any]:
    return {key: tuple(one) if isinstance(one, list) else one for key, one in fields.items()}


@contextmanager
def key_of_cases(project: Project) -> Iterator[None]:
    """What a key is made of takes a weather file and is not tried here: a result of a case says itself how it stands."""

    def now(*_: object) -> KeyNow:
        key = next(iter(project.hourly.values())).key
        if key.startswith(LACKING):
            return KeyNow("", (key.removeprefix(LACKING),))
        return KeyNow("another" if key == STALE else key, (), key.endswith(ON_LIMITS))

    with patch("specgen.design.hourly_kept.key_now", now):
        yield


def findings_of(project: Project, code: str = "") -> tuple[Finding, ...]:
    """The whole pipeline up to the findings; with a code, of that rule alone."""
    practice = load_practice()
    book = tuple(one for one in load_book(practice) if one.rule.code == code) if code else None
    with key_of_cases(project):
        return assess(project, practice, book=book).findings
