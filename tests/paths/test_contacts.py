"""Parts that meet: families, metals by exposure, runoff."""

from __future__ import annotations

import pytest

from specgen.paths.contacts import Contact, contacts, couple
from tests.paths.walls import PRACTICE, Wall, part, plain, project


def found(wall: Wall) -> dict[tuple[str, str], Contact]:
    one = project(wall)
    return {(c.first, c.second): c for c in contacts(one, one.parapets[0], PRACTICE)}


def test_copper_coping_above_a_galvanized_screed() -> None:
    wall = plain()
    part(wall, "coping")["metal"] = "copper"
    runoff = found(wall)["coping", "weep screed"]
    assert runoff.adjacency == "runoff" and runoff.couple is None
    assert runoff.judgement is not None and runoff.judgement.answer == "not allowed"
    held = found(wall)["coping", "cleat"]
    assert held.couple is not None and not held.couple.acceptable and held.couple.anode == "galvanized steel"


def test_galvanized_above_copper_is_no_runoff_trouble() -> None:
    runoff = found(plain())["coping", "weep screed"].judgement
    assert runoff is not None and runoff.answer == "allowed"


def test_membrane_on_foam_only_where_it_touches() -> None:
    wall = plain()
    part(wall, "roof turn-up")["kind"] = "PVC"
    foam = {"role": "insulation", "kind": "expanded polystyrene"}
    wall["build_up"].insert(8, foam)
    touching = found(wall)
    answer = touching["roof turn-up", "insulation"].judgement
    assert answer is not None and answer.answer == "not allowed" and "plasticizer" in answer.mechanism
    assert ("roof turn-up", "inner sheathing") not in touching
    assert ("barrier", "inner sheathing") not in touching and ("barrier", "sheathing") in touching


def test_cleat_touches_blocking_only_without_the_flashing() -> None:
    assert ("cleat", "blocking") not in found(plain())
    wall = plain()
    wall["top"] = [one for one in wall["top"] if one["role"] != "top flashing"]
    wall["transitions"] = wall["transitions"][:1]
    assert ("cleat", "blocking") in found(wall)


def test_unknown_family_has_no_judgement() -> None:
    wall = plain()
    del part(wall, "barrier")["family"]
    assert found(wall)["barrier", "sheathing"].judgement is None


@pytest.mark.parametrize(
    ("exposure", "acceptable"), [("outdoors", False), ("sheltered", False), ("conditioned", True)]
)
def test_limit_follows_the_exposure(exposure: str, acceptable: bool) -> None:
    """Aluminum 0.90 V and stainless steel 0.50 V differ by 0.40 V; limits 0.15, 0.25, 0.50 V."""
    pair = couple(PRACTICE, "aluminum", "stainless steel", exposure)
    assert pair is not None and pair.acceptable is acceptable and pair.anode == "aluminum"
    assert pair.difference_v == pytest.approx(0.40)


def test_no_couple_with_a_membrane() -> None:
    assert couple(PRACTICE, "aluminum", "TPO") is None
