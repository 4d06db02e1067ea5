"""One parapet to draw: the conforming demo with changes."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from specgen.assessment import assess
from specgen.drawing.sizes import Job, job_of
from specgen.intake.project import load_project
from specgen.model.project import Project
from specgen.practice.load import load_practice
from tests import plain_yaml
from tests.drawing.jobs import whole

PRACTICE = load_practice()
Parts = Mapping[str, Mapping[str, Any] | None]


def project(parapet: Mapping[str, Any], parts: Parts, laps: Parts, building: Mapping[str, Any]) -> Project:
    """The demo with keys of its parapet, parts, laps and building changed; None deletes, a new pair of a lap is added."""
    content = whole()
    wall = content["parapets"][0]
    _merge(wall, parapet)
    _merge(content["building"], building)
    for name in ("build_up", "top"):
        wall[name] = [part for part in wall[name] if parts.get(part.get("id", part["role"]), {}) is not None]
        for part in wall[name]:
            _merge(part, parts.get(part.get("id", part["role"])) or {})
    ids = {part.get("id", part["role"]) for part in (*wall["build_up"], *wall["top"])}
    wall["transitions"] = [joint for joint in wall["transitions"] if set(joint["between"]) <= ids]
    for joint in wall["transitions"]:
        if joint.get("tape") not in ids:
            joint.pop("tape", None)
        _merge(joint, laps.get(" / ".join(joint["between"])) or {})
    known = {" / ".join(joint["between"]) for joint in wall["transitions"]}
    wall["transitions"] += [
        {"between": pair.split(" / "), **(laps[pair] or {})} for pair in laps if pair not in known
    ]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "project.yaml"
        path.write_text(plain_yaml.dump(content))
        return load_project(path, PRACTICE)


def job(
    parapet: Mapping[str, Any] | None = None,
    parts: Parts | None = None,
    laps: Parts | None = None,
    building: Mapping[str, Any] | None = None,
) -> Job:
    """What the drawings of the changed parapet are made from."""
    made = project(parapet or {}, parts or {}, laps or {}, building or {})
    return job_of(assess(made, PRACTICE).walls[0], {})


def _merge(target: dict[str, Any], changes: Mapping[str, Any]) -> None:
    for key, value in changes.items():
        if value is None:
            target.pop(key, None)
        else:
            target[key] = value
