"""Writes ``docs/heat-and-moisture-checks.md``: every comparison of the hourly scheme with how far off it was.

``python -m tests.published.heat_moisture_page``; a test compares the page.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

from tests.published import heat_moisture_cases as cases
from tests.published import heat_moisture_limits as limits
from tests.published import heat_moisture_weather as weather
from tests.published.heat_moisture_cases import Case
from tests.published.heat_moisture_measured import FOUND
from tests.published.register import How

PAGE = Path(__file__).parents[2] / "docs" / "heat-and-moisture-checks.md"
CASES: Final = tuple(
    one for module in (cases, limits, weather) for one in vars(module).values() if isinstance(one, Case)
)
GOT: Final = {
    How.READ: "read: numbers printed in a public text",
    How.PACKAGE: "computed by another: somebody else's library, in the test",
    How.CLOSED_FORM: "closed form, worked here",
    How.MEMORY: "from memory",
}
LOOKED_FOR: Final = (
    (
        "Limits of the annex of EN 15026",
        "The annex prints a least and a most of temperature and water at each depth and time. The standard is on sale. "
        "Its equations were handed to this project; conditions, constants and the retention of water were read "
        "again in the manual of the finite-element library Feel++ (moisture uptake within a semi-finite region). The "
        "printed limits were found in public in programs for the same job alone, which were not opened. So the profiles "
        "are worked anew: reduced to x/√t and solved by collocation, and once more by lines; the two agree within "
        "0.005 K and 0.6 kg/m³, and give the digits of another solver whose figures came along: 23.8, 26.7, 29.1 °C at "
        "1 m after 7, 30, 365 days, and 118.8 kg/m³ at 0.01 m after 365.",
    ),
    (
        "Coupled benchmarks 1 to 5 (2002 to 2004)",
        "Benchmark 2, the layer that dries at one temperature, stands whole in the same manual (drying out of a layer) "
        "and has a series for an answer: it is held. Of 1 (insulated roof), 3 (lightweight wall with air leakage), "
        "4 (response under rain) and 5 (absorbent inside insulation), public text that could be opened gives what they "
        "are about, not their materials, climates and results, which stand in programs for the same job. They are not "
        "held. Two made-up materials in the sizes of benchmark 5, solved by lines, stand in its place. Benchmark 3 needs "
        "air that flows through layers, which the scheme leaves out.",
    ),
    (
        "A measured wall behind plaster",
        "None was found whole in public, with hourly weather, rain, materials and moisture pins: reports of test huts "
        "with stucco on oriented strand board print curves, not data. One measured wall with open data was found, wood "
        "frame behind vented brick; it is held as far as it goes (above). It has no rain, no plaster and nothing that "
        "stores much.",
    ),
    (
        "A worked example of ISO 13786",
        "None was opened; the transfer matrix of one layer follows from the equation of heat and is worked here.",
    ),
)
MEMORY: Final = (
    "that the benchmarks' films of vapor are so large that the faces of benchmark 2 stand at the air's humidity;",
    "conductivities and vapor resistances of the measured wall, of which the data name materials and thicknesses alone;",
    "that the annex takes 610.5 exp(17.269 θ/(237.3 + θ)) for the saturation pressure.",
)


def printed(value: float) -> str:
    """Two digits, for a person.

    >>> printed(0.16234), printed(11.24), printed(1.4e-7)
    ('0.16', '11', 'below 0.001')
    """
    return "below 0.001" if value < 1e-3 else f"{value:.2g}"


def page() -> str:
    """The page as Markdown; every case is run."""
    return "\n".join(
        [
            "# Heat and moisture by the hour: checks against the outside",
            "",
            "Written by `python -m tests.published.heat_moisture_page` from the comparisons themselves; a test "
            "compares it.",
            "",
            "Each row is one comparison of the scheme (`specgen/physics/heat_moisture`). *Off* is the largest "
            "deviation that "
            "was found over all points and times of the row; a test fails where it passes what is *allowed*.",
            "",
            "| what | against | how it was obtained | allowed | off |",
            "|---|---|---|---|---|",
            *(_row(case) for case in CASES),
            "",
            "The rows of the steps that walls are run with stand for dry hours of one step in two stages, of second "
            "order. One backward step an hour would leave the swing of a day 11 % too small and a board in sun 0.9 K "
            "off in the root mean square. Of a year of a parapet, four steps in place of one move moisture by less "
            "than 0.1 % by mass and the mold index by less than 0.05 (`tests/design/test_hourly_steps.py`).",
            "",
            "## A wall that was measured",
            "",
            "Wood frame behind vented brick, north, readings each ten minutes through five months "
            "(TRH-database, open data, "
            "building R1, wall US1). Room and cavity are held as measured; compared is the plane between glass "
            "wool and wind "
            "barrier, by the hour. The data are not part of this project: `SPECGEN_MEASURED_WALL` names their "
            "folder, and "
            "`tests/published/test_heat_moisture.py` then runs the wall and holds it to these figures.",
            "",
            "| | mean of scheme less probe | root mean square | the probe's own spread |",
            "|---|---|---|---|",
            f"| temperature, {FOUND.hours} hours | {FOUND.bias_k:.2f} K | {FOUND.spread_k:.2f} K | "
            f"{FOUND.swing_k:.1f} K |",
            f"| relative humidity | {FOUND.bias_rh:.1f} % | {FOUND.spread_rh:.1f} % | {FOUND.swing_rh:.1f} % |",
            "",
            "## What the house knows the answer to",
            "",
            "`tests/physics/heat_moisture/test_limits_of_walls.py`: a layer or sheet that is next to nothing "
            "changes next to "
            "nothing; a wall turned round is the same wall; finer cells and steps come nearer to one answer, and twice "
            "of either changes temperatures by less than 1 K and water by less than 4 % of the most in its layer; with "
            "storage and liquid off, steady temperatures, vapor pressures and the rate of condensation are those of "
            "`steady_state` (ISO 13788; 0.02 K, 0.5 %, 3 %), and the water of a winter that of "
            "`monthly_balance` (0.5 % of "
            "the peak).",
            "",
            "`tests/physics/heat_moisture/test_random_walls.py`: walls and weeks made by chance, 2,000 with "
            "`SPECGEN_LONG=1`, else 20; each must be closed, finite and between its physical bounds. All "
            "2,000 were.",
            "",
            "## Looked for, and not had",
            "",
            *(line for title, text in LOOKED_FOR for line in (f"**{title}.** {text}", "")),
            "## From memory",
            "",
            *(f"- {one}" for one in MEMORY),
            "",
        ]
    )


def _row(case: Case) -> str:
    cells = (
        case.what,
        f"{case.source}: {case.place}",
        GOT[case.how],
        case.tolerance,
        f"{printed(case.measure())} {case.unit.split(' of ')[0]}",
    )
    return "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
