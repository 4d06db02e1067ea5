"""The named conditions of a wall, each once: catalogue and clauses ask them by name in ``when``, rules as functions.

A condition looks at one :class:`~specgen.wall.place.Place`. Where a parapet has several layers of a role it is about
the layer that is looked at; what is about the wall as a whole looks at all of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from specgen.model.project import Component, Project
from specgen.units.compare import at_most
from specgen.units.quantity import Quantity
from specgen.wall.answers import ANSWERS
from specgen.wall.order import lapping_screed, outer_side, outside_of, roof_side
from specgen.wall.place import Place
from specgen.wall.site import snow_above_people
from specgen.wall.specified import left_open

Condition = Callable[[Place], bool]

SOLID = ("concrete", "concrete masonry")
STONE = ("stone", "precast concrete")
WRAPS = ("mechanically fastened", "woven wrap", "reinforced wrap")
TREATED = "preservative-treated wood"
SURFACES = ("above_roof", "above_earth", "above_paving")
METALS = ("aluminum", "galvanized steel", "stainless steel", "copper", "zinc")
DRIP_SCREED = "drip screed"
BITUMINOUS = ("SBS bitumen", "oxidised asphalt")
HOT_METAL = {
    "dark": "movement.hot_metal",
    "medium": "movement.hot_metal_medium",
    "light": "movement.hot_metal_light",
}


def method_of(project: Project, group: str) -> str:
    """``performance`` or ``prescriptive`` for a group of attributes; "" where the project leaves it open."""
    return project.info.word(f"method_{group}") or project.info.word("method") or ""


# Kinds


def solid(part: Component) -> bool:
    """Whether a component is cast concrete or concrete masonry."""
    return part.kind in SOLID


def gypsum_board(part: Component) -> bool:
    """Whether a component is sheathing of gypsum."""
    return part.role == "sheathing" and part.kind == "glass-mat gypsum"


def studs(part: Component) -> bool:
    """Whether a component is framing that is open between its members."""
    return part.role == "framing" and part.kind.endswith("studs")


def wood_studs(part: Component) -> bool:
    """Whether a component is framing of wood."""
    return part.role == "framing" and part.kind == "wood studs"


def self_adhered(part: Component) -> bool:
    """Whether a component is a sheet held by its own adhesive."""
    return part.kind.startswith("self-adhered")


def plaster_covered(coping: Component) -> bool:
    """Whether a top is covered with plaster."""
    return coping.kind == "plaster-covered"


def filled(part: Component) -> str:
    """What fills the cavity between studs; "" where nothing does."""
    word = part.word("cavity") if part.has("cavity") else None
    return "" if word in (None, "empty") else str(word)


def hot_metal_key(coping: Component) -> str:
    """The practice key of what metal of the coping's color reaches under the sun; dark where no color is stated."""
    return HOT_METAL[coping.word("color") or "dark"]


def carries(place: Place, part: Component, layer: str) -> bool:
    """Whether a component carries a control layer: by its kind, or because no other of its role on its side does."""
    role = place.practice.vocabulary.roles[part.role]
    outer = outer_side(place.parapet, part.role)
    side = outer if part in outer else roof_side(place.parapet, part.role)
    return layer in role.layers_of(part.kind) or not any(layer in role.layers_of(one.kind) for one in side)


def vapor_tight(place: Place, part: Component) -> bool | None:
    """Whether a component is a class I vapor retarder; None where what is known of its permeance does not tell.

    Its own stated value counts, else that of its generic material in the table of materials.
    """
    limit, stated = place.practice.quantity("vapor.class_1"), part.stated("vapor_permeance")
    if stated is None:
        rows = place.practice.table("materials").where(role=part.role, kind=part.kind)
        known = rows[0]["permeance"] if rows else None
        return at_most(known, limit) if isinstance(known, Quantity) else None
    least, most = stated.ends
    if most is not None and at_most(most, limit):
        return True
    return False if least is not None and not at_most(least, limit) else None


# The wall


def solid_framing(place: Place) -> bool:
    """Whether the parapet has no cavity: its framing is concrete or masonry."""
    return any(solid(part) for part in place.parapet.all_of("framing"))


