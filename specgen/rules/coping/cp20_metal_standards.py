"""CP20: the sheet of a metal coping and its finish are those of their standards.

Holds alloy and temper of aluminum, type of stainless steel, metallic coating of steel, temper of copper, and the standard
of the factory finish, as far as they are stated; what is not stated is left to the sections. Near salt water stainless
steel is of a type that salt does not pit; on a coast the distance is asked for (`site.salt_water_distance`).

Right::

    - role: coping
      kind: formed metal
      metal: aluminum
      alloy: 3105-H14
      finish_standard: AAMA 2605

Wrong::

    - role: coping
      kind: formed metal
      metal: aluminum
      alloy: 1100-H14
      finish_standard: AAMA 2603
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import Held, each_layer, rule_of
from specgen.rules.rule import RuleResult, not_applicable, unknown
from specgen.rules.wall import Wall
from specgen.wall.facts import metal_of_coping
from specgen.wall.site import near_salt_water

RULE = rule_of(
    "coping.alloy",
    "coping.stainless_type",
    "coping.metallic_coating",
    "coping.copper_temper",
    "coping.finish_standard",
    name="metal and finish by their standards",
    severity=Severity.RISK,
    remedy="Order the sheet in an alloy, type, temper, or coating made for a coping, and a finish that is warranted.",
    reason="A sheet of another alloy or coating cracks, dents, or corrodes where the thickness alone looks right.",
    basis=(
        "coping.alloy",
        "coping.stainless_type",
        "coping.stainless_type_salt",
        "coping.metallic_coating",
        "coping.copper_temper",
        "coping.finish_aluminum",
        "coping.finish_steel",
        "site.salt_water",
    ),
)
HELD = {
    "aluminum": Held(("coping.alloy", "coping.finish_standard"), if_stated=True),
    "galvanized steel": Held(("coping.metallic_coating", "coping.finish_standard"), if_stated=True),
    "stainless steel": Held(("coping.stainless_type",), if_stated=True),
    "copper": Held(("coping.copper_temper",), if_stated=True),
}


@each_layer("coping")
def check(wall: Wall, coping: Component) -> Iterator[RuleResult]:
    """What holds for the coping's metal; the distance to salt water where stainless steel depends on it."""
    metal = metal_of_coping(wall)
    if metal not in HELD:
        yield not_applicable("no metal with a standard for its sheet is described")
    elif metal == "stainless steel" and near_salt_water(wall) is None:
        message = "the distance to salt water is not stated; the type of the stainless steel depends on it"
        mark, basis = coping.at("metal"), ("coping.stainless_type_salt", "site.salt_water")
        yield unknown(message, "add `site.salt_water_distance`", mark, coping.id, basis=basis)
    else:
        yield from HELD[metal].at(wall, coping)
