"""The path of air through the drainage gap: its height and its outlets."""

from __future__ import annotations

from specgen.design.worksheet import Worksheet
from specgen.physics.gap_air import Loss


def gap_height(work: Worksheet) -> float:
    """Height of the gap: that of the plastered face, or of the parapet where it is not given [m]."""
    if work.given("parapet.plaster_height"):
        return work.input("H", "parapet.plaster_height")
    work.leaves_out.append(
        "The height of the plastered face is not given (parapet.plaster_height): that of the parapet is taken."
    )
    work.require("parapet.height")
    return work.input("H", "parapet.height")


def gap_losses(work: Worksheet) -> tuple[Loss, ...] | None:
    """Losses of the outlets at bottom and top where the gap is open at both, else None: the air stands still."""
    layer, screed = work.parapet.part("drainage layer"), work.parapet.part("weep screed")
    open_at_top = layer.flag("open_at_top") if layer is not None else None
    open_below = screed.flag("open") if screed is not None else None
    if open_at_top is None:
        work.leaves_out.append(
            "Whether the gap is open at the top is not given (drainage layer, open_at_top): it is taken as closed."
        )
    if not open_at_top:
        return None
    if open_below is False:
        work.leaves_out.append("The weep screed is closed: the air in the gap stands still.")
        return None
    share = work.practice_input("r", "gap.outlet_share")
    discharge = work.practice_input("Cd", "gap.discharge")
    return (Loss(1.0 / discharge**2, share),) * 2
