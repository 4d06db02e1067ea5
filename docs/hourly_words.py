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
sections, the limit of the section stands for it. A wall runs at most {years} years, a run of the tables {span}; the
broken walls and the plaster-covered top {span} years at four leaks, without ranges of materials.

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
- Uncertainty is that of grid, material ranges, made rain, and the air of a closed gap, one at a time; not of the weather,
  nor of workmanship.
- Mold takes what reaches the worst face of gypsum as paper-free glass mat of its class; other boards differ.
"""

BELIEF: Final = {
    "cold continental school": (
        "Yes, with a warning. Foam outside the barrier keeps gypsum and studs near room warmth and dry. But "
        "between that foam, the tight top and a dark membrane over foam nothing that gets in leaves: humidity "
        "in the closed cavity stands near 90 % all year and mold grows a little each year, as the field says "
        "of parapets sealed on both sides. That it forgives a quarter of one percent is severe, and rests on "
        "water that stays at one height."
    ),
    "existing repair": (
        "As a warning, yes; as a forecast, no. Plywood near 20 % in June behind a closed sheet is what "
        "inspectors call wet, and a roof-side board that gains water every year behind a tight roof membrane "
        "is the rot that the field finds there. The verdict stands on two choices: 1 % of the rain on the "
        "barrier, and one air change an hour in the gap (table of air changes below)."
    ),
    "fluid-applied roof": (
        "As far as it goes. Gypsum at 7 % by mass is damp, not soaked; the index passes 3 in the fourth year "
        "and stays just above, within its uncertainty: a wall at its limit. It stands in the mixed-humid "
        "year; its own high plains are drier."
    ),
    "hot-humid lowrise": (
        "Yes. Plywood at 10 to 11 % behind a ventilated gap is what pins read in sound walls, fall is its damp end; half "
        "of a wetting leaves the parapet in ten weeks and the wall below, which the room dries, in four. It forgives "
        "more than 1 %, as ventilated claddings do. The blocking under its tight membrane forgives far less than the "
        "wall."
    ),
    "marine library": (
        "Yes. Concrete takes years to settle; half of a wetting does not leave the parapet within a year, and "
        "leaves in weeks where the room heats the wall. The year of weather is colder than the site of the "
        "example."
    ),
    "mixed-humid midrise": (
        "In its direction, yes. Water on the barrier cannot leave through a gap that changes its air once an "
        "hour, goes in through the vapor-open barrier, and ends behind the light, cool roof membrane: gypsum "
        "there at 23 % by mass and still gaining. The field finds rot on that side. Half of a wetting of the "
        "sheathing does not leave within a year: it moves to the roof-side board. The verdict hangs on the air of "
        "the gap, as that of the repair does."
    ),
    "plaster-covered top": (
        "Not of its site: a desert wall in a hot-humid year with invented rain. There it shows the same path "
        "as the midrise, barrier to roof membrane. In the desert nobody would expect it."
    ),
    "no drainage gap": (
        "No. The hours let plaster in contact with the barrier take up the 1 % and dry it outward, so the "
        "wall looks better than with a closed gap. What breaks such walls in the field is not vapor but water "
        "that cannot run off: it stands at laps, fasteners and openings, and more of it passes. The share "
        "that leaks is an input here, and it is this input that the gap governs."
    ),
    "mesh under a black roof": (
        "In part. By the rule of thumb it fails; here it holds over three years with little to spare, for its acrylic "
        "finish keeps rain out of the plaster and what enters can leave through mesh and open barrier as it came. "
        "Without ranges of materials, nobody should build on that."
    ),
    "retarders on both sides": (
        "Yes. The wet start that was measured in the repair drives through the cavity in the first summer, and every "
        "summer after the cavity side of the class I retarder inside stands at 100 % while mold there grows: the summer "
        "condensation on such sheets that public text tells of since 1953. Plywood itself dries from 25 to 11 %."
    ),
    "plaster top without a drip": (
        "In part. Plaster on the membrane across the top stays wet, as the field knows of flat plaster tops; "
        "the membrane under it is taken as whole, which on a real one it seldom is for long."
    ),
    "leak at the coping joint": (
        "Yes. Blocking under a tight membrane with 2 % of the rain on it gets wetter than wood bears; "
        "inspectors read 30 % and more below leaking joints (M), and half of a wetting takes some four "
        "months."
    ),
}

FINDINGS: Final = """\
- A closed dimpled gap in front of a vapor-open barrier with a tight roof membrane behind fails at mid-height: the 1 % on
  the barrier goes in and ends behind the roof membrane (mixed-humid midrise, existing repair).
- The wall below the roof of the midrise holds and forgives all that was tried: it dries to the room.
- The top forgives one percent at most, two of the seven examples nothing: blocking under a tight membrane is the first to
  fail under a leak.
- Plaster without a gap looks sound in the hours, for they do not know that water which cannot run off leaks more.
- How often a gap with one open end changes its air decides more than the kind of drainage layer: between 0.3 and 10 air
  changes an hour the mold index of the midrise and of the repair moves by three.
"""

OVERTURNED: Final = """\
### What the hours overturn

- *The dimpled sheet keeps vapor out, so the class of the barrier hardly matters* (steady state,
  `docs/inward-drive-study.md`). It does keep the sun's vapor out. It also keeps the 1 % in that gets past the
  plaster. With a closed top the barrier and
  what stands behind it govern, not the drive.
- *Vapor open means it dries.* Toward a closed gap and a tight roof membrane it does not. What governs is the
  ventilation of the gap, or a way out on the roof side.
- *A layer that dries in weeks is a wall that dries.* Its water may only have moved to the next layer. Counted behind the
  barrier, half of a wetting stays for over a year in most of these parapets. What governs is whether peaks grow from
  year to year.
"""
