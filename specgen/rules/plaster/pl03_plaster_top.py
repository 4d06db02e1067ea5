"""PL03: the top of the parapet is not plaster.

A plaster-covered top has no drip and takes in rain from above. It is a defect, unless the drainage gap runs
unbroken up the face, across the top and down the back over a flashing membrane; then it is still a risk.

Right::

    - role: coping
      kind: formed metal

Wrong::

    - role: coping
      kind: plaster-covered
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.remedy import Known, Remedy, SetKind, SetValue
from specgen.rules.rule import Rule, Said, fail, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL03",
    name="no plaster on top",
    title="The top of the parapet is not plaster",
    severity=Severity.DEFECT,
    applies_to="coping",
    reason="Plaster on a weather-exposed top has no drip, and takes in rain from above.",
    basis=("plaster.covered_top", "coping.required"),
    remedy="Cover the top with a metal coping that drips on both sides.",
)
REMEDIES: tuple[Remedy, ...] = (
    (
        SetKind("coping", "formed metal"),
        SetValue("coping", "outer_drip", Known("coping.drip")),
        SetValue("coping", "inner_drip", Known("coping.drip")),
    ),
)


def check(wall: Wall) -> Iterator[Said]:
    """The kind of the top, and what makes a plaster top tolerable."""
    coping = wall.part("coping")
    if coping is None:
        yield not_applicable("no coping is described")
    elif coping.kind != "plaster-covered":
        yield ok(f"the top is {coping.kind}", coping.at("kind"), coping.id)
    elif coping.flag("drainage_over_top") and wall.part("top flashing"):
        message = "the top is plaster over a drainage gap and a flashing membrane"
        yield fail(message, coping.at("kind"), coping.id, Severity.RISK)
    else:
        lacking = "drainage gap" if wall.part("top flashing") else "flashing membrane"
        message = f"the top is plaster, and no unbroken {lacking} runs under it from face to back"
        yield fail(message, coping.at("kind"), coping.id)
