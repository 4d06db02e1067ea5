"""Projects made from every membrane, barrier, drainage layer, top and climate, through the real loader."""

from __future__ import annotations

import random
from itertools import product
from pathlib import Path

MEMBRANES = ("TPO", "PVC", "KEE-modified PVC", "EPDM", "SBS-modified bitumen", "fluid-applied")
BARRIERS = (
    "kind: fluid-applied, family: STPE fluid, thickness: 40 mil, least_thickness: 40 mil, planned_exposure: 60 days",
    "kind: self-adhered, family: acrylic adhesive, planned_exposure: 45 days",
    "kind: mechanically fastened",
    "kind: building paper",
)
DRAINAGE = (
    "kind: dimpled sheet, depth: 7/16 in",
    "kind: mesh, depth: 10 mm, filter_fabric: yes",
    "kind: grooved mat, drainage_efficiency: 92 %",
)
METAL = (
    "color: dark, outer_drip: 1 in, inner_drip: 1 in, outer_leg: 4 in, outer_face_height: 5 in, "
    "slope: 1/4 in/ft, slope_toward: roof, piece_length: 10 ft"
)
TOPS = (
    f"kind: formed metal, metal: aluminum, thickness: 0.050 in, joint: concealed and cover plate, {METAL}",
    f"kind: formed metal, metal: stainless steel, thickness: 0.024 in, joint: standing seam, {METAL}",
    "kind: stone, slope: 2 %, slope_toward: roof, outer_drip: 40 mm, inner_drip: 40 mm, joint: sealed over a backer",
    "kind: plaster-covered, slope_toward: roof, drainage_over_top: yes",
)
CLIMATES = ("1A", "3C", "4A", "5B", "6A")
ALL = tuple(product(MEMBRANES, BARRIERS, DRAINAGE, TOPS, CLIMATES))
UNITS = ("inch-pound", "SI", "both")
SHEATHINGS = ("glass-mat gypsum", "plywood", "OSB", "concrete masonry")
FRAMINGS = ("cold-formed steel studs", "wood studs", "wood studs", "concrete masonry")
METHODS = ("", ", method: performance", ", method: prescriptive", ", method_drainage: performance")
PLACES = (
    "",
    """
    scuppers:
      - {name: S-1, use: primary, width: 8 in, height: 6 in}
      - {name: S-2, use: overflow, width: 24 in, height: 6 in, inlet_height: 2 in}
    penetrations: [{name: N-1, what: pipe, through: wrb, sealed_by: boot}]""",
    """
    corners: [{name: C-1, turn: outside}, {name: C-2, turn: inside}]
    ends: [{name: E-1, end_dam: yes}]""",
    """
    existing: {inspected: 2026-01-05, by: a consultant}
    scuppers: [{name: S-1, use: primary, width: 8 in, height: 6 in}]""",
)
FLASHINGS = ("self-adhered butyl", "fluid-applied")
TERMINATIONS = ("under the top flashing", "termination bar under a counterflashing")


def some(count: int) -> tuple[tuple[int, tuple[str, ...]], ...]:
    """The same choice of projects in every run; each kind stands in it many times."""
    order = list(enumerate(ALL))
    random.Random(20).shuffle(order)
    return tuple(order[:count])


def text(number: int, kinds: tuple[str, ...]) -> str:
    """The project file of one combination; what is not in the product goes round with the number."""
    membrane, barrier, drainage, top, climate = kinds
    turn = random.Random(number).randrange

    def one(of: tuple[str, ...]) -> str:
        return of[turn(len(of))]

    wall = turn(len(SHEATHINGS))
    metal = top.startswith("kind: formed metal")
    attachment = "fluid-applied" if membrane == "fluid-applied" else "fully adhered"
    cleat = "\n      - {id: cleat, role: cleat, kind: continuous, metal: aluminum}" if metal else ""
    return f"""\
project: {{name: Example, number: "2601", issue_date: 2026-01-15, units: {one(UNITS)}{one(METHODS)}}}
site: {{place: Example Town, code: IBC 2021, climate_zone: {climate}, wind_speed: 115 mph, exposure: C}}
building: {{height: 30 ft, roof_membrane: {membrane}}}
parapets:
  - name: P-1
    height: 36 in
    air_path: over the top
    build_up:
      - {{id: plaster, role: plaster, kind: portland cement plaster, thickness: 7/8 in, horizontal_return: yes}}
      - {{id: lath, role: lath, kind: self-furred expanded metal lath}}
      - {{id: gap, role: drainage layer, {drainage}}}
      - {{id: screed, role: weep screed, kind: vented weep screed, flange: 3 1/2 in, above_roof: 8 in}}
      - {{id: wrb, role: barrier, {barrier}}}
      - {{id: board, role: sheathing, kind: {SHEATHINGS[wall]}}}
      - {{id: frame, role: framing, kind: {FRAMINGS[wall]}}}
      - {{id: turnup, role: roof turn-up, kind: {membrane}, attachment: {attachment}, height: 12 in,
         termination: {one(TERMINATIONS)}}}
    top:
      - {{id: blocking, role: blocking, kind: {one(("preservative-treated wood", "plywood", "untreated wood"))}}}
      - {{id: flashing, role: top flashing, kind: {one(FLASHINGS)}, thickness: 40 mil}}{cleat}
      - {{id: top, role: coping, {top}}}
    transitions:
      - {{between: [flashing, wrb], lap: 4 in, upper: flashing}}
      - {{between: [flashing, turnup], lap: 4 in, upper: flashing}}{one(PLACES)}
"""


def write(folder: Path, number: int, kinds: tuple[str, ...]) -> Path:
    """The project file of one combination in a folder; each third has a second parapet of another combination."""
    words = text(number, kinds)
    if number % 3 == 0:
        other = (number * 7 + 5) % len(ALL)
        second = text(other, ALL[other])
        words += second[second.index("  - name: P-1") :].replace("name: P-1", "name: P-2", 1)
    path = folder / "project.yaml"
    path.write_text(words)
    return path
