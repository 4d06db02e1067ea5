"""Named conditions that the records of building, site, and standing wall answer: fire, guards, air tests, hazards."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from specgen.units.compare import at_least
from specgen.units.quantity import quantity
from specgen.wall.code import cladding_inspected, country_covered, leakage_limit, wall_inspected_for_wind
from specgen.wall.fire import (
    LOW_HEAT_RELEASE,
    NONCOMBUSTIBLE,
    by_exception,
    construction_of,
    fire_test,
    fire_treated,
    foam_plastic,
    tested_assembly,
)
from specgen.wall.place import Place

Condition = Callable[[Place], bool]

DECK_AIR = ("membrane on the deck", "concrete deck")  # air barriers of a roof below its insulation
TESTED = "whole building test"
VERIFIED = "design and installation verification"
FOUND, NONE_FOUND, NOT_SURVEYED = "found", "none found", "not surveyed"
ASBESTOS, LEAD, PCB = "asbestos", "lead", "polychlorinated biphenyls"


def lead_safe(place: Place) -> bool | None:
    """Whether the work falls under the renovation rule on lead; None where what decides is not stated.

    It holds for housing and places of children of the years of the practice entry.
    """
    building = place.project.building
    year, children = building.values.get("year_built"), building.flag("child_occupied")
    first = place.practice.quantity("existing.lead_year")
    late = at_least(quantity(year, ""), first) if isinstance(year, int) else None
    if late or children is False:
        return False
    return None if late is None or children is None else True


def _renovated(place: Place, answer: bool | None) -> bool:
    covered = place.parapet.existing is not None and country_covered(place.project)
    return covered and lead_safe(place) is answer


def _not_ruled_out(material: str) -> Condition:
    """A standing wall whose survey found the material, does not name what it found, or is not there."""

    def holds(place: Place) -> bool:
        existing = place.parapet.existing
        if existing is None or existing.word("hazardous_materials") == NONE_FOUND:
            return False
        return material in (existing.words("found_materials") or (material,))

    return holds


def _surveyed(place: Place) -> bool:
    existing = place.parapet.existing
    found = existing.word("hazardous_materials") if existing else None
    return existing is not None and existing.has("surveyed") and found in (FOUND, NONE_FOUND)


def _guarded(how: str) -> Condition:
    return lambda place: place.project.building.word("guard") == how


def _blocking_answered(place: Place) -> bool:
    building = place.project.building
    asked = construction_of(place.project) in ("", *NONCOMBUSTIBLE)
    return asked and building.word("wood_blocking") is not None and place.part("blocking") is not None


ANSWERS: Mapping[str, Condition] = {
    "parapet is fire rated": lambda place: place.parapet.flag("fire_rated") is True,
    "wall is fire tested": tested_assembly,
    "wall is excepted from the fire test": lambda place: by_exception(place.project),
    "sheathing is fire-retardant-treated": lambda place: fire_treated(place, "sheathing"),
    "framing is fire-retardant-treated": lambda place: fire_treated(place, "framing"),
    "wood blocking is answered": _blocking_answered,
    "people are guarded by the parapet": _guarded("by parapet height"),
    "people are guarded by a railing": _guarded("by railing"),
    "people are guarded by the roof access plan": _guarded("by roof access plan"),
    "nobody has access to the edge": _guarded("no access near the edge"),
    "country is covered": lambda place: country_covered(place.project),
    "foam is fire tested": lambda place: fire_test(place).asked is True and bool(foam_plastic(place)),
    "barrier is excepted by its heat release": lambda place: fire_test(place).exception == LOW_HEAT_RELEASE,
    "air barrier on the deck": lambda place: place.project.building.word("roof_air_barrier") in DECK_AIR,
    "building is tested for air leakage": lambda place: place.project.building.word("air_leakage") == TESTED,
    "air leakage by IECC 2024": lambda place: leakage_limit(place.project) == "air.leakage_2024",
    "air barrier is verified": lambda place: place.project.building.word("air_leakage") == VERIFIED,
    "cladding is inspected": cladding_inspected,
    "wall is inspected for wind": wall_inspected_for_wind,
    "existing wall is surveyed": _surveyed,
    "existing wall is not surveyed": lambda place: (
        place.parapet.existing is not None and not _surveyed(place)
    ),
    "asbestos is not ruled out": _not_ruled_out(ASBESTOS),
    "lead is not ruled out": _not_ruled_out(LEAD),
    "polychlorinated biphenyls are not ruled out": _not_ruled_out(PCB),
    "work is lead-safe renovation": lambda place: _renovated(place, True),
    "work may be lead-safe renovation": lambda place: _renovated(place, None),
}
