"""Limits that need more than one practice entry: tables read with the parapet's own values."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from specgen.model.project import Value
from specgen.practice.entries import cell
from specgen.units.compare import at_least, at_most
from specgen.units.quantity import Quantity, exactly
from specgen.wall import over_foam
from specgen.wall.facts import (
    HOT_METAL,
    barrier_on_wood,
    drainage_vapor_tight,
    gypsum_board,
    hot_metal_key,
    insulated_outside,
    metal_of_coping,
    on_furring,
    self_adhered,
    ventilation_counted,
)
from specgen.wall.place import Place, primer_of
from specgen.wall.site import cold_climate, near_salt_water

Found = tuple[Value, str] | None  # the limit and the practice key it came from
Lookup = Callable[[Place], Found]


def thickness_by_face(place: Place) -> Found:
    """Metal thickness from the coping's metal and the height of its outer face.

    A face higher than the table, or a metal the table does not know, has no limit here: the rule on metal
    thickness then answers unknown.
    """
    coping = place.part("coping")
    if coping is None or coping.word("metal") is None:
        return None
    face = coping.quantity("outer_face_height") or coping.quantity("outer_leg")
    if face is None:
        return None
    rows = place.practice.table("coping_thickness").where(metal=coping.word("metal"))
    for row in sorted(rows, key=lambda row: cell(row, "face_up_to").value):
        if at_most(face, cell(row, "face_up_to")):
            return cell(row, "thickness"), "table coping_thickness"
    return None


def stainless_by_salt(place: Place) -> Found:
    """Types of stainless steel, by the distance to salt water; none where that is asked for."""
    near = near_salt_water(place)
    if near is None:
        return None
    key = "coping.stainless_type_salt" if near else "coping.stainless_type"
    return place.practice.entry(key).words(), key


def finish_by_metal(place: Place) -> Found:
    """Standards of a factory-applied finish, by the metal it is on."""
    key = {"aluminum": "coping.finish_aluminum", "galvanized steel": "coping.finish_steel"}.get(
        metal_of_coping(place)
    )
    return (place.practice.entry(key).words(), key) if key else None


def leg_by_height(place: Place) -> Found:
    """Lap of the exterior face over the cladding, by the height of the building."""
    height = place.project.building.quantity("height")
    if height is None:
        return None
    for bound, key in (("coping.height_8m", "coping.leg_8m"), ("coping.height_20m", "coping.leg_20m")):
        if at_most(height, place.practice.quantity(bound)):
            return place.practice.quantity(key), key
    return place.practice.quantity("coping.leg_over"), "coping.leg_over"


def families_at_the_tape(place: Place) -> Found:
    """The material families a bridging tape joins: those on both sides of each lap it is named at."""
    tape = place.part("bridging tape")
    if tape is None:
        return None
    joined: dict[str, None] = {}
    for joint in place.parapet.transitions:
        if joint.word("tape") != tape.id:
            continue
        for end in (joint.first, joint.second):
            part = place.parapet.by_id(end)
            known = place.family(part) if part else None
            if known:
                joined[known] = None
    return (tuple(sorted(joined)), "tape.both_sides") if joined else None


def wet_film(place: Place) -> Found:
    """The wet film that dries to the film the project asks for, by the solids of the fluid."""
    barrier = place.part("barrier")
    if barrier is None:
        return None
    dry = [one for name in ("thickness", "least_thickness") if (one := barrier.quantity(name))]
    solids = barrier.quantity("solids")
    if not dry or solids is None:
        return None
    film = max(dry, key=lambda one: one.exact)
    return exactly(film.exact / solids.exact, film), "barrier.wet_film"


def drainage_depth(place: Place) -> Found:
    """Depth of the gap: more where drying by ventilation is counted on."""
    key = "drainage.ventilation_depth" if ventilation_counted(place) else "drainage.depth"
    return place.practice.quantity(key), key


def barrier_vapor_permeance(place: Place) -> Found:
    """How open the barrier is: behind a vapor-tight drainage layer, else on the cold side in a cold climate.

    With insulation outside it the barrier is not on the cold side: the limit of the cold climate does not hold.
    """
    if drainage_vapor_tight(place):
        return place.practice.quantity("barrier.vapor_open"), "barrier.vapor_open"
    if cold_climate(place) and not insulated_outside(place):
        return place.practice.quantity("vapor.class_2"), "vapor.class_2"
    return None


def rainscreen_type(place: Place) -> Found:
    """The type of drainage material by its kind; a grooved mat is of none."""
    part = place.part("drainage layer")
    key = {"mesh": "drainage.type_mesh", "dimpled sheet": "drainage.type_sheet"}.get(
        part.kind if part else ""
    )
    return (str(place.practice.entry(key).value), key) if key else None


def water_resistive_type(place: Place) -> Found:
    """The types of sheet that may serve: over wood-based sheathing one layer alone is of the better one."""
    barrier = place.part("barrier")
    one = barrier is not None and barrier.values.get("layers") == 1 and barrier_on_wood(place)
    key = "barrier.sheet_one_layer" if one else "barrier.sheet_types"
    return place.practice.entry(key).words(), key


def flashing_service_temperature(place: Place) -> Found:
    """What the membrane under metal must stand: a self-adhered one more than the metal reaches.

    The adhesive of a self-adhered sheet flows long before its carrier softens, so the trade asks for a high-temperature
    grade under any metal. A sheet that is welded, vulcanized or cured has nothing to flow: the temperature that metal of
    this color reaches is the limit, that of dark metal where no color is stated.
    """
    flashing, coping = place.part("top flashing"), place.part("coping")
    if flashing is None or coping is None:
        return None
    key = "flashing.service_temperature"
    if not self_adhered(flashing):
        key = hot_metal_key(coping)
    return place.practice.quantity(key), key


def lath_embedment(place: Place) -> Found:
    """Embedment of lath fasteners, by the framing; concrete and masonry have anchors of their own."""
    if on_furring(place):
        return None
    through = over_foam.through_foam(place)
    return _of_table(place, over_foam.LATH, "fastener") if through else _embedment(place)


def _embedment(place: Place) -> Found:
    framing = place.part("framing")
    key = {"wood studs": "lath.embedment_wood", "cold-formed steel studs": "lath.embedment_steel"}.get(
        framing.kind if framing else ""
    )
    return (place.practice.quantity(key), key) if key else None


def lath_support(place: Place) -> Found:
    """What lath is fastened into: the framing, or the furring outside the insulation."""
    key = "lath.into_furring" if on_furring(place) else "lath.into_framing"
    return place.practice.entry(key).words()[0], key


def furring_embedment(place: Place) -> Found:
    """Embedment of the furring's fasteners: in wood studs by the fastener, else as of lath."""
    return _of_table(place, over_foam.FURRING, "furring_fastener")


