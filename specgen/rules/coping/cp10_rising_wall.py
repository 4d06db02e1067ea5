"""CP10: the coping ends at a rising wall with dam, saddle and counterflashing.

Looks at each named end: end dam, saddle flashing, counterflashing, and the lap of the top flashing with the barrier
of the rising wall. Sealant alone is a defect; a surface-mounted counterflashing is a question.

Right::

    ends:
      - name: stair tower
        end_dam: yes
        saddle_flashing: welded
        counterflashing: behind the wall barrier
        wall_family: acrylic adhesive
        wall_lap: 4 in

Wrong::

    ends:
      - name: stair tower
        end_dam: no
        saddle_flashing: sealant only
        counterflashing: behind the wall barrier
        wall_family: acrylic adhesive
        wall_lap: 4 in
"""

from functools import partial

from specgen.model.finding import Severity
from specgen.rules.paths.broken import place_report
from specgen.rules.rule import Rule

RULE = Rule(
    name="coping at a rising wall",
    severity=Severity.DEFECT,
    applies_to="ends",
    reason="Water runs along the coping to the rising wall and, without a dam and a saddle, behind its cladding.",
    basis=(
        "coping.ends",
        "table place_details",
        "end.wall_lap",
        "compatibility.matrix",
        "table compatibility",
    ),
    remedy="Weld or solder an end dam and a saddle to the coping, and lap them behind the barrier of the rising wall.",
)
check = partial(
    place_report,
    kind="end",
    none="no end at a rising wall is listed",
    right="dam, saddle and counterflashing carry the water off",
)