def solid_wall(place: Place) -> bool:
    """Whether sheathing or framing is concrete or masonry."""
    return solid_framing(place) or any(solid(part) for part in place.parapet.all_of("sheathing"))


def sheathing_board(place: Place) -> bool:
    """Whether the sheathing is a board and not the wall itself."""
    return any(not solid(part) for part in place.parapet.all_of("sheathing"))


def barrier_on_wood(place: Place) -> bool:
    """Whether the barrier stands on wood-based sheathing."""
    kind = place.kind_of("sheathing")
    return kind is not None and kind.wood


def barrier_on_concrete(place: Place) -> bool:
    """Whether the barrier stands on concrete or masonry: on solid sheathing, or on solid framing without a board."""
    boards = place.parapet.all_of("sheathing")
    return all(solid(part) for part in boards) if boards else solid_framing(place)


def insulated_outside(place: Place) -> bool:
    """Whether insulation stands outside the barrier, between it and the outer face."""
    return outside_of(place.parapet, place.part("barrier"), "insulation")


def on_furring(place: Place) -> bool:
    """Whether the lath stands on furring outside the insulation."""
    lath = place.part("lath")
    return insulated_outside(place) and lath is not None and lath.word("over_insulation") == "furring"


def plastered(place: Place) -> bool:
    """Whether a face of the parapet is plaster."""
    faces = (place.parapet.word("outer_face"), place.parapet.word("inner_face"))
    return "stucco" in faces or place.parapet.part("plaster") is not None


def vapor_tight_drainage(place: Place) -> tuple[Component, ...]:
    """The drainage layers of the outer face that are class I vapor retarders as described: by value, or by kind."""
    return tuple(
        part for part in outer_side(place.parapet, "drainage layer") if _described_tight(place, part)
    )


def _described_tight(place: Place, part: Component) -> bool:
    tight = vapor_tight(place, part) if part.has("vapor_permeance") else None
    return place.kind(part).vapor_class_1 if tight is None else tight


def drainage_vapor_tight(place: Place) -> bool:
    """Whether a drainage layer of the outer face is a class I vapor retarder."""
    return bool(vapor_tight_drainage(place))


def needs_vapor_tight(place: Place) -> bool:
    """Whether vapor condenses behind an open layer; a more open layer that meets the stated limit is left as it is.

    Without a stated limit the rule of thumb asks for a class I layer; with one the calculation says how open. Where the
    calculation has no answer, a layer that the project describes as vapor-tight stays so, and one of which a product
    states only a bound is held against it.
    """
    calculation = place.calculations.get("vapor drive")
    needed = calculation.verdict("needs_vapor_tight") if calculation else None
    if calculation is None or needed is None:
        layers = outer_side(place.parapet, "drainage layer")
        return drainage_vapor_tight(place) or any("vapor_permeance" in part.bounds for part in layers)
    if needed == "no":
        return False
    return drainage_vapor_tight(place) or calculation.verdict("limit_met") != "yes"


def hours_hold(place: Place) -> bool:
    """Whether the criterion holds in every cut of a kept hourly result; those that are stale are left out before."""
    kept = place.project.hourly.get(place.parapet.name)
    return kept is not None and all(cut.holds for cut in kept.cuts)


def drainage_by_efficiency(place: Place) -> bool:
    """Whether the drainage layer is specified by efficiency: chosen, or stated alone where nothing is chosen."""
    chosen = method_of(place.project, "drainage")
    if chosen:
        return chosen == "performance"
    layer = place.part("drainage layer")
    return layer is not None and layer.states("drainage_efficiency") and not layer.states("depth")


def ventilation_counted(place: Place) -> bool:
    """Whether the project counts on drying by ventilation of the drainage gap."""
    return place.parapet.flag("ventilated_drying") is True


def coping_metal(place: Place) -> bool:
    """Whether the coping is made of metal."""
    kind = place.kind_of("coping")
    return kind is not None and kind.metal


def metal_of_coping(place: Place) -> str:
    """The metal of the coping; "" where it is of another material, or none is stated."""
    part = place.part("coping")
    return (part.word("metal") or "") if part is not None and coping_metal(place) else ""