def _of_table(place: Place, table: str, attribute: str) -> Found:
    """The embedment in wood that a table over foam is made for; else as of lath on a wall without foam."""
    lath = place.part("lath")
    found = over_foam.embedment_in_wood(place, table, lath.word(attribute)) if lath else None
    return (found, f"table {table}") if found else _embedment(place)


def furring_spacing(place: Place) -> Found:
    """The widest spacing at which furring on studs carries this plaster over this foam; else to be designed."""
    found = over_foam.furring_spacing(place)
    return (found, f"table {over_foam.FURRING}") if found else None


def lath_spacing_over_foam(place: Place) -> Found:
    """The widest spacing at which lath fasteners carry this plaster through foam; none where an engineer answers."""
    lath = place.part("lath")
    found = over_foam.lath_spacing(place)
    named = lath is not None and lath.has("fasteners_designed_by")
    return (found, f"table {over_foam.LATH}") if found and not named else None


def cleat_one_step_heavier(place: Place) -> Found:
    """The standard thickness one step above the coping's, in the cleat's own metal (the coping's if none is stated).

    A coping thinner than every standard thickness counts as the first; above the last there is no limit here.
    """
    coping, cleat = place.part("coping"), place.part("cleat")
    if coping is None or cleat is None or coping.word("metal") is None:
        return None
    stated, metal = coping.quantity("thickness"), cleat.word("metal") or coping.word("metal")
    if stated is None:
        return None
    table = place.practice.table("standard_thickness")
    reached = [
        cell(row, "step").value
        for row in table.where(metal=coping.word("metal"))
        if at_least(stated, cell(row, "thickness"))
    ]
    wanted = max(reached, default=0.0) + 1.0
    rows = [row for row in table.where(metal=metal) if cell(row, "step").value >= wanted]
    if not rows:
        return None
    return cell(min(rows, key=lambda row: cell(row, "step").value), "thickness"), "table standard_thickness"


def sheathing_thickness(place: Place) -> Found:
    """Thickness of the sheathing, by its kind."""
    part = place.part("sheathing")
    key = "sheathing.gypsum_thickness" if part and gypsum_board(part) else "sheathing.wood_thickness"
    return place.practice.quantity(key), key


def lath_weight(place: Place) -> Found:
    """Weight of expanded metal lath; other lath is made by the size of its wire."""
    part = place.part("lath")
    expanded = part is not None and "expanded" in part.kind
    return (place.practice.quantity("lath.weight"), "lath.weight") if expanded else None


def deflection_under_plaster(place: Place) -> Found:
    """How far the top of the parapet may bend: its length as a cantilever counts twice."""
    height = place.parapet.quantity("height")
    if height is None:
        return None
    practice = place.practice
    span = height.exact * practice.quantity("structure.cantilever").exact
    limit = exactly(span / practice.quantity("structure.deflection").exact, height)
    return limit, "structure.deflection"


def _sheet_standard(role: str, place: Place) -> Found:
    """The product standards of a sheet, by its kind; a membrane that no standard of sheets covers has none."""
    part = place.part(role)
    rows = place.practice.table("product_standards").where(kind=part.kind) if part else ()
    return (tuple(str(row["standard"]) for row in rows), "table product_standards") if rows else None


