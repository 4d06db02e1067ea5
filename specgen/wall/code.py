"""What a project says of its building code, and what that code asks of its inspections."""

from __future__ import annotations

from specgen.model.project import Project
from specgen.model.source import Source
from specgen.practice.entries import Practice
from specgen.units.compare import at_least, at_most, computed_at_most
from specgen.units.quantity import Quantity, exactly
from specgen.wall.place import Place

COVERED_COUNTRIES = ("US", "USA", "United States")
CODE_NOT_STATED = "none stated"
CODE_NOT_COVERED = "another edition"  # than those that rules know
ASHRAE = "ASHRAE 90.1-"
FIRST_WITH_LEAKAGE_TEST = 2021  # edition of the IECC
FIRST_ASHRAE_WITH_LEAKAGE = 2016
FIRST_WITH_LOWER_LEAKAGE = 2024  # edition of the IECC
FIRST_ASHRAE_WITH_LOWER_LEAKAGE = 2022
BY_RISK_CATEGORY = "ASCE 7-22"  # the edition whose design storm goes by risk category, with a ponding head
DOUBLE_RATE_CODE = (
    "IBC 2021"  # the code that lets twice the hourly rate stand for that of the secondary drainage
)
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


def energy_standard(project: Project) -> str:
    """The energy standard that the project complies with, or "" if none is stated."""
    return project.building.word("energy_standard") or ""


def follows_ashrae(project: Project) -> bool:
    """Whether the project complies with the energy code by ASHRAE 90.1."""
    return energy_standard(project).startswith(ASHRAE)


def leakage_is_tested(project: Project) -> bool:
    """Whether the energy standard of the project asks how the air leakage of the whole building is shown.

    Where none is stated it is the IECC of the year of the building code. Exceptions are for a person to check.
    """
    if follows_ashrae(project):
        return int(energy_standard(project).removeprefix(ASHRAE)) >= FIRST_ASHRAE_WITH_LEAKAGE
    edition = edition_of(project)
    return edition is not None and edition >= FIRST_WITH_LEAKAGE_TEST


def leakage_limit(project: Project) -> str:
    """The practice key of the largest air leakage that the energy standard of the project lets a test show."""
    if follows_ashrae(project):
        later = int(energy_standard(project).removeprefix(ASHRAE)) >= FIRST_ASHRAE_WITH_LOWER_LEAKAGE
        return "air.leakage_ashrae_2022" if later else "air.leakage_ashrae"
    edition = edition_of(project)
    later = edition is not None and edition >= FIRST_WITH_LOWER_LEAKAGE
    return "air.leakage_2024" if later else "air.leakage"


def top_of_wall(place: Place) -> Quantity | None:
    """Height of the wall above grade with its parapet; None where one of the two is not stated."""
    roof, parapet = place.project.building.quantity("height"), place.parapet.quantity("height")
    return None if roof is None or parapet is None else exactly(roof.exact + parapet.exact, roof)


def cladding_inspected(place: Place) -> bool:
    """Whether the code asks for special inspection of the fastening of exterior cladding for earthquake.

    Low cladding and light cladding are excepted; what is not stated excepts nothing.
    """
    top, plaster, practice = top_of_wall(place), place.part("plaster"), place.practice
    low = top is not None and at_most(top, practice.quantity("inspection.cladding_height"))
    thickness = plaster.si("thickness") if plaster else None
    weight = None if thickness is None else practice.quantity("plaster.density").value * thickness
    light = weight is not None and computed_at_most(
        weight, practice.quantity("inspection.cladding_weight").value
    )
    return place.project.building.word("seismic_design_category") in ("D", "E", "F") and not low and not light


def wall_inspected_for_wind(place: Place) -> bool:
    """Whether the code asks for special inspection of wall coverings and their connections for wind."""
    site, speed = place.project.site, place.project.site.quantity("wind_speed")
    key = "inspection.wind_b" if site.word("exposure") == "B" else "inspection.wind_cd"
    edition = edition_of(place.project)
    if edition is not None and edition <= LAST_OF_ALLOWABLE_SPEED:
        key = f"{key}_to_2018"
    return speed is not None and at_least(speed, place.practice.quantity(key))
