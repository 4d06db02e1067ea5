"""The three cuts of a parapet that the hours go through: at mid-height, over the top, and the wall below the roof.

Each is a list of layers, membranes and gaps for `physics.heat_moisture`, with what its two faces meet, where water leaks
in, and which places are watched.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final, TypeAlias

from specgen.arrays import NDArray, np
from specgen.design.facing import leave_out
from specgen.design.gap_path import gap_height, gap_losses
from specgen.design.hourly_faces import WallFaces
from specgen.design.hourly_start import start_humidities
from specgen.design.hygric_materials import HygricLayer, porous, read_hygric_layers
from specgen.design.hygric_top import METAL_RESISTANCE, read_top_layers
from specgen.design.worksheet import Worksheet
from specgen.model.hourly import BELOW, MID_HEIGHT, OTHER, TOP
from specgen.physics.gap_air import Loss
from specgen.physics.heat_moisture.faces import Face
from specgen.physics.heat_moisture.grid import Gap, Layer
from specgen.physics.heat_moisture.porous import REFERENCE_C, PorousMaterial, air_permeability, film, tabulate
from specgen.practice.entries import Row
from specgen.wall.facts import studs

Hours: TypeAlias = "NDArray[np.float64]"
THIN: Final = 1e-3
"""Thermal resistance of a sheet that has none worth counting [m²·K/W]."""
TIGHT: Final = 1e-15
"""Vapor permeance of sheet metal [kg/(m²·s·Pa)]: nothing that a century would show."""
CAVITY_HOLDS: Final = 0.05
CLASSES: Final = "mold_classes"


@dataclass(frozen=True)
class Place:
    """A face that is watched: of a part, at its outer or inner side.

    sort, mold_class and decline of its material (table mold_classes); density and thickness of the layer; held: whether
    the criterion is held there, which it is of all that stands behind the barrier.
    """

    name: str
    part: str
    outer: bool
    sort: str
    mold_class: str
    decline: str
    density: float
    thickness: float
    free_saturation: float
    held: bool


@dataclass(frozen=True, eq=False)
class YearFaces:
    """One year at both faces, the month of each hour, the room, and the wind pressure along the drainage gap [Pa]."""

    outside: Face
    inside: Face
    month: NDArray[np.int64]
    room: Face
    gap_wind: Hours

    @property
    def rain(self) -> Hours:
        """The rain that shares are taken of: that on the outer face [kg/(m²·s)]."""
        return self.outside.rain


@dataclass(frozen=True, eq=False)
class Cut:
    """One cut through the years.

    parts: outside to inside; materials: the numbers of those that store, by part. always: part and share of rain that is
    let in whatever the study varies; leak, leak_words: part whose outer face takes the share that is varied, and how it
    is called; its drying is told too. start: relative humidity at the start of the parts that are not as
    dry as usual. roomy: gaps whose air is exchanged with that of the room. closed: the drainage gap that is open at one
    end alone, "" where there is none.
    """

    name: str
    parts: tuple[Layer | Gap, ...]
    materials: dict[str, PorousMaterial]
    years: tuple[YearFaces, ...]
    always: tuple[tuple[str, float], ...]
    leak: str
    leak_words: str
    places: tuple[Place, ...]
    start: dict[str, float] = field(default_factory=dict)
    roomy: tuple[str, ...] = ()
    closed: str = ""

    def with_air(self, changes: float) -> Cut:
        """The same cut with other air changes of its closed gap [1/h]."""
        changed = tuple(
            replace(one, exchange=changes * one.depth / 3600.0)
            if isinstance(one, Gap) and one.name == self.closed
            else one
            for one in self.parts
        )
        return replace(self, parts=changed)

    def with_material(self, part: str, material: PorousMaterial) -> Cut:
        """The same cut with another material in one part."""
        changed = tuple(
            replace(one, material=tabulate(material)) if isinstance(one, Layer) and one.name == part else one
            for one in self.parts
        )
        return replace(self, parts=changed, materials={**self.materials, part: material})


def cuts(work: Worksheet, faces: Sequence[WallFaces]) -> tuple[Cut, ...]:
    """The cuts of a parapet, everything they rest on written on the sheet.

    Args:
        work: the sheet.
        faces: of each year in a row.

    Raises:
        Unknown: a layer or a property is missing.
    """
    wall = read_hygric_layers(work)
    work.stop_if_missing()
    held = work.practice_input("mf", "hourly.film_held")
    always = work.practice_input("sb", "gap.leak_share")
    losses = gap_losses(work)
    changes = work.practice_input("n", "hourly.closed_exchange") if losses is None else 0.0
    gap = _Gaps(gap_height(work), losses, held, changes, _cavity_changes(work))
    out = [_mid_height(work, wall, faces, gap, always)]
    if top := _top(work, wall, faces, gap, always):
        out.append(top)
    out.append(_below(work, wall, faces, gap, always))
    return tuple(out)


CLOSURES: Final = {
    "open to the rooms below": "hourly.open_cavity",
    "closed but not airtight": "hourly.leaky_cavity",
}


def _cavity_changes(work: Worksheet) -> float:
    """Air changes of the parapet's cavity with the rooms below [1/h], by how it is closed at roof level."""
    word = work.word("parapet.cavity_at_roof")
    if word is None:
        leave_out(
            work,
            "How the cavity is closed is not given (parapet.cavity_at_roof): its air stands still.",
        )
        return 0.0
    work.input_word("", "parapet.cavity_at_roof")
    return work.practice_input("nc", CLOSURES[word]) if word in CLOSURES else 0.0