def coping_dark(place: Place) -> bool:
    """Whether the coping is dark metal under the sun; metal of a color that is not stated is taken as dark."""
    part = place.part("coping")
    return part is not None and coping_metal(place) and hot_metal_key(part) == HOT_METAL["dark"]


def coping_stone(place: Place) -> bool:
    """Whether the coping is made of stone or precast concrete."""
    part = place.part("coping")
    return part is not None and part.kind in STONE


def turn_up_bituminous(place: Place) -> bool:
    """Whether the roof membrane on the parapet is bituminous."""
    kind = place.kind_of("roof turn-up")
    return kind is not None and kind.family in BITUMINOUS


def _not_by_performance(group: str) -> Condition:
    return lambda place: method_of(place.project, group) != "performance"


def _kind_is(role: str, kind: str) -> Condition:
    return lambda place: (part := place.part(role)) is not None and part.kind == kind


def _coping_is(*metals: str) -> Condition:
    return lambda place: metal_of_coping(place) in metals


def _both(one: str, other: str) -> Condition:
    return lambda place: place.part(one) is not None and place.part(other) is not None


def _listed(records: str, field: str = "", word: str = "") -> Condition:
    """Whether the parapet lists a corner, an end, a scupper, a penetration (of which a value reads ``word``)."""
    return lambda place: any(not field or one.word(field) == word for one in getattr(place.parapet, records))


def _heads_without_overflow(place: Place) -> bool:
    heads = (one for one in place.parapet.scuppers if one.word("outlet") == "conductor head")
    return any(one.flag("head_overflow") is not True for one in heads)


def _barrier_bonded(place: Place) -> bool:
    kind = place.kind_of("barrier")
    return kind is not None and kind.bonded


def _coping_not_plaster(place: Place) -> bool:
    part = place.part("coping")
    return part is not None and not plaster_covered(part)


def _barrier_carries_air(place: Place) -> bool:
    part = place.part("barrier")
    return part is not None and carries(place, part, "air")


def _lath_not_self_furred(place: Place) -> bool:
    lath = place.part("lath")
    return lath is not None and not lath.kind.startswith("self-furred")


def _finish_not_cement(place: Place) -> bool:
    plaster = place.part("plaster")
    return plaster is not None and plaster.word("finish") in ("acrylic finish", "elastomeric coating")


def _returns(place: Place) -> bool:
    """Whether the plaster returns into a horizontal face, or nobody has stated yet that it does not."""
    plaster = place.part("plaster")
    if plaster is None or plaster.word("return_edge") == DRIP_SCREED:
        return False
    return plaster.flag("horizontal_return") is True or left_open(place, plaster, "horizontal_return")


def _stands_above(surface: str) -> Condition:
    """Whether the weep screed stands above a surface, or nobody has stated yet above which it stands."""

    def stands(place: Place) -> bool:
        screed = place.part("weep screed")
        open_ = screed is not None and left_open(place, screed, *SURFACES, "nothing_below")
        return open_ or (screed is not None and screed.has(surface))

    return stands


def _laps_screed(place: Place) -> bool:
    """Whether the barrier that is looked at is the one in front of the flange of the weep screed."""
    part = place.part("barrier")
    return (
        part is not None and bool(place.parapet.part("weep screed")) and part is lapping_screed(place.parapet)
    )


def _word_is(role: str, name: str, value: str | bool) -> Condition:
    return lambda place: (part := place.part(role)) is not None and part.values.get(name) == value


def _screed_metal(place: Place) -> bool:
    part = place.part("weep screed")
    return part is not None and place.family(part) in METALS


