"""The plots that stand beside the calculations of the basis report."""

from __future__ import annotations

from collections.abc import Mapping

from specgen.assessment import Assessment
from specgen.design import vapor_drive
from specgen.render.plots import profile, require_plots, svg_and_png


def basis_plots(assessment: Assessment) -> Mapping[tuple[str, str], tuple[tuple[str, bytes], ...]]:
    """The profile through the wall on a sun-heated afternoon, for each parapet where it is determined.

    Returns:
        By subject and parapet: the words that tell what a plot shows, and the plot as SVG.

    Raises:
        PlotsMissingError: matplotlib is not installed.
    """
    require_plots()
    found = {}
    for parapet in assessment.project.parapets:
        state = vapor_drive.drawn(assessment.project, parapet, assessment.practice)
        if state is not None:
            words = (
                f"Temperature, saturation pressure and vapor pressure behind the sun-heated plaster, "
                f"parapet {parapet.name}. Where the vapor pressure reaches the saturation pressure, water condenses."
            )
            svg, _ = svg_and_png(
                profile(state, f"Sun-heated afternoon, parapet {parapet.name}", assessment.system)
            )
            found[vapor_drive.SUBJECT, parapet.name] = ((words, svg),)
    return found