@dataclass(frozen=True)
class _Gaps:
    """The drainage gap: height [m], losses of its outlets, water its faces keep [kg/m²], air changes [1/h] if closed;
    cavity: air changes of the stud cavity with the air of the room [1/h]."""

    height: float
    losses: tuple[Loss, ...] | None
    held: float
    changes: float
    cavity: float


@dataclass
class _Parts:
    """The parts of a cut while they are put together."""

    work: Worksheet
    gaps: _Gaps
    parts: list[Layer | Gap]
    materials: dict[str, PorousMaterial]
    roles: dict[str, str]
    roomy: list[str] = field(default_factory=list)
    closed: str = ""

    def add(self, layer: HygricLayer) -> None:
        """A layer, as its kind of part."""
        self.roles[layer.name] = layer.role
        if layer.role == "finish":
            self.finish(layer)
        elif layer.role == "drainage layer":
            self.sheet(f"face of {layer.name}", layer.permeance, layer.humid_permeance)
            gaps = self.gaps
            exchange = gaps.changes * layer.thickness_m / 3600.0 if gaps.losses is None else 0.0
            self.closed = layer.name if gaps.losses is None else ""
            self.parts.append(
                Gap(layer.name, layer.thickness_m, gaps.height, gaps.losses, exchange, holds=gaps.held)
            )
        elif layer.air:
            exchange = self.gaps.cavity * layer.thickness_m / 3600.0
            self.parts.append(
                Gap(layer.name, layer.thickness_m, self.gaps.height, exchange=exchange, holds=CAVITY_HOLDS)
            )
            if exchange > 0.0:
                self.roomy.append(layer.name)
        elif layer.material is None:
            self.sheet(layer.name, layer.permeance, layer.humid_permeance, layer.thermal_resistance)
        else:
            self.store(layer.name, layer.material, layer.thickness_m)

    def sheet(
        self, name: str, permeance: float, humid: float | None = None, resistance: float = THIN
    ) -> None:
        """A membrane."""
        self.parts.append(Layer(name, film(name, permeance, max(resistance, METAL_RESISTANCE), humid)))

    def store(self, name: str, material: PorousMaterial, thickness: float) -> None:
        """A layer that stores heat and water."""
        self.parts.append(Layer(name, tabulate(material), thickness))
        self.materials[name] = material

    def finish(self, layer: HygricLayer) -> None:
        """A coat on the plaster: it passes the vapor that is stated of it, and takes up less rain than the plaster."""
        practice = self.work.practice_input
        thickness = practice("df", "hourly.finish_thickness")
        factor = air_permeability(REFERENCE_C) / (layer.permeance * thickness)
        coat = PorousMaterial(
            "finish", practice("ρf", "hourly.finish_density"), practice("cf", "hourly.finish_heat_capacity"),
            practice("λf", "hourly.finish_conductivity"), factor, factor, practice("w80f", "hourly.finish_water"),
            practice("wff", "hourly.finish_saturation"), practice("Af", "hourly.finish_absorption"),
        )  # fmt: skip
        self.store(layer.name, coat, thickness)

    def _class(self, material: PorousMaterial) -> Row | None:
        """How a material takes mold and holds moisture, or None."""
        return next(iter(self.work.practice.table(CLASSES).where(material=material.name)), None)

    def started(self, cut: str) -> dict[str, float]:
        """Humidity at the start of the parts that are not as dry as usual."""
        rows = {name: self._class(material) for name, material in self.materials.items()}
        sorts = {name: str(row["sort"]) if row else OTHER for name, row in rows.items()}
        return start_humidities(self.work, cut, self.materials, sorts, self.roles)

    def places(self, behind: str) -> tuple[Place, ...]:
        """Both faces of every layer that stores; held from the part named on."""
        out: list[Place] = []
        held = False
        for part in self.parts:
            held = held or part.name == behind
            if part.name not in self.materials or self.roles.get(part.name) == "finish":
                continue
            material = self.materials[part.name]
            assert isinstance(part, Layer)
            row = self._class(material)
            if row is None:
                self.work.missing.append(f"{part.name}: no class of mold is known for {material.name}")
                continue
            sort, mold, decline = (str(row[key]) for key in ("sort", "class", "decline"))
            for outer, side in ((True, "outer face"), (False, "inner face")):
                out.append(
                    Place(
                        f"{part.name}, {side}", part.name, outer, sort, mold, decline, material.density,
                        part.thickness, material.free_saturation, held,
                    )
                )  # fmt: skip
        return tuple(out)


