"""A worked example with no more than kinds, families, metals and the order of laps: a wall before its products."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from shutil import copytree
from typing import Any

from tests import plain_yaml

KINDS = ("role", "kind", "id", "family", "metal", "joint", "slope_toward", "attachment", "finish", "color")
ORDER = ("between", "upper", "tape")
Change = Callable[[dict[str, Any]], None]


def bare(example: Path, folder: Path, change: Change = lambda _: None) -> Path:
    """The project file of a copy of an example, a draft, without what products, sizes and laps are stated to be."""
    copytree(example, folder)
    path = folder / "project.yaml"
    content = plain_yaml.load(path.read_text("utf-8"))
    content["project"]["state"] = "draft"
    for one in (*content.get("types", {}).values(), *content["parapets"]):
        for key in ("build_up", "top"):
            if key in one:
                one[key] = [{name: part[name] for name in KINDS if name in part} for part in one[key]]
        if "transitions" in one:
            one["transitions"] = [
                {name: lap[name] for name in ORDER if name in lap} for lap in one["transitions"]
            ]
        one.pop("changes", None)
    change(content)
    path.write_text(plain_yaml.dump(content), "utf-8")
    return path
