"""Breaks of the control layers as findings: which rule tells which break, and in what words."""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.paths.graph import ROOF_MEMBRANE
from specgen.paths.shapes import PLAIN_RUN, Break, Layer, LayerPath
from specgen.rules.resting import AT_LIMITS
from specgen.rules.rule import RuleResult, fail, not_applicable, ok, specified, unknown
from specgen.rules.wall import Wall

ORDER: tuple[Layer, ...] = ("water", "air", "vapor", "heat")
LAPPED = ({"top flashing", "barrier"}, {"top flashing", "roof turn-up"})
# What another rule says of a pair of roles, by the cause of the break.
LAP_RULES = {"joint": "LP01", "lap": "LP01", "order": "LP02", "chemistry": "TF02 or TF03"}
# The sources of a rule on one layer.
LAYER = (
    "path.unbroken",
    "path.declared",
    "table control_routes",
    "table control_laps",
    "table compatibility",
)


def plain_run(wall: Wall, *layers: Layer) -> tuple[Break, ...]:
    """The breaks of the plain run, each once, of some layers or of all."""
    paths = [path for path in wall.paths if path.place == PLAIN_RUN]
    return tuple(
        dict.fromkeys(one for path in paths if not layers or path.layer in layers for one in path.breaks)
    )


def break_result(
    wall: Wall, one: Break, severity: Severity, before: str = "", path: LayerPath | None = None
) -> RuleResult:
    """A break in words: broken fails, a manufacturer's or a person's word is a query, missing data are unknown."""
    message = f"{before}`{one.first}` to `{one.second}`: {one.condition}"
    ends = (one.second, one.first)
    layer = next((end for end in ends if wall.parapet.by_id(end)), "")
    because = (f"path: {path.chain}",) if path and path.steps else ()
    if one.standing == "not stated":
        result = unknown(message, "; or ".join(one.least_changes), one.mark, layer, because)
    else:
        asked = one.standing != "broken"
        changes = tuple(f"this would close it: {change}" for change in one.least_changes)
        result = fail(message, one.mark, layer, Severity.QUERY if asked else severity, (*because, *changes))
    return replace(result, sources=(one.source,))


def layer_report(wall: Wall, layer: Layer, severity: Severity) -> Iterator[RuleResult]:
    """The breaks of one layer at the plain run that neither another rule nor a layer before this one tells.

    A short lap is never worse than a risk. Where every break is told elsewhere the layer is not called unbroken:
    the outcome names the rules that tell it.
    """
    path = next(one for one in wall.paths if one.layer == layer and one.place == PLAIN_RUN)
    before = set(plain_run(wall, *ORDER[: ORDER.index(layer)])) if layer != "water" else set()
    reporters = {one: _teller(wall, one, one in before) for one in path.breaks}
    own = [one for one in path.breaks if not reporters[one]]
    for one in dict.fromkeys(own):
        weight = Severity.RISK if one.cause == "lap" else severity
        yield break_result(wall, one, weight, f"{layer} layer, ", path)
    if path.breaks and not own:
        rules = ", ".join(sorted({rule for rule in reporters.values() if rule}))
        yield not_applicable(f"the breaks of the {layer} layer are reported by {rules}")
    if not path.breaks:
        message = f"the {layer} layer is unbroken: {path.chain}"
        passed = ok(message, wall.parapet.at(f"{layer}_path"))
        yield specified(passed, f"{message}, {AT_LIMITS}") if path.on_limits else passed


def _teller(wall: Wall, one: Break, reported_before: bool) -> str:
    """The rule that tells a break, or nothing if its own layer must."""
    roles = {_role(wall, end) for end in (one.first, one.second)}
    if one.cause == "primer":
        return "TF08"
    if one.cause == "tape":
        return "BT01, TF02 or TF03"
    if one.cause in LAP_RULES and roles in LAPPED:
        return LAP_RULES[one.cause]
    if one.cause == "order" and roles == {"barrier", "weep screed"}:
        return "LP02"
    if one.cause == "chemistry" and roles == {ROOF_MEMBRANE, "roof turn-up"} and one.standing != "broken":
        return "RT02"
    if one.cause == "missing" and "top flashing" in one.without:
        return "TF01"
    if one.cause == "missing" and one.condition.startswith("no barrier carries water"):
        return "WB01"
    return "the layer before it" if reported_before else ""


def _role(wall: Wall, end: str) -> str:
    part = wall.parapet.by_id(end)
    return part.role if part else end


def place_report(wall: Wall, kind: str, none: str, right: str) -> Iterator[RuleResult]:
    """The breaks at the places of one kind (``corner``, ``step``, ``joint``), each once.

    A top of stone or plaster has no metal to join: its own joints are not looked at.

    Args:
        wall: the parapet.
        kind: what the places are called in front of their names.
        none: what is said where the parapet has no such place.
        right: what is said of a place without a break.
    """
    coping = wall.part("coping")
    without_metal = coping.id if coping is not None and not wall.kind(coping).metal else None
    paths = [path for path in wall.paths if path.place.startswith(f"{kind} ")]
    for place in dict.fromkeys(path.place for path in paths):
        breaks = dict.fromkeys(one for path in paths if path.place == place for one in path.breaks)
        breaks = {one: None for one in breaks if one.first != without_metal}
        for one in breaks:
            yield break_result(wall, one, Severity.DEFECT, f"{place}, ")
        if not breaks:
            yield ok(f"{place}: {right}")
    if not paths:
        yield not_applicable(none)