def turn_up_thickness(place: Place) -> Found:
    """Thickness of a single-ply base flashing; of other membranes the manufacturer states plies or film."""
    part = place.part("roof turn-up")
    single = part is not None and part.kind in ("TPO", "PVC", "EPDM")
    return (place.practice.quantity("turnup.sheet_thickness"), "turnup.sheet_thickness") if single else None


def solvents_at_the_lap(place: Place) -> Found:
    """The solvents that leave unharmed what the primer that is looked at touches: both sides of each of its laps."""
    touched = {
        family
        for joint in place.parapet.transitions
        if not place.layer or primer_of(joint) == place.layer
        for end in (joint.first, joint.second)
        if (part := place.parapet.by_id(end)) and primer_of(joint) and (family := place.family(part))
    }
    table = place.practice.table("solvents")
    harmful = {row["solvent"] for row in table.rows if row["family"] in touched and row["effect"] != "none"}
    known = place.practice.vocabulary.roles["primer"].fields["solvent"].choices
    return tuple(one for one in known if one not in harmful), "table solvents"


def _on_a_curve(key: str, place: Place) -> Found:
    """A limit of the panels of a plastered face that is curved in plan."""
    return (place.practice.quantity(key), key) if place.parapet.has("radius") else None


LOOKUPS: Mapping[str, Lookup] = {
    "panel on a curve": partial(_on_a_curve, "plaster.curve_panel"),
    "panel area on a curve": partial(_on_a_curve, "plaster.curve_panel_area"),
    "standard of the top flashing": partial(_sheet_standard, "top flashing"),
    "standard of the base flashing": partial(_sheet_standard, "roof turn-up"),
    "base flashing thickness": turn_up_thickness,
    "sheathing thickness": sheathing_thickness,
    "cleat one step heavier": cleat_one_step_heavier,
    "deflection under plaster": deflection_under_plaster,
    "drainage depth": drainage_depth,
    "barrier vapor permeance": barrier_vapor_permeance,
    "water-resistive type": water_resistive_type,
    "rainscreen type": rainscreen_type,
    "flashing service temperature": flashing_service_temperature,
    "lath weight by kind": lath_weight,
    "lath embedment by framing": lath_embedment,
    "lath support": lath_support,
    "furring embedment": furring_embedment,
    "furring spacing over foam": furring_spacing,
    "lath spacing over foam": lath_spacing_over_foam,
    "coping thickness by face": thickness_by_face,
    "stainless type by salt": stainless_by_salt,
    "finish by metal": finish_by_metal,
    "coping leg by height": leg_by_height,
    "families at the tape": families_at_the_tape,
    "wet film by solids": wet_film,
    "solvents at the lap": solvents_at_the_lap,
}

# The practice entries and tables a lookup chooses from.
LOOKUP_KEYS: Mapping[str, tuple[str, ...]] = {
    "panel on a curve": ("plaster.curve_panel",),
    "panel area on a curve": ("plaster.curve_panel_area",),
    "coping thickness by face": ("table coping_thickness",),
    "stainless type by salt": ("coping.stainless_type", "coping.stainless_type_salt"),
    "finish by metal": ("coping.finish_aluminum", "coping.finish_steel"),
    "standard of the top flashing": ("table product_standards",),
    "standard of the base flashing": ("table product_standards",),
    "base flashing thickness": ("turnup.sheet_thickness",),
    "cleat one step heavier": ("table standard_thickness",),
    "families at the tape": ("tape.both_sides",),
    "wet film by solids": ("barrier.wet_film",),
    "solvents at the lap": ("table solvents",),
    "sheathing thickness": ("sheathing.gypsum_thickness", "sheathing.wood_thickness"),
    "deflection under plaster": ("structure.deflection",),
    "drainage depth": ("drainage.depth", "drainage.ventilation_depth"),
    "barrier vapor permeance": ("barrier.vapor_open", "vapor.class_2"),
    "rainscreen type": ("drainage.type_mesh", "drainage.type_sheet"),
    "water-resistive type": ("barrier.sheet_types", "barrier.sheet_one_layer"),
    "flashing service temperature": (
        "flashing.service_temperature",
        *HOT_METAL.values(),
    ),
    "lath weight by kind": ("lath.weight",),
    "lath embedment by framing": ("lath.embedment_wood", "lath.embedment_steel", "table lath_over_foam"),
    "lath support": ("lath.into_framing", "lath.into_furring"),
    "furring embedment": ("table furring_over_foam", "lath.embedment_wood", "lath.embedment_steel"),
    "furring spacing over foam": ("table furring_over_foam",),
    "lath spacing over foam": ("table lath_over_foam",),
    "coping leg by height": ("coping.leg_8m", "coping.leg_20m", "coping.leg_over"),
}


def lap(place: Place, upper: str, role: str) -> tuple[Quantity, str] | None:
    """The lap the project states of one component over another, with the place it is written."""
    part, other = place.part(upper), place.part(role)
    if part is None or other is None:
        return None
    for joint in place.parapet.between(part, other):
        stated = joint.quantity("lap")
        if stated is not None and joint.states("lap"):
            return stated, str(joint.at("lap"))
    return None
