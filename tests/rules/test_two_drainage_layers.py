"""Two drainage layers, one specified by depth and one by efficiency: each is judged by its own requirement."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest

from specgen.model.finding import Outcome
from specgen.practice.load import load_practice
from tests import plain_yaml
from tests.rules import cases

PRACTICE = load_practice()

GAP = {"role": "drainage layer", "id": "gap", "kind": "dimpled sheet", "depth": "7/16 in"}
MESH = {"role": "drainage layer", "id": "mesh", "kind": "mesh", "drainage_efficiency": "80 %"}


@pytest.mark.parametrize("order", list(permutations((GAP, MESH))), ids=lambda order: order[0]["id"])
@pytest.mark.parametrize(("depth", "expected"), [("7/16 in", Outcome.PASS), ("1/8 in", Outcome.FAIL)])
def test_each_of_two_drainage_layers_is_judged(
    order: tuple[dict[str, str], ...], depth: str, expected: Outcome, tmp_path: Path
) -> None:
    content = cases.changed({})
    layers = content["parapets"][0]["build_up"]
    at = next(n for n, layer in enumerate(layers) if layer["role"] == "drainage layer")
    layers[at : at + 1] = [{**layer, "depth": depth} if layer is GAP else dict(layer) for layer in order]
    path = tmp_path / "project.yaml"
    path.write_text(plain_yaml.dump(content))
    found = {
        one.layer: one.outcome
        for one in cases.findings_of(cases.load_project(path, PRACTICE))
        if one.code == "DL02"
    }
    assert found == {"gap": expected, "mesh": Outcome.FAIL}
