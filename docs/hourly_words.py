"""The words of docs/hourly-moisture.md that are no numbers of a run; a test holds their claims against the results."""

from __future__ import annotations

from typing import Final

HEAD: Final = """\
# Years of hours through parapets

Written by `docs/make_hourly_study.py` from `docs/hourly-moisture.json`; do not edit by hand. `--run` runs what is not
kept or has changed, over `--cores`, and goes on where it was stopped. The calculation is that of `specgen hourly`:
heat, vapor, liquid water and rain hour by hour through the parapet at mid-height, its top, and the wall below the
roof. `docs/inward-drive-study.md` holds the steady states it grew from.

Three public typical years: mixed-humid (its file has rain by the hour), hot-humid and cold marine (theirs have none).
The monthly rain of the latter two is invented for this study: round depths of such a climate, made into hours by the
seeded method of the program. Examples stand in the nearest of the three years, which for the plains, the cold
continental town and the desert is not near: they show the wall, not its site. Where an example leaves a value to its
sections, the limit of the section stands for it. A wall runs at most {years} years, a run of the tables {span}.

The criterion: mold index below 3 at every place behind the barrier, no wood decaying or wet for most of a year, none
that is wet and still gets wetter. In every run 1 % of the rain driven onto the plaster reaches the face of the barrier
(1 % of the rain on the top that of the membrane). A wall *forgives* the largest share of that rain past the barrier,
into the layer behind, at which the criterion still holds.
"""

FIELD: Final = """\
Read in public text, and what it says of the numbers above:

- *Air behind cladding.* A field study of eight test walls, "Field study on the air change rate behind residential
  rainscreen cladding systems: a parameter analysis" (abstract), found 1 to 10 air changes an hour behind brick veneer
  and 100 to 1,000 behind siding, and vapor pressures behind the veneer well above outdoors. Here a gap that is open at
  the bottom alone changes its air once an hour, the low end of the veneer; a gap of 30 in open at both ends some hundreds
  of times in a sunny afternoon (`specgen calc --subject "gap ventilation"`), as the sidings do. The order is right.
  Which of 1 and 10 an hour a gap with one open end has decides the verdict of two examples.
- *Pins behind stucco.* Two inspectors' public accounts call readings up to 14 or 15 % in wood sheathing normal, from
  15 to 18 % elevated, from 19 or 20 % wet. Sound walls above peak at 8 to 16 %, failing ones at 19 % and more.
- *Parapets sealed on both sides.* A public engineers' forum (thread 442343) tells of a parapet of 2007 with lamina on
  foam outside and the roof membrane over its back and top: after ten years the roof-side sheathing was rotted whole,
  the street side clean. That is where the hours put the water: behind the roof membrane, not behind the plaster.
- *Sun-driven vapor.* Public text quotes condensation behind sun-heated wet masonry as seen since 1953, and summer as its
  season. The worst months behind vapor-open layers here are of summer.
- *Redistribution.* "Moisture Redistribution in Full-Scale Wood-Frame Wall Assemblies", Buildings 10(8), 2020 (abstract):
  sheathing wetted in one spot lost moisture faster than the wall lost water, for it spread. A cut in one dimension has no
  such spreading: its half times are those of a wall wet all over, and long beside a spot.
- From memory (M): wet sheathing in test huts takes weeks to some months to dry outward through an open barrier; inspected
  stucco walls that leak at openings read 30 % and more; fluid membranes on the back of wood keep it wet for seasons.

No openly published wall with readings of pins behind plaster, its materials and its weather could be had whole; the
comparison is of magnitudes alone.
"""

SHORT: Final = """\
## What falls short

- Typical years, not wet ones; two of three with invented rain. One dimension: no studs, no fasteners, no corner.
- The air change of a gap with one open end is a choice (1 an hour). So are the air under the coping and the film that
  faces keep.
- A leak is spread evenly over the cut. A real one is a spot: wetter there, dry beside, and faster to dry.
- Uncertainty is that of grid, material ranges, and made rain, one at a time; not of the weather, nor of workmanship.
- Mold takes what reaches the worst face of gypsum as paper-free glass mat of its class; other boards differ.
"""

BELIEF: Final = {
    "cold continental school": (
        "Yes, with a warning. Foam outside the barrier keeps gypsum and studs near room warmth and dry, and the hours say so. "
        "But between the foam, the butyl-tight top and a dark membrane over foam on the roof side nothing that gets in leaves: "
        "humidity in the closed cavity stands near 90 % all year and mold grows a little each year. Field talk of parapets "
        "sealed on both sides bears that out. That it forgives a quarter of one percent is severe, and rests on the water "
        "staying at one height."
    ),
    "existing repair": (
        "As a warning, yes; as a forecast, no. Plywood near 20 % in June behind a closed sheet is what inspectors call wet, and "
        "a roof-side board that gains water every year behind a tight roof membrane is the rot that the field finds there. The "
        "verdict stands on two choices: 1 % of the rain on the barrier, and one air change an hour in the gap. With 10 an "
        "hour, as behind a vented veneer, it is another wall (table of air changes below)."
    ),
    "fluid-applied roof": (
        "As far as it goes. Gypsum is at 7 % by mass, damp and not soaked; the index passes 3 in the fourth year and stays "
        "just above it, within its own uncertainty. One would call it a wall at its limit, not a failed one. That it stands "
        "in the mixed-humid year instead of its high plains is to its harm: the plains are drier."
    ),
    "hot-humid lowrise": (
        "Yes. Plywood at 10 to 11 % behind a ventilated gap is what pins read in sound walls, summer and early fall are the "
        "damp end, half of a wetting leaves in about four weeks through a 10 perm barrier into moving air. It forgives more "
        "than 1 %, as ventilated claddings do. The blocking under its tight membrane forgives far less than the wall."
    ),
    "marine library": (
        "Yes. Concrete takes years to settle and holds what it gets; half of a wetting does not leave within a year on the "
        "parapet, and leaves in weeks where the wall is heated from the room. Mold on concrete alone is no failure of "
        "structure. The year of weather is colder than the site of the example."
    ),
    "mixed-humid midrise": "",
    "plaster-covered top": "",
    "no drainage gap": "",
    "mesh under a black roof": "",
    "retarders on both sides": "",
    "plaster top without a drip": "",
    "leak at the coping joint": "",
}

FINDINGS: Final = ""

OVERTURNED: Final = ""
