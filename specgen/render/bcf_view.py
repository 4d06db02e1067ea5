"""What a topic shows: the elements of the building model that it is about, a view of them, and the wall as a picture."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from uuid import UUID

from lxml import etree

from specgen.drawing.picture import picture_of
from specgen.drawing.picture_marked import marked
from specgen.render.ifc_names import part_id, wall_id
from specgen.render.ifc_places import WallPlace, rounded, wall_places
from specgen.render.png_drawing import png_bytes
from specgen.render.xml_tree import under, written
from specgen.specification import Specification

_DOTS_AN_INCH = 144
_BEFORE = 1.0  # of the end of the wall: where one stands who looks along it [m]
_ROOM = 1.4  # times the height of the wall, above and below it


@dataclass(frozen=True)
class TopicSubject:
    """What a topic is about: some parapets, and a component of each, or all of them where it has none."""

    parapets: tuple[str, ...]
    component: str = ""


class Views:
    """The views of one project; a picture is drawn once for all topics on the same part."""

    def __init__(self, spec: Specification) -> None:
        self._spec, self._places = spec, wall_places(spec)
        self.snapshot = cache(self._snapshot)

    def viewpoint(self, shown: TopicSubject, guid: UUID) -> bytes | None:
        """The view as XML; None where none of its parapets stands in the model."""
        places = [place for name, place in self._places.items() if name in shown.parapets]
        if not places:
            return None
        root = etree.Element("VisualizationInfo", Guid=str(guid))
        components = under(root, "Components")
        selected = under(components, "Selection")
        for place in places:
            under(selected, "Component", IfcGuid=self._element(place, shown.component))
        under(components, "Visibility", DefaultVisibility="true")
        _camera(root, places[0])
        return written(root)

    def _element(self, place: WallPlace, component: str) -> str:
        parapet, title = place.wall.parapet, self._spec.assessment.project.title
        if parapet.by_id(component):
            return part_id(title, parapet.name, component)
        return wall_id(title, parapet.name)

    def _snapshot(self, parapet: str, component: str) -> bytes | None:
        """The picture of a parapet with the component marked; None where the project has no such parapet."""
        picture = picture_of(self._spec.assessment, parapet)
        return png_bytes(marked(picture, component), _DOTS_AN_INCH) if picture else None


def _camera(root: etree._Element, place: WallPlace) -> None:
    """Back along the wall from its far end, as its section is drawn: the outer face at the left."""
    high = place.wall.parapet.si("height") or 1.0
    camera = under(root, "OrthogonalCamera")
    x, y = place.along
    for name, at in (
        ("CameraViewPoint", place.point(place.length + _BEFORE, 0.0, high / 2.0)),
        ("CameraDirection", (rounded(-x), rounded(-y), 0.0)),
        ("CameraUpVector", (0.0, 0.0, 1.0)),
    ):
        made = under(camera, name)
        for axis, value in zip("XYZ", at, strict=True):
            under(made, axis, f"{value:.9g}")
    under(camera, "ViewToWorldScale", f"{_ROOM * high:.9g}")
    under(camera, "AspectRatio", "1")