CONDITIONS: Mapping[str, Condition] = {
    "wall": lambda place: any(True for _ in place.parapet.components()),
    "existing": lambda place: place.parapet.existing is not None,
    "repairs": lambda place: place.parapet.existing is not None and bool(place.parapet.existing.repairs),
    "corners": _listed("corners"),
    "inside corners": _listed("corners", "turn", "inside"),
    "outside corners": _listed("corners", "turn", "outside"),
    "ends": _listed("ends"),
    "steps": _listed("steps"),
    "building joints": _listed("joints"),
    "penetrations": _listed("penetrations"),
    "lightning conductors": _listed("penetrations", "what", "lightning conductor"),
    "davits": _listed("penetrations", "what", "davit"),
    "fall-protection anchors": _listed("penetrations", "what", "fall-protection anchor"),
    "snow above people": snow_above_people,
    "hours hold": hours_hold,
    "curved plan": lambda place: place.parapet.has("radius"),
    "coping is in segments": _word_is("coping", "on_curve", "straight segments"),
    "scuppers": _listed("scuppers"),
    "overflow scuppers": _listed("scuppers", "use", "overflow"),
    "conductor heads": _listed("scuppers", "outlet", "conductor head"),
    "conductor heads without overflow openings": _heads_without_overflow,
    "sheathing is a board": sheathing_board,
    "solid framing": solid_framing,
    "wall is plastered": plastered,
    "solid wall": solid_wall,
    "outside insulation": insulated_outside,
    "film is prescriptive": _not_by_performance("film"),
    "fastening is prescriptive": _not_by_performance("fastening"),
    "roof turn-up is bituminous": turn_up_bituminous,
    "coping is stone or precast": coping_stone,
    "blocking is treated": _kind_is("blocking", TREATED),
    "blocking is plywood": _kind_is("blocking", "plywood"),
    "barrier is fluid-applied": _kind_is("barrier", "fluid-applied"),
    "barrier stands on wood": barrier_on_wood,
    "lath behind the plaster": _both("lath", "plaster"),
    "lath over a drainage layer": _both("lath", "drainage layer"),
    "lath is fastened through the barrier": _both("lath", "barrier"),
    "lath stands on furring": on_furring,
    "lath is not self-furred": _lath_not_self_furred,
    "lath is expanded metal": lambda place: bool((part := place.part("lath")) and "expanded" in part.kind),
    "barrier stands on concrete": barrier_on_concrete,
    "barrier stands on a board": lambda place: not barrier_on_concrete(place),
    "finish is not cement": _finish_not_cement,
    "plaster returns into a horizontal face": _returns,
    "barrier is bonded": _barrier_bonded,
    "barrier is a fastened sheet": lambda at: at.part("barrier") is not None and not _barrier_bonded(at),
    "top flashing is self-adhered": lambda at: bool((one := at.part("top flashing")) and self_adhered(one)),
    "bridging tape is self-adhered": lambda place: (
        (part := place.part("bridging tape")) is not None and part.kind != "silicone sheet"
    ),
    "top flashing is fluid-applied": _kind_is("top flashing", "fluid-applied"),
    "barrier is a wrap": lambda place: (part := place.part("barrier")) is not None and part.kind in WRAPS,
    "coping is fastened through": _word_is("coping", "exposed_fasteners", True),
    "flat top is fastened through": _word_is("top flashing", "fasteners_through", True),
    "primer is described": lambda place: any(
        one.has("solvent") or one.has("flash_off") for one in place.parapet.transitions
    ),
    "barrier carries air": _barrier_carries_air,
    "drainage layer is mesh": _kind_is("drainage layer", "mesh"),
    "drainage by depth": lambda place: not drainage_by_efficiency(place),
    "drainage by efficiency": drainage_by_efficiency,
    "coping is metal": coping_metal,
    "coping is dark metal": coping_dark,
    "coping is aluminum": _coping_is("aluminum"),
    "coping is stainless steel": _coping_is("stainless steel"),
    "coping is galvanized steel": _coping_is("galvanized steel"),
    "coping is copper": _coping_is("copper"),
    "coping is factory coated": _coping_is("aluminum", "galvanized steel"),
    "coping has no anchors": lambda place: place.part("coping") is not None and not coping_stone(place),
    "coping is not plaster": _coping_not_plaster,
    **ANSWERS,
    "weep screed is metal": _screed_metal,
    "barrier laps over a weep screed": _laps_screed,
    "weep screed stands above a roof": _stands_above("above_roof"),
    "weep screed stands above earth": _stands_above("above_earth"),
    "weep screed stands above paving": _stands_above("above_paving"),
}
# Asked by the catalogue alone: a clause is printed without calculations, and follows the requirement.
CALCULATED: Mapping[str, Condition] = {"inward drive needs a vapor-tight drainage layer": needs_vapor_tight}