def _mid_height(
    work: Worksheet, wall: Sequence[HygricLayer], faces: Sequence[WallFaces], gaps: _Gaps, always: float
) -> Cut:
    made = _Parts(work, gaps, [], {}, {})
    for layer in wall:
        made.add(layer)
    return _cut(
        MID_HEIGHT,
        made,
        [_year(one.plaster, one.roof_side, one) for one in faces],
        always,
    )


def _below(
    work: Worksheet, wall: Sequence[HygricLayer], faces: Sequence[WallFaces], gaps: _Gaps, always: float
) -> Cut:
    """The wall below: the layers out to the framing, its cavity, and the lining of the room."""
    made = _Parts(work, gaps, [], {}, {})
    for layer in wall:
        made.add(layer)
        if layer.role == "framing":
            break
    else:
        raise work.stop("build_up: the build-up has no framing, where the wall below the roof would end")
    framed = work.parapet.part("framing")
    if framed is not None and studs(framed):
        _lining(work, made)
    leave_out(
        work,
        "The wall below the roof: it has the layers of the parapet out to its framing; an interior lining of gypsum "
        "board with the stated retarder, or paint, is taken.",
    )
    return _cut(
        BELOW,
        made,
        [_year(one.plaster, one.room, one) for one in faces],
        always,
    )


RETARDERS: Final = {"class I": "vapor.class_1", "class II": "vapor.class_2", "class III": "vapor.class_3"}


def _lining(work: Worksheet, made: _Parts) -> None:
    word = work.word("parapet.interior_retarder")
    if word in RETARDERS:
        work.input_word("", "parapet.interior_retarder")
        made.sheet("interior retarder", work.practice_input("Wr", RETARDERS[word]))
    thickness = work.practice_input("dl", "hourly.lining_thickness")
    made.store("interior lining", porous(work.practice, "gypsum board", thickness), thickness)
    if word not in RETARDERS or word == "class III":
        made.sheet("paint", work.practice_input("Wp", "hourly.paint_permeance"))


def _top(
    work: Worksheet, wall: Sequence[HygricLayer], faces: Sequence[WallFaces], gaps: _Gaps, always: float
) -> Cut | None:
    """The top from the coping down to the cavity; None, with the reason, where it has no blocking or no coping."""
    pieces = read_top_layers(work)
    work.stop_if_missing()
    if {"blocking", "coping"} - {piece.role for piece in pieces}:
        leave_out(work, "The top of the parapet: no blocking or no coping is described.")
        return None
    coping = work.parapet.part("coping")
    made = _Parts(work, gaps, [], {}, {})
    for piece in pieces:
        if piece.role == "coping" and piece.material is None:
            made.sheet(piece.name, max(piece.permeance, TIGHT))
            depth = work.practice_input("dc", "hourly.coping_gap")
            exchange = work.practice_input("qc", "hourly.coping_exchange")
            made.parts.append(Gap("air under the coping", depth, 1.0, exchange=exchange, holds=gaps.held))
            continue
        made.add(piece)
        if piece.role == "coping" and coping is not None and coping.flag("drainage_over_top"):
            for layer in (one for one in wall if one.role == "drainage layer"):
                made.parts.append(Gap(f"{layer.name} over the top", layer.thickness_m, 1.0, holds=gaps.held))
    blocking = next(piece.name for piece in pieces if piece.role == "blocking")
    flashing = next((piece.name for piece in pieces if piece.role == "top flashing"), None)
    leave_out(work, "Below the blocking: the air of a closed cavity, as warm and as damp as outdoors.")
    years = [_year(one.coping, one.still, one) for one in faces]
    places = made.places(blocking)
    work.stop_if_missing()
    return Cut(
        TOP, tuple(made.parts), made.materials, tuple(years), ((flashing, always),) if flashing else (), blocking,
        f"of the rain on the top, past the joints of the coping and the membrane into {blocking}", places,
        made.started(TOP),
    )  # fmt: skip


def _year(outside: Face, inside: Face, faces: WallFaces) -> YearFaces:
    return YearFaces(outside, inside, faces.year.weather.month, faces.room, faces.gap_wind)


def _cut(name: str, made: _Parts, years: list[YearFaces], always: float) -> Cut:
    """A cut through the wall: water on the barrier always, and what is varied past it into what stands behind."""
    order = [part.name for part in made.parts]
    barrier = next((one for one in order if made.roles.get(one) == "barrier"), None)
    behind = order[order.index(barrier) + 1 :] if barrier else order[1:]
    leak = next((one for one in behind if one in made.materials), None)
    if leak is None:
        raise made.work.stop("build_up: nothing behind the barrier holds water")
    places = made.places(barrier or leak)
    made.work.stop_if_missing()
    return Cut(
        name, tuple(made.parts), made.materials, tuple(years), ((barrier, always),) if barrier else (), leak,
        f"of the rain driven onto the plaster, past the barrier into {leak}", places,
        made.started(name), tuple(made.roomy), made.closed,
    )  # fmt: skip
