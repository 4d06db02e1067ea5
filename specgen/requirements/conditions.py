"""When a requirement applies: named conditions on one parapet, used by the catalogue's ``when``."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from specgen.model.calculation import Calculation
from specgen.model.project import Component, Parapet, Project, Record
from specgen.practice.entries import Kind, Practice


@dataclass(frozen=True)
class Place:
    """One parapet with what has been calculated for it."""

    project: Project
    parapet: Parapet
    practice: Practice
    calculations: Mapping[str, Calculation]  # by subject

    def kind(self, role: str) -> Kind | None:
        """What is known of the generic kind of the first component with this role."""
        part = self.parapet.part(role)
        return self.practice.kind(role, part.kind) if part else None

    def has(self, role: str, name: str) -> bool:
        """Whether a component with this role gives this value."""
        part = self.parapet.part(role)
        return part is not None and part.has(name)


def family(practice: Practice, part: Component) -> str | None:
    """The material family of a component: its own, or that of its generic kind; None if neither is known."""
    return part.word("family") if part.has("family") else practice.kind(part.role, part.kind).family or None


Condition = Callable[[Place], bool]


def part_of(parapet: Parapet, role: str) -> Component | None:
    """The first component with a role; for what is no layer of its own, the place or the joint that stands for it."""
    listed = parapet.part(role)
    if listed is not None:
        return listed
    match role:
        case "scupper":
            found = next(iter(parapet.scuppers), None)
            return None if found is None else _stands_for(role, found, "flanged sleeve")
        case "penetration flashing":
            found = next(iter(parapet.penetrations), None)
            return None if found is None else _stands_for(role, found, "penetration flashing")
        case "joint sealant" if parapet.part("coping") or parapet.part("plaster"):
            return Component(role, {}, {}, parapet.mark, role, "elastomeric")
    return None


def stated_for(parapet: Parapet, part: Component) -> tuple[Record, ...]:
    """Where the project states values of a part: in itself, or in every place that it stands for."""
    places = {"scupper": parapet.scuppers, "penetration flashing": parapet.penetrations}
    return (part,) if parapet.part(part.role) else places.get(part.role, (part,))


def _stands_for(role: str, record: Record, kind: str) -> Component:
    return Component(role, record.values, record.marks, record.mark, record.word("name") or role, kind)


def method_of(project: Project, group: str) -> str:
    """``performance`` or ``prescriptive`` for a group of attributes; "" where the project leaves it open."""
    return project.info.word(f"method_{group}") or project.info.word("method") or ""


def _not_by_performance(group: str) -> Condition:
    return lambda place: method_of(place.project, group) != "performance"


def _overflow_scupper(place: Place) -> bool:
    return any(one.word("use") == "overflow" for one in place.parapet.scuppers)


def sheathing_board(place: Place) -> bool:
    """Whether the sheathing is a board and not the wall itself."""
    part = place.parapet.part("sheathing")
    return part is not None and part.kind in ("glass-mat gypsum", "plywood", "OSB")


def _barrier_bonded(place: Place) -> bool:
    kind = place.kind("barrier")
    return kind is not None and kind.bonded


def drainage_vapor_tight(place: Place) -> bool:
    """Whether the drainage layer as described is a class I vapor retarder: by its kind, or by its value."""
    part, kind = place.parapet.part("drainage layer"), place.kind("drainage layer")
    if part is None or kind is None:
        return False
    permeance = part.si("vapor_permeance")
    if permeance is not None:
        return permeance <= place.practice.quantity("vapor.class_1").value * (1 + 1e-9)
    return kind.vapor_class_1


def _needs_vapor_tight(place: Place) -> bool:
    """Whether vapor condenses behind an open layer; a more open layer that meets the stated limit is left as it is.

    Without a stated limit the rule of thumb asks for a class I layer; with one the calculation says how open. A layer
    that the project describes as vapor-tight stays so where the calculation has no answer.
    """
    calculation = place.calculations.get("vapor drive")
    needed = calculation.verdict("needs_vapor_tight") if calculation else None
    if calculation is None or needed is None:
        return drainage_vapor_tight(place)
    if needed == "no":
        return False
    return drainage_vapor_tight(place) or calculation.verdict("limit_met") != "yes"


def _coping_metal(place: Place) -> bool:
    kind = place.kind("coping")
    return kind is not None and kind.metal


def _coping_dark(place: Place) -> bool:
    part = place.parapet.part("coping")
    return _coping_metal(place) and part is not None and part.word("color") in (None, "dark")


def _coping_not_plaster(place: Place) -> bool:
    part = place.parapet.part("coping")
    return part is not None and part.kind != "plaster-covered"


def _mesh(place: Place) -> bool:
    part = place.parapet.part("drainage layer")
    return part is not None and part.kind == "mesh"


def drainage_by_efficiency(place: Place) -> bool:
    """Whether the drainage layer is specified by efficiency: chosen, or stated alone where nothing is chosen."""
    chosen = method_of(place.project, "drainage")
    if chosen:
        return chosen == "performance"
    return place.has("drainage layer", "drainage_efficiency") and not place.has("drainage layer", "depth")


def ventilation_counted(place: Place) -> bool:
    """Whether the project counts on drying by ventilation of the drainage gap."""
    return place.parapet.flag("ventilated_drying") is True


def cold_climate(place: Place) -> bool:
    """Whether the site lies in a climate zone with a cold winter; False too where no zone is stated."""
    zone = place.project.site.word("climate_zone")
    return zone is not None and zone in place.practice.entry("climate.cold_zones").words()


def insulated_outside(place: Place) -> bool:
    """Whether insulation stands outside the barrier, between it and the outer face."""
    order = [part.role for part in place.parapet.build_up]
    return "barrier" in order and "insulation" in order[: order.index("barrier")]


def barrier_on_wood(place: Place) -> bool:
    """Whether the barrier stands on wood-based sheathing."""
    kind = place.kind("sheathing")
    return kind is not None and kind.wood


def _lath_and(role: str) -> Condition:
    return lambda place: place.parapet.part("lath") is not None and place.parapet.part(role) is not None


def _lath_not_self_furred(place: Place) -> bool:
    lath = place.parapet.part("lath")
    return lath is not None and not lath.kind.startswith("self-furred")


def _finish_not_cement(place: Place) -> bool:
    plaster = place.parapet.part("plaster")
    return plaster is not None and plaster.word("finish") in ("acrylic finish", "elastomeric coating")


def _returns(place: Place) -> bool:
    plaster = place.parapet.part("plaster")
    return plaster is not None and plaster.flag("horizontal_return") is True


def _barrier_fluid(place: Place) -> bool:
    barrier = place.parapet.part("barrier")
    return barrier is not None and barrier.kind == "fluid-applied"


def turn_up_bituminous(place: Place) -> bool:
    """Whether the roof membrane on the parapet is bituminous."""
    kind = place.kind("roof turn-up")
    return kind is not None and kind.family in ("SBS bitumen", "oxidised asphalt")


def coping_stone(place: Place) -> bool:
    """Whether the coping is made of stone or precast concrete."""
    part = place.parapet.part("coping")
    return part is not None and part.kind in ("stone", "precast concrete")


def _blocking_is(kind: str) -> Condition:
    def of_kind(place: Place) -> bool:
        part = place.parapet.part("blocking")
        return part is not None and part.kind == kind

    return of_kind


CONDITIONS: Mapping[str, Condition] = {
    "an overflow scupper is listed": _overflow_scupper,
    "sheathing is a board": sheathing_board,
    "film is prescriptive": _not_by_performance("film"),
    "fastening is prescriptive": _not_by_performance("fastening"),
    "roof turn-up is bituminous": turn_up_bituminous,
    "coping is stone or precast": coping_stone,
    "blocking is treated": _blocking_is("preservative-treated wood"),
    "blocking is plywood": _blocking_is("plywood"),
    "barrier is fluid-applied": _barrier_fluid,
    "barrier stands on wood": barrier_on_wood,
    "lath behind the plaster": _lath_and("plaster"),
    "lath over a drainage layer": _lath_and("drainage layer"),
    "lath is fastened through the barrier": _lath_and("barrier"),
    "lath is not self-furred": _lath_not_self_furred,
    "finish is not cement": _finish_not_cement,
    "plaster returns into a horizontal face": _returns,
    "barrier is bonded": _barrier_bonded,
    "drainage layer is mesh": _mesh,
    "drainage by depth": lambda place: not drainage_by_efficiency(place),
    "drainage by efficiency": drainage_by_efficiency,
    "inward drive needs a vapor-tight drainage layer": _needs_vapor_tight,
    "coping is metal": _coping_metal,
    "coping is dark metal": _coping_dark,
    "coping has no anchors": lambda place: (
        place.parapet.part("coping") is not None and not coping_stone(place)
    ),
    "coping is not plaster": _coping_not_plaster,
    "weep screed stands above a roof": lambda place: place.has("weep screed", "above_roof"),
    "weep screed stands above earth": lambda place: place.has("weep screed", "above_earth"),
    "weep screed stands above paving": lambda place: place.has("weep screed", "above_paving"),
}
