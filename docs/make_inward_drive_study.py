"""Write docs/inward-drive-study.md: inward vapor drive in three typical years and four orientations.

The years ship inside the package pvlib (public domain). Run from the project folder:

    .venv/bin/python docs/make_inward_drive_study.py
"""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pvlib

from specgen.design import inward_drive
from specgen.intake.project import load_project
from specgen.intake.weather import load_weather
from specgen.model.calculation import CalcTable, Calculation
from specgen.practice.entries import Practice
from specgen.practice.load import load_practice
from specgen.units.quantity import Quantity, parse, to_unit

DATA = Path(pvlib.__file__).parent / "data"
OUT = Path(__file__).with_name("inward-drive-study.md")
YEARS = {  # climate, file, name of the record in it
    "mixed-humid": "723170TYA.CSV",
    "cold marine": "703165TY.csv",
    "hot-humid": "12839.tm2",
}
ORIENTATIONS = ("north", "east", "south", "west")
LEAST = 1e-3  # g/m²; less is rounding
HOT_SHARE = 99.6  # the 0.4 % summer design temperature of the year itself
PROJECT = """\
project: {{name: Study, number: "0", issue_date: 2026-01-01, units: SI}}
site:
  place: typical year
  temp_summer: {top:.1f} degC
  dew_point_summer: {dew:.1f} degC
  latitude: {latitude:.3f} deg
  terrain: open country
building: {{height: 8 m}}
parapets:
  - name: P-1
    height: 1.2 m
    plaster_height: 1.2 m
    orientation: {orientation}
    build_up:
      - {{role: plaster, kind: portland cement plaster, thickness: 22 mm}}
      - {{role: drainage layer, kind: dimpled sheet, depth: 11 mm, open_at_top: {open_at_top}}}
      - {{role: barrier, kind: fluid-applied, thickness: 1 mm, vapor_permeance: 12 perm}}
      - {{role: sheathing, kind: glass-mat gypsum, thickness: 16 mm}}
      - {{role: framing, kind: cold-formed steel studs, thickness: 152 mm}}
      - {{id: roof-side sheathing, role: sheathing, kind: glass-mat gypsum, thickness: 16 mm}}
      - {{role: roof turn-up, kind: TPO, thickness: 1.5 mm}}
"""


@dataclass(frozen=True)
class Design:
    """Summer design state of a year: temperature and dew point [°C], latitude [°]."""

    top: float
    dew: float
    latitude: float


def design(file: str) -> Design:
    """The 0.4 % temperature of a year and the mean dew point of the hours above it."""
    weather = load_weather(DATA / file)
    top = float(np.percentile(weather.temp_c, HOT_SHARE))
    dew = float(weather.dew_point_c[weather.temp_c >= top].mean())
    return Design(top, dew, weather.place.latitude)


def study(
    file: str, state: Design, orientation: str, open_at_top: bool, practice: Practice | None = None
) -> Calculation:
    """The calculation of one year, orientation and state of the gap, with the practice values or changed ones."""
    text = PROJECT.format(
        top=state.top,
        dew=state.dew,
        latitude=state.latitude,
        orientation=orientation,
        open_at_top="yes" if open_at_top else "no",
    )
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "project.yaml"
        path.write_text(text, encoding="utf-8")
        practice = practice or load_practice()
        project = load_project(path, practice, DATA / file)
        found = inward_drive.calculate(project, project.parapets[0], practice)
    if found.missing:
        raise ValueError("; ".join(found.missing))
    return found


def rows(calc: Calculation, table: str, column: str) -> dict[str, list[float]]:
    """One column of a table as numbers in g/m² or hours: drainage layer to its barriers in order."""
    (found,) = [one for one in calc.tables if one.name == table]
    place = found.columns.index(column)
    out: dict[str, list[float]] = {}
    for row in found.rows:
        out.setdefault(str(row[0]), []).append(_number(row[place]))
    return out


def _number(cell: Quantity | str) -> float:
    if isinstance(cell, str):
        return float(cell.removesuffix(" h"))
    return to_unit(cell, "g/m2") if cell.dimension == "mass per area" else cell.value


def barriers(calc: Calculation) -> list[str]:
    """The classes of barrier in the order of the tables."""
    table: CalcTable = calc.tables[0]
    return list(dict.fromkeys(str(row[1]) for row in table.rows))


def line(*cells: object) -> str:
    """One row of a table."""
    return "| " + " | ".join(str(cell) for cell in cells) + " |"


def printed(value: float) -> str:
    """A number with the digits that the model deserves: two."""
    if value < LEAST:
        return "0"
    return f"{float(f'{value:.1e}'):.10g}"


def climate_section(climate: str, file: str) -> list[str]:
    """The tables of one climate."""
    state = design(file)
    calcs = {facing: study(file, state, facing, False) for facing in ORIENTATIONS}
    opened = {facing: study(file, state, facing, True) for facing in ORIENTATIONS}
    heads = barriers(calcs["south"])
    lines = [f"## {climate}", ""]
    lines.append(
        f"Design day {state.top:.1f} °C, dew point {state.dew:.1f} °C, latitude {state.latitude:.1f}°. "
        "Condensate on the back of the roof membrane."
    )
    day, soaked = ("design day", "condensate"), ("year, soaked", "condensed in the year")
    parts = [
        (*day, "Design day, gap closed at the top [g/m²]", calcs),
        (*day, "Design day, gap open at bottom and top [g/m²]", opened),
        (*soaked, "Year, plaster soaked in every hour, gap closed [g/m²]", calcs),
        (*soaked, "Year, plaster soaked in every hour, gap open [g/m²]", opened),
    ]
    if any(table.name == "year, rain" for table in calcs["south"].tables):
        title = "Year, plaster wetted by the year's rain, gap closed [g/m²]"
        parts.append(("year, rain", "condensed in the year", title, calcs))
        parts.append(("year, rain", "wet hours", "Hours of that year with condensate [h]", calcs))
    for table, column, title, found in parts:
        lines += [
            "",
            f"**{title}**",
            "",
            line("face", "drainage layer", *heads),
            line(*["---"] * (2 + len(heads))),
        ]
        for facing in ORIENTATIONS:
            for layer, values in rows(found[facing], table, column).items():
                lines.append(line(facing, layer, *(printed(value) for value in values)))
    return [*lines, ""]


