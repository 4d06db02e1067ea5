"""VD01: the inward vapor drive is answered.

Sun on wet plaster drives vapor inward, and the roof membrane on the back of the parapet does not let it out.
Passes where the drainage layer is a class I vapor retarder. Otherwise the project states how much condensate
it accepts and who says so, and the calculation `vapor drive` must stay within that limit. A kept hourly result that holds
for the wall governs: a failure that it does not bear out stays told as a question.

Right::

    - role: drainage layer
      kind: dimpled sheet

Wrong::

    - role: drainage layer
      kind: mesh
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.requirements.catalogue_file import Beside
from specgen.requirements.weigh import of_rule
from specgen.rules.hold import hold
from specgen.rules.hourly.kept import governed
from specgen.rules.remedy import DRAINAGE, Known, Remedy, SetKind, SetValue
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.quantity import quantity, to_unit
from specgen.wall.facts import vapor_tight_drainage
from specgen.wall.order import outer_side

RULE = Rule(
    name="inward vapor drive",
    severity=Severity.DEFECT,
    applies_to="drainage layer",
    reason="Vapor driven inward condenses on the back of the roof membrane, and cannot dry there.",
    basis=("vapor.inward_drive", "vapor.class_1"),
    remedy="Use a dimpled sheet or another class I drainage layer, or meet a stated condensate limit by calculation. "
    "A sheet of plastic ends the code's exception for a barrier that is the only combustible component. "
    "State `condensate_limit` with its source.",
    options=(Option("vapor-tight", "vapor.class_1", "most vapor a class I layer lets through"),),
)
REMEDIES: tuple[Remedy, ...] = (
    (DRAINAGE, SetKind("drainage layer", "dimpled sheet")),
    (
        DRAINAGE,
        SetKind("drainage layer", "dimpled sheet"),
        SetValue("barrier", "vapor_permeance", Known("barrier.vapor_open")),
    ),
)
SUBJECT = "vapor drive"
RESERVOIR = Beside(
    "plaster reservoir.fills",
    "the rain of the year or event fills the plaster:",
    "the rule of thumb governs the design state, a typical year holds no extremes",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """A vapor-tight drainage layer, or a limit with a source that the calculation meets."""
    layer, name = wall.part("drainage layer"), "vapor_permeance"
    stated = layer.stated(name) if layer else None
    asked = wall.requirement(f"drainage.{name}", layer) if stated else None
    if layer and stated and stated.sense and asked:  # a product's bound decides as far as it goes
        yield governed(wall, hold(wall, asked.name, layer))
        return
    for one in _answers(wall):
        held = replace(one, requirement=asked.id, attribute=name) if asked and one.layer else one
        yield governed(wall, held)


def _answers(wall: Wall) -> Iterator[RuleResult]:
    if not wall.plastered:
        yield not_applicable("no face of the parapet is plaster")
        return
    parapet = wall.parapet
    tight = next(iter(vapor_tight_drainage(wall)), None)
    if tight:
        yield ok("the drainage layer is a class I vapor retarder", tight.at("vapor_permeance"), tight.id)
        return
    outer = outer_side(parapet, "drainage layer")
    layer = next(iter(outer), None)
    where = "an outer face" if wall.part("drainage layer") else "a wall"
    what = f"{where} without drainage layer lets vapor through"
    if layer:
        kinds = " and ".join(dict.fromkeys(one.kind for one in outer))
        what = f"the drainage layer ({kinds}) lets vapor through"
    mark, layer_id = (layer.mark, layer.id) if layer else (None, "")
    limit = parapet.quantity("condensate_limit")
    if limit is None:
        message = f"{what}, and no condensate limit is stated{_calculated(wall)}"
        yield fail(message, mark, layer_id, because=_soaked(wall), without=("drainage layer",))
    elif not parapet.has("condensate_limit_source"):
        message = f"condensate limit of {limit.text} has no source"
        missing = f"parapet `{parapet.name}`: add `condensate_limit_source`"
        yield unknown(message, missing, parapet.at("condensate_limit"), layer_id)
    else:
        yield _by_calculation(wall, f"{what}; condensate limit {limit.text}", layer_id, limit.unit)


def _soaked(wall: Wall) -> tuple[str, ...]:
    return of_rule(wall, "vapor.inward_drive", "the plaster is taken as soaked", RESERVOIR)


def _by_calculation(wall: Wall, what: str, layer_id: str, unit: str) -> RuleResult:
    mark = wall.parapet.at("condensate_limit")
    because = (f"limit by {wall.parapet.word('condensate_limit_source')}", *_soaked(wall))
    calculation = wall.calculations.get(SUBJECT)
    if calculation is None or not calculation.done:
        missing = "; ".join(calculation.missing) if calculation else f"calculation `{SUBJECT}`"
        return unknown(f"{what}; the condensate cannot be calculated", missing, mark, layer_id, because)
    say = ok if calculation.verdict("limit_met") == "yes" else fail
    return say(what + _calculated(wall, unit), mark, layer_id, because=because)


def _calculated(wall: Wall, unit: str = "") -> str:
    """The calculated condensate, as the end of a sentence; nothing if it was not calculated."""
    calculation = wall.calculations.get(SUBJECT)
    condensate = calculation.result("condensate_governing") if calculation else None
    if calculation is None or condensate is None:
        return ""
    unit = unit or condensate.unit
    stated = quantity(float(f"{to_unit(condensate, unit):.4g}"), unit)
    hourly = calculation.verdict("governs")
    what = "the hourly design day" if hourly and hourly.startswith("the hourly") else "one afternoon"
    return f"; calculated condensate of {what} {stated.text}"
