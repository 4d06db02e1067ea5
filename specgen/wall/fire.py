"""What burns in a wall, and whether the building code asks for an assembly tested in accordance with NFPA 285."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from specgen.model.project import Component, Project
from specgen.units.compare import at_least, at_most
from specgen.wall.code import edition_of, top_of_wall
from specgen.wall.place import Place

FOAMS = ("polyisocyanurate", "extruded polystyrene", "expanded polystyrene")
TYPE_V = ("V-A", "V-B")
NONCOMBUSTIBLE = ("I-A", "I-B", "II-A", "II-B")
FIRST_WITH_EXCEPTIONS = 2015  # edition that excepts a barrier which burns alone
BEHIND_PLASTER = "fire.only_combustible"
LOW_HEAT_RELEASE = "fire.low_heat_release"


@dataclass(frozen=True)
class FireTest:
    """Whether the code asks for a tested wall assembly: None where something that is not stated decides.

    ``missing`` names what decides; ``exception`` is the practice entry of the exception that the wall relies on.
    """

    asked: bool | None
    missing: tuple[str, ...] = ()
    exception: str = ""


def foam_plastic(place: Place) -> tuple[Component, ...]:
    """The layers of foam plastic."""
    return tuple(one for one in place.parapet.components() if "insulation" in one.role and one.kind in FOAMS)


def combustible(place: Place) -> tuple[Component, ...]:
    """The layers that ask for a tested assembly: barriers, drainage layers of plastic, foam plastic, each by kind."""
    roles = (place.parapet.all_of("barrier"), place.parapet.all_of("drainage layer"), foam_plastic(place))
    return tuple(one for layers in roles for one in sorted(layers, key=lambda part: part.kind))


def beside_the_barrier(place: Place) -> tuple[Component, ...]:
    """What else than the barrier burns in the wall, its wood included."""
    plastic = (one for one in combustible(place) if one.role != "barrier")
    return (*plastic, *wood_in_wall(place))


def wood_in_wall(place: Place) -> tuple[Component, ...]:
    """The sheathing and the framing of wood."""
    built = (*place.parapet.all_of("sheathing"), *place.parapet.all_of("framing"))
    return tuple(one for one in built if _wood(place, one))


def _wood(place: Place, part: Component) -> bool:
    return place.kind(part).wood or part.kind == "wood studs"


def fire_treated(place: Place, role: str) -> bool:
    """Whether the wood of a role is fire-retardant-treated: as stated, else where a new wall is of Types I to IV."""
    part = place.part(role)
    if part is None or not _wood(place, part):
        return False
    stated, type_ = part.word("fire_treatment"), construction_of(place.project)
    if stated or place.parapet.existing is not None:
        return stated in place.practice.entry("fire.treatment").words()
    return type_ not in ("", *TYPE_V)


def construction_of(project: Project) -> str:
    """The type of construction, or "" if none is stated."""
    return project.building.word("construction_type") or ""


def faced_with_plaster(place: Place) -> bool:
    """Whether the outer face is plaster."""
    return place.parapet.word("outer_face") == "stucco" and place.parapet.part("plaster") is not None


def by_exception(project: Project) -> bool:
    """Whether the recorded answer on a tested assembly rests on an exception of the code."""
    return project.building.word("nfpa_285_basis") == "exception of the code"


def tested_assembly(place: Place) -> bool:
    """Whether the wall is built as a tested assembly: the code asks for it, or an answer stands where it may ask."""
    answered, asked = place.project.building.word("nfpa_285"), fire_test(place).asked
    return not by_exception(place.project) and (asked is True or (asked is None and bool(answered)))


def fire_test(place: Place) -> FireTest:
    """Whether the building code asks for a wall assembly tested in accordance with NFPA 285.

    Foam plastic asks for it at any height, a combustible barrier in a wall above the height of the practice entry
    unless an exception holds; both in Types I to IV. A person checks the conditions that except one-story buildings.
    """
    if not combustible(place):
        return FireTest(False)
    type_, foam = construction_of(place.project), bool(foam_plastic(place))
    excepted, key = _excepted(place)
    facts = {
        "building.construction_type": type_ in TYPE_V if type_ else None,
        _height_key(place): _high(place),
        key: excepted,
    }
    answers = {
        one: not one[0] and (foam or (one[1] and not one[2]))
        for one in product(*((True, False) if fact is None else (fact,) for fact in facts.values()))
    }
    if len(set(answers.values())) > 1:
        return FireTest(None, tuple(name for at, name in enumerate(facts) if _decides(at, answers)))
    relied_on = excepted and not foam and type_ not in TYPE_V and _high(place) is not False
    return FireTest(next(iter(answers.values())), exception=key if relied_on else "")


def _decides(at: int, answers: dict[tuple[bool, ...], bool]) -> bool:
    """Whether the answer turns with one of the facts, all others held."""
    return any(
        answers.get((*one[:at], not one[at], *one[at + 1 :]), answer) != answer
        for one, answer in answers.items()
    )


def _height_key(place: Place) -> str:
    return "building.height" if place.project.building.quantity("height") is None else "height"


def _high(place: Place) -> bool | None:
    """Whether the wall is higher than an untested one with a combustible barrier may be."""
    limit = place.practice.quantity("fire.combustible_barrier")
    heights = (place.project.building.quantity("height"), top_of_wall(place))
    if any(one is not None and not at_most(one, limit) for one in heights):
        return True
    return None if None in heights else False


def _excepted(place: Place) -> tuple[bool | None, str]:
    """Whether an exception for a barrier that burns alone holds, and the entry behind it, or what is not stated."""
    edition, barrier = edition_of(place.project), place.part("barrier")
    if barrier is None or beside_the_barrier(place):
        return False, BEHIND_PLASTER
    if edition is not None and edition < FIRST_WITH_EXCEPTIONS:
        return False, BEHIND_PLASTER
    holds, key = _thick_plaster(place), BEHIND_PLASTER
    if not holds and all(one.flag("low_heat_release") for one in place.parapet.all_of("barrier")):
        holds, key = True, LOW_HEAT_RELEASE
    if holds is None:
        return None, "plaster.thickness"
    return (None, "site.code") if holds and edition is None else (holds, key)


def _thick_plaster(place: Place) -> bool | None:
    """Whether the outer face is plaster as thick as the code's table of weather coverings asks for."""
    plaster = place.part("plaster")
    if plaster is None or not faced_with_plaster(place):
        return False
    stated = plaster.quantity("thickness")
    key = "fire.covering" if place.part("lath") else "fire.covering_without_lath"
    return None if stated is None else at_least(stated, place.practice.quantity(key))