# What is changed, practice entry, its other value. A light membrane and medium plaster are the base.
CHANGES = (
    ("dark membrane, absorptance 0.9", "drive.membrane_absorptance", "0.9"),
    ("light plaster, absorptance 0.4", "vapor.absorptance", "0.4"),
    ("dark plaster, absorptance 0.8", "vapor.absorptance", "0.8"),
    ("calm, film coefficient 2 Btu/(h·ft²·°F)", "vapor.film_coefficient", "2.0 Btu/(h·ft2·F)"),
    ("pores saturated above 50 % of free saturation", "drive.wet_share", "50 %"),
)
DRY_CUP = "plaster dries with its dry-cup permeability"


def changed(practice: Practice, key: str, value: str) -> Practice:
    """The practice with one value changed."""
    entry = replace(practice.entry(key), value=parse(value))
    return replace(practice, entries={**practice.entries, key: entry})


def dry_cup(practice: Practice) -> Practice:
    """The practice with the wet-cup permeability of every material blank."""
    table = practice.table("material_properties")
    rows = tuple({**row, "permeability_wet": None} for row in table.rows)
    return replace(practice, tables={**practice.tables, table.key: replace(table, rows=rows)})


def sensitivity_section() -> list[str]:
    """How far single inputs move the numbers of one wall."""
    base = load_practice()
    cases = [("as above", base)]
    cases += [(title, changed(base, key, value)) for title, key, value in CHANGES]
    cases.append((DRY_CUP, dry_cup(base)))
    file = YEARS["mixed-humid"]
    state = design(file)
    heads = ("changed", "design day", "year, soaked", "year, rain", "hours wet")
    lines = ["## How far single inputs move the numbers", ""]
    lines.append(
        "Mixed-humid, west face, mesh and a class III barrier, gap closed. Condensate [g/m²], hours [h]."
    )
    lines += ["", line(*heads), line(*["---"] * len(heads))]
    for title, practice in cases:
        calc = study(file, state, "west", False, practice)
        columns = (("design day", "condensate"), ("year, soaked", "condensed in the year"))
        columns += (("year, rain", "condensed in the year"), ("year, rain", "wet hours"))
        values = [rows(calc, table, column)["mesh"][1] for table, column in columns]
        lines.append(line(title, *(printed(value) for value in values)))
    return [*lines, ""]


HEAD = """\
# Inward vapor drive in three typical years

Written by `docs/make_inward_drive_study.py`; do not edit by hand. The calculation is
`specgen calc --subject "inward drive"`.

A parapet with 22 mm of cement plaster, a drainage layer, a barrier, gypsum sheathing on steel studs, gypsum
sheathing and a light roof membrane on the roof side; plastered face 1.2 m high. Barriers at the greatest
permeance of their class (10, 1.0 and 0.1 perm), vapor-open at 20 perm. A drainage layer of 0.05 perm (dimpled
sheet), 100 perm (mesh), 20 perm (grooved mat), or none. Each hour is a steady state; nothing is stored but the
condensate on the membrane. The numbers compare build-ups. They do not forecast the water in a wall.

A plaster that is soaked in every hour of the year is an upper bound. One of the three years has rain hour by
hour; there the plaster takes up its own rain and dries. It is one year only, so the numbers are indicative. The
other two files have no usable rain, so for them only the bound is stated. 0 is less than 1 mg/m².
"""
TAIL = """\
## What a practitioner would conclude

- The drainage layer decides. Behind a dimpled sheet the condensate is about a hundredth of that behind a mesh
  with the same vapor-open barrier, in every climate and on every face. The class of the barrier then hardly
  matters, so it can be chosen vapor-open for drying.
- A mesh, a grooved mat and plaster without any drainage layer differ little in vapor while the gap is closed at
  the top: mesh drains water, it does not slow vapor. With one of them the barrier must do the work: class II
  cuts the condensate to about a sixth of that of a vapor-open barrier, class I to about a sixtieth. Both then
  also shut the way out for water that enters behind the barrier, which this study does not count.
- While the plaster is wet the south face collects most over a year, then east and west; the north face a
  quarter or less. On the summer design day the west face is the worst or ties with the worst: its sun falls on
  the hottest air. In the cold marine year the drive is about a third of that of the mixed-humid year.
- A gap open at bottom and top takes away most of the vapor before it reaches the barrier: with mesh three
  quarters or more over the year remain outside, with a dimpled sheet nearly all. The study takes outlets of
  30 % of the gap, clean, and no wind. A gap with clogged outlets is a closed gap.
- Single inputs move a number by a factor of about two; how fast the plaster dries moves the year by three. The
  difference between drainage layers is a factor of a hundred, so the ranking stands where the numbers do not.
  A limit on the condensate is the design professional's to state (`condensate_limit`); this study states none.
"""


def text() -> str:
    """The whole document."""
    lines = [HEAD]
    for climate, file in YEARS.items():
        lines += climate_section(climate, file)
    lines += sensitivity_section()
    return "\n".join([*lines, TAIL])


if __name__ == "__main__":
    OUT.write_text(text(), encoding="utf-8")
