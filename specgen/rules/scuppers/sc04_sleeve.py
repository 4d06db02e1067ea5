"""SC04: the sleeve of a scupper joins the control layers on both sides.

Looks at each scupper: flange and stripping on the roof side and on the outer side, and whether the sleeve may touch
the roof membrane and the barrier.

Right::

    scuppers:
      - name: S-1
        use: primary
        sleeve_family: TPO
        flange_inside: yes
        stripped_inside: yes
        flange_outside: yes
        stripped_outside: yes

Wrong::

    scuppers:
      - name: S-1
        use: primary
        sleeve_family: TPO
        flange_inside: yes
        stripped_inside: no
        flange_outside: yes
        stripped_outside: yes
"""

from functools import partial

from specgen.model.finding import Severity
from specgen.rules.held import rule_of
from specgen.rules.paths.broken import place_report

RULE = rule_of(
    "scupper.stripped",
    name="scupper sleeve",
    severity=Severity.DEFECT,
    applies_to="scuppers",
    basis=("scupper.sleeve", "table place_details", "compatibility.matrix", "table compatibility"),
    remedy="Flange the sleeve and strip it in on both sides, in a family that membrane and barrier accept.",
)
check = partial(
    place_report,
    kind="scupper",
    none="no scupper is listed",
    right="the sleeve joins roof membrane and barrier",
)
