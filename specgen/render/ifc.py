"""The parapets of a project as a building model in IFC4X3: layers, parts, materials, values and how each stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from specgen import __version__
from specgen.drawing.sizes import job_of
from specgen.drawing.solids import Solid, Solids, solids
from specgen.model.project import Component, Value
from specgen.practice.entries import Row
from specgen.render.ifc_file import ModelFile
from specgen.render.ifc_names import PLACE, SYSTEM, NothingThereError, element_of
from specgen.render.ifc_places import WallPlace, rounded, wall_places
from specgen.render.ifc_properties import WALL, PropertySets
from specgen.sections.words import capital
from specgen.specification import Specification
from specgen.units.counted import many
from specgen.wall.specified import new_work

NEW, EXISTING = "NEW", "EXISTING"  # values of PEnum_ElementStatus
SAME_POINT = 1.0e-5  # meters: points nearer than this are one
_MATERIALS = ("materials", "top_materials")


def ifc_file(spec: Specification, name: str) -> bytes:
    """The building model of a project: every parapet of which a part is described, each by itself.

    The same project makes the same bytes, whoever exports it when.

    Args:
        spec: the project as written.
        name: of the file, for its header.

    Raises:
        ImportError: the library of models is not installed, which the command tells before.
        NothingThereError: no parapet has a component.
    """
    if not wall_places(spec):
        raise NothingThereError("no parapet has a component yet; describe one first")
    return _Model(spec).written(name)


def not_in_the_model(spec: Specification) -> Iterator[str]:
    """What a project describes and the model does not hold, in words.

    Args:
        spec: the project as written.
    """
    joints = 0
    for parapet in spec.assessment.project.parapets:
        joints += len(parapet.transitions)
        if not any(parapet.components()):
            yield f"parapet {parapet.name}: no component is listed yet"
        for part in parapet.undecided:
            yield f"{part.id} at {parapet.name}: its kind is not known yet"
        for place in parapet.places:
            name = f"{place.what} {place.word('name') or ''}".strip()
            yield f"{name} at {parapet.name}: a place of the parapet, no element of its own"
    if joints:
        yield f"{many(joints, 'joint')} between components: their laps and tapes are no elements"


class _Model:
    """One file under construction."""

    def __init__(self, spec: Specification) -> None:
        self.spec, self.one = spec, spec.assessment
        self.model = ModelFile(spec.assessment.project.title)
        self.sets = PropertySets(self.model, self.one.practice)
        self.materials: dict[tuple[str, str], Any] = {}
        self.by_role: dict[str, list[Any]] = {}
        self.by_material: dict[tuple[str, str], list[Any]] = {}

    def written(self, name: str) -> bytes:
        storey = self._spatial()
        places = wall_places(self.spec)
        made = [_Wall(self, place).made() for place in places.values()]
        if made:
            self.model.root(
                "IfcRelContainedInSpatialStructure",
                ("walls in", "storey"),
                RelatedElements=made,
                RelatingStructure=storey,
            )
        self._classify()
        for key, parts in self.by_material.items():
            self.model.root(
                "IfcRelAssociatesMaterial",
                ("material", *key),
                RelatedObjects=parts,
                RelatingMaterial=self.material(*key),
            )
        return self.model.text(name, self.one.project.issued, f"specgen {__version__}")

    def _spatial(self) -> Any:
        """Project, site, building, and the storey at the roof, whose height is that of the building."""
        model, project = self.model, self.one.project
        origin = model.axes()
        north = model.direction(0.0, 1.0)
        self.context = model.make(
            "IfcGeometricRepresentationContext", None, "Model", 3, SAME_POINT, origin, north
        )
        self.body, self.axis, self.surface = (
            model.make(
                "IfcGeometricRepresentationSubContext",
                ContextIdentifier=name,
                ContextType="Model",
                ParentContext=self.context,
                TargetView=view,
            )
            for name, view in (("Body", "MODEL_VIEW"), ("Axis", "GRAPH_VIEW"), ("Surface", "MODEL_VIEW"))
        )
        top = model.root(
            "IfcProject",
            ("project",),
            Name=project.title or "Parapets",
            Phase=project.state or None,
            RepresentationContexts=[self.context],
            UnitsInContext=model.units(),
        )
        site_at = model.placed(None, model.axes())
        site = model.root(
            "IfcSite", ("site",), Name=project.site.word("place") or "Site", ObjectPlacement=site_at
        )
        building_at = model.placed(site_at, model.axes())
        building = model.root(
            "IfcBuilding", ("building",), Name=project.title or "Building", ObjectPlacement=building_at
        )
        high = rounded(project.building.si("height") or 0.0)
        self.storey_at = model.placed(building_at, model.axes((0.0, 0.0, high)))
        storey = model.root(
            "IfcBuildingStorey", ("storey",), Name="Roof", ObjectPlacement=self.storey_at, Elevation=high
        )
        for over, under, word in (
            (top, site, "site"),
            (site, building, "building"),
            (building, storey, "storey"),
        ):
            model.root("IfcRelAggregates", ("in", word), RelatingObject=over, RelatedObjects=[under])
        self._records(project, site, building)
        return storey

    def _records(self, project: Any, site: Any, building: Any) -> None:
        self.sets.attach(site, ("site",), self.sets.of_record("site", project.site))
        self.sets.attach(building, ("building",), self.sets.of_record("building", project.building))

    def material(self, role: str, kind: str) -> Any:
        """The generic material of a kind, made once, with what the practice knows of it."""
        found = self.materials.get((role, kind))
        if found is None:
            practice = self.one.practice
            title = practice.kind(role, kind).title
            found = self.model.make("IfcMaterial", Name=capital(title), Description=f"{role}: {kind}")
            self.materials[role, kind] = found
            row = next(iter(self._rows(role, kind)), None)
            if row is not None:
                self.sets.of_material(found, row)
        return found

    def _rows(self, role: str, kind: str) -> list[Row]:
        tables = (self.one.practice.table(name) for name in _MATERIALS)
        return [row for table in tables for row in table.where(role=role, kind=kind)]

    def _classify(self) -> None:
        """The role of every part, as a reference into a classification of ours."""
        if not self.by_role:
            return
        system = self.model.make("IfcClassification", Name=SYSTEM)
        for role, parts in self.by_role.items():
            title = self.one.practice.vocabulary.roles[role].title
            reference = self.model.make(
                "IfcClassificationReference", Identification=role, Name=title, ReferencedSource=system
            )
            self.model.root(
                "IfcRelAssociatesClassification",
                ("classified", role),
                RelatedObjects=parts,
                RelatingClassification=reference,
            )


class _Wall:
    """One parapet under construction: a wall of layers, with every part as an element of its own."""

    def __init__(self, all_walls: _Model, place: WallPlace) -> None:
        self.all, self.model, self.place = all_walls, all_walls.model, place
        self.parapet, self.length = place.wall.parapet, place.length
        self.cut: Solids = solids(job_of(place.wall, {}))

    def made(self) -> Any:
        model, parapet = self.model, self.parapet
        self.placement = model.placed(
            self.all.storey_at,
            model.axes((self.place.x, 0.0, 0.0), (0.0, 0.0, 1.0), (*self.place.along, 0.0)),
        )
        axis = model.line(((0.0, 0.0), (self.length, 0.0)))
        shape = model.make("IfcShapeRepresentation", self.all.axis, "Axis", "Curve2D", [axis])
        wall = model.root(
            "IfcWall",
            ("wall", parapet.name),
            Name=parapet.name,
            Description=self._description(),
            ObjectPlacement=self.placement,
            Representation=model.make("IfcProductDefinitionShape", None, None, [shape]),
            PredefinedType="PARAPET",
        )
        self._layers(wall)
        more: dict[str, Value] = {"external": True, "status": EXISTING if parapet.existing else NEW}
        self.all.sets.attach(wall, ("wall", parapet.name), self.all.sets.of_record(WALL, parapet, more))
        parts = [self._part(part) for part in parapet.components()]
        if parts:
            model.root(
                "IfcRelAggregates", ("parts of", parapet.name), RelatingObject=wall, RelatedObjects=parts
            )
        return wall

    def _description(self) -> str:
        words = ["Parapet described for its specification; where it stands in the building is not described"]
        if not self.parapet.has("length"):
            words.append("length not stated, shown one meter long")
        if self.parapet.has("radius"):
            words.append("curved in plan, shown straight")
        if self.cut.height.assumed:
            words.append("height not stated, drawn as assumed")
        return "; ".join(words) + "."

    def _layers(self, wall: Any) -> None:
        """The layer set from outside to inside, along the axis at the outer face."""
        model, layers = self.model, []
        for layer in self.cut.layers:
            part = self.parapet.by_id(layer.component)
            layers.append(
                model.make(
                    "IfcMaterialLayer",
                    Material=self.all.material(part.role, part.kind) if part else None,
                    LayerThickness=rounded(layer.thickness.value),
                    Name=layer.component or "not described",
                    Description="thickness as usual, not stated" if layer.thickness.assumed else None,
                )
            )
        if not layers:
            return
        layer_set = model.make("IfcMaterialLayerSet", layers, f"Build-up of {self.parapet.name}")
        usage = model.make(
            "IfcMaterialLayerSetUsage",
            ForLayerSet=layer_set,
            LayerSetDirection="AXIS2",
            DirectionSense="POSITIVE",
            OffsetFromReferenceLine=0.0,
        )
        model.root(
            "IfcRelAssociatesMaterial",
            ("layers of", self.parapet.name),
            RelatedObjects=[wall],
            RelatingMaterial=usage,
        )

    def _part(self, part: Component) -> Any:
        model, practice, names = self.model, self.all.one.practice, ("part", self.parapet.name, part.id)
        entity, kind = element_of(practice, part.role) or ("IfcBuildingElementProxy", "USERDEFINED")
        solid = next((one for one in self.cut.parts if one.component == part.id), None)
        element = model.root(
            entity,
            names,
            Name=part.id,
            Description=capital(practice.kind(part.role, part.kind).title),
            ObjectType=part.role,
            ObjectPlacement=model.placed(self.placement, model.axes()),
            Representation=self._shape(solid) if solid else None,
            PredefinedType=kind,
        )
        sets = self.all.sets.of_record(part.role, part, {"kind": part.kind}, self._asked(part))
        self.all.sets.attach(element, names, {PLACE: self._what(part, solid), **sets})
        self.all.by_role.setdefault(part.role, []).append(element)
        self.all.by_material.setdefault((part.role, part.kind), []).append(element)
        return element

    def _asked(self, part: Component) -> list[str]:
        """What requirements ask of a part itself, and not of its joints."""
        one, fields = self.all.one, self.all.one.practice.vocabulary.roles[part.role].fields
        every = one.requirements.of_role(part.role)
        here = (asked for asked in every if asked.holds_at(self.parapet.name, part.id))
        return [asked.attribute for asked in here if asked.attribute in fields]

    def _what(self, part: Component, solid: Solid | None) -> list[Any]:
        """What an element is: what the applicability of an IDS asks for."""
        one, assumed = (
            self.all.one,
            solid is not None and solid.thickness is not None and solid.thickness.assumed,
        )
        role = one.practice.vocabulary.roles[part.role]
        words: Mapping[str, str | bool] = {
            "Parapet": self.parapet.name,
            "Component": part.id,
            "Role": part.role,
            "Section": role.section,
            "Trade": role.trade_of(part.kind),
            "Status": NEW if new_work(one.project, self.parapet, one.practice, part) else EXISTING,
            "ThicknessAssumed": assumed,
        }
        return self.all.sets.labels(words)

    def _shape(self, solid: Solid) -> Any | None:
        """The section of a part pushed along the wall: a body, or a face where nobody knows how thick it is."""
        model, context, items, kind = self.model, self.all.body, [], "SweptSolid"
        for outline in solid.outlines:
            profile = model.make(
                "IfcArbitraryClosedProfileDef", "AREA", None, model.line(outline, closed=True)
            )
            items.append(self._pushed("IfcExtrudedAreaSolid", profile))
        if not items and solid.line:
            profile = model.make("IfcArbitraryOpenProfileDef", "CURVE", None, model.line(solid.line))
            items.append(self._pushed("IfcSurfaceOfLinearExtrusion", profile))
            context, kind = self.all.surface, "Surface3D"
        if not items:
            return None
        name = context.ContextIdentifier
        shape = model.make("IfcShapeRepresentation", context, name, kind, items)
        return model.make("IfcProductDefinitionShape", None, None, [shape])

    def _pushed(self, entity: str, profile: Any) -> Any:
        """A profile across the wall (its x toward the roof, its y upward) along the length of the wall."""
        across = self.model.axes((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
        return self.model.make(entity, profile, across, self.model.direction(0.0, 0.0, 1.0), self.length)
