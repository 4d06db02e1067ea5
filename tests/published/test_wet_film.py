"""The wet film that dries to the film asked for, against worked examples of people who sell no barrier.

1.5 mils dry of 42 % solids by volume is 3.57 mils wet: an answer in a public column on industrial coatings, October 2003.
100 µm dry of 62 % is 161 µm wet: a public page of formulae of wet and dry film. Both read, and compared as printed.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from specgen.requirements.lookups import wet_film
from specgen.units.quantity import Quantity, parse
from specgen.wall.place import Place

PRACTICE = load_practice()
PROJECT = load_project(Path(__file__).parents[2] / "tests" / "stated" / "mixed-humid-midrise", PRACTICE)


@pytest.mark.parametrize(
    ("dry", "solids", "printed", "unit_m", "digits"),
    [("1.5 mil", "42 %", 3.57, 25.4e-6, 2), ("0.1 mm", "62 %", 161.0, 1e-6, 0)],
)
def test_wet_film_of_published_examples(
    dry: str, solids: str, printed: float, unit_m: float, digits: int
) -> None:
    parapet = PROJECT.parapets[0]
    barrier = parapet.part("barrier")
    assert barrier is not None
    values = {"thickness": parse(dry), "solids": parse(solids, {"ratio"})}
    part = replace(barrier, values=values)
    wall = replace(parapet, build_up=tuple(part if one is barrier else one for one in parapet.build_up))
    found = wet_film(Place(PROJECT, wall, PRACTICE, {}))
    assert found is not None and isinstance(found[0], Quantity)
    assert round(found[0].value / unit_m, digits) == printed
