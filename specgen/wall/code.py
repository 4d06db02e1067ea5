"""What a project says of its building code, and what that code asks of its fire and its inspections."""

from __future__ import annotations

from specgen.model.project import Component, Project
from specgen.model.source import Source
from specgen.practice.entries import Practice
from specgen.units.compare import at_least, at_most
from specgen.wall.place import Place

COVERED_COUNTRIES = ("US", "USA", "United States")
CODE_NOT_STATED = "none stated"
CODE_NOT_COVERED = "another edition"  # than those that rules know
FIRST_WITH_LEAKAGE_TEST = 2021
FOAMS = ("polyisocyanurate", "extruded polystyrene", "expanded polystyrene")
TYPE_V = ("V-A", "V-B")
NONCOMBUSTIBLE = ("I-A", "I-B", "II-A", "II-B")
BY_RISK_CATEGORY = "ASCE 7-22"  # the edition whose design storm goes by risk category, with a ponding head
DOUBLE_RATE_CODE = (
    "IBC 2021"  # the code that lets twice the hourly rate stand for that of the secondary drainage
)
FIRST_WITH_EXCEPTION = 2015  # edition of the building code
LAST_OF_ALLOWABLE_SPEED = 2018  # edition whose special inspections go by wind speed at allowable stress


def country_covered(project: Project) -> bool:
    """Whether the rules of code cover the project's country."""
    return (project.site.word("country") or "US") in COVERED_COUNTRIES


def beyond_rules(project: Project) -> str:
    """Why no rule of code covers the project, in words, or "" where rules cover its country and edition."""
    if not country_covered(project):
        return "outside US codes"
    other = project.site.word("code") == CODE_NOT_COVERED
    return "by the editions of the code known here" if other else ""


def code_of(project: Project) -> str:
    """The adopted building code, or "" if the project states none that rules know."""
    code = project.site.word("code") or ""
    return "" if code in (CODE_NOT_STATED, CODE_NOT_COVERED) else code


def edition_of(project: Project) -> int | None:
    """The year of the adopted building code, or None if none is stated that rules know."""
    year = code_of(project).removeprefix("IBC ")
    return int(year) if year.isascii() and year.isdecimal() else None


def load_standard(project: Project, practice: Practice) -> str:
    """The edition of ASCE 7 that the project names, else the one of its building code; "" if nothing tells."""
    return project.site.word("wind_standard") or standard_by_code(project, practice)[0]


def standard_by_code(project: Project, practice: Practice) -> tuple[str, Source | None]:
    """The edition of ASCE 7 that the adopted building code refers to, with its source; "" and None if none is known."""
    table = practice.table("wind_standards")
    for row in table.where(code=project.site.word("code") or ""):
        return str(row["standard"]), table.source_of(row, "standard")
    return "", None


def foam_plastic(place: Place) -> tuple[Component, ...]:
    """The layers of foam plastic."""
    return tuple(one for one in place.parapet.components() if "insulation" in one.role and one.kind in FOAMS)


def combustible(place: Place) -> tuple[Component, ...]:
    """The layers that burn: barriers, drainage layers of plastic, foam plastic."""
    barriers, drains = (place.parapet.all_of(role) for role in ("barrier", "drainage layer"))
    return (*barriers, *drains, *foam_plastic(place))


def construction_of(project: Project) -> str:
    """The type of construction, or "" if none is stated."""
    return project.building.word("construction_type") or ""


def only_the_barrier_burns(place: Place) -> bool:
    """Whether the exception holds for a barrier that is the only combustible component behind cement plaster."""
    burning = combustible(place)
    edition = edition_of(place.project)
    known = edition is None or edition >= FIRST_WITH_EXCEPTION
    return known and faced_with_plaster(place) and all(one.role == "barrier" for one in burning)


def faced_with_plaster(place: Place) -> bool:
    """Whether the outer face is plaster."""
    return place.parapet.word("outer_face") == "stucco" and place.parapet.part("plaster") is not None


def fire_tested(place: Place) -> bool | None:
    """Whether the building code asks for a wall assembly tested by NFPA 285; None where what is stated does not tell.

    Foam plastic asks for it at any height, a combustible barrier above the height of the practice entry; both in
    Types I to IV. One-story buildings are excepted by conditions that a person checks.
    """
    if not combustible(place):
        return False
    type_, height = construction_of(place.project), place.project.building.quantity("height")
    foam = bool(foam_plastic(place))
    high = (
        None if height is None else not at_most(height, place.practice.quantity("fire.combustible_barrier"))
    )
    if type_ in TYPE_V or (not foam and (high is False or only_the_barrier_burns(place))):
        return False
    if not type_ or (not foam and high is None):
        return None
    return True


def leakage_is_tested(project: Project) -> bool:
    """Whether the energy code of the same year tests the air leakage of the whole building, exceptions aside."""
    edition = edition_of(project)
    return edition is not None and edition >= FIRST_WITH_LEAKAGE_TEST


def cladding_inspected(place: Place) -> bool:
    """Whether the code asks for special inspection of the fastening of exterior cladding for earthquake."""
    building, height = place.project.building, place.project.building.quantity("height")
    limit = place.practice.quantity("inspection.cladding_height")
    high = height is not None and not at_most(height, limit)
    return high and building.word("seismic_design_category") in ("D", "E", "F")


def wall_inspected_for_wind(place: Place) -> bool:
    """Whether the code asks for special inspection of wall coverings and their connections for wind."""
    site, speed = place.project.site, place.project.site.quantity("wind_speed")
    key = "inspection.wind_b" if site.word("exposure") == "B" else "inspection.wind_cd"
    edition = edition_of(place.project)
    if edition is not None and edition <= LAST_OF_ALLOWABLE_SPEED:
        key = f"{key}_to_2018"
    return speed is not None and at_least(speed, place.practice.quantity(key))
