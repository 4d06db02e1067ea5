"""A file of IFC4X3 under construction: entities with fixed ids, SI units, and a header without a clock."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any, Literal

from specgen.render.ifc_names import global_id
from specgen.render.ifc_places import rounded

if TYPE_CHECKING:
    import ifcopenshell

SCHEMA: Literal["IFC4X3"] = "IFC4X3"
_UNITS = (  # kind, prefix, name
    ("LENGTHUNIT", None, "METRE"),
    ("AREAUNIT", None, "SQUARE_METRE"),
    ("VOLUMEUNIT", None, "CUBIC_METRE"),
    ("PLANEANGLEUNIT", None, "RADIAN"),
    ("MASSUNIT", "KILO", "GRAM"),
    ("TIMEUNIT", None, "SECOND"),
    ("THERMODYNAMICTEMPERATUREUNIT", None, "KELVIN"),
    ("FORCEUNIT", None, "NEWTON"),
    ("PRESSUREUNIT", None, "PASCAL"),
    ("POWERUNIT", None, "WATT"),
)
_DERIVED: tuple[tuple[str, tuple[tuple[str, int], ...]], ...] = (  # kind, units with their exponents
    ("MASSDENSITYUNIT", (("MASSUNIT", 1), ("LENGTHUNIT", -3))),
    ("AREADENSITYUNIT", (("MASSUNIT", 1), ("LENGTHUNIT", -2))),
    ("LINEARFORCEUNIT", (("FORCEUNIT", 1), ("LENGTHUNIT", -1))),
    ("LINEARMOMENTUNIT", (("FORCEUNIT", 1), ("LENGTHUNIT", 1), ("LENGTHUNIT", -1))),
    ("LINEARVELOCITYUNIT", (("LENGTHUNIT", 1), ("TIMEUNIT", -1))),
    (
        "THERMALCONDUCTANCEUNIT",
        (("POWERUNIT", 1), ("LENGTHUNIT", -1), ("THERMODYNAMICTEMPERATUREUNIT", -1)),
    ),
    (
        "VAPORPERMEABILITYUNIT",
        (("MASSUNIT", 1), ("TIMEUNIT", -1), ("LENGTHUNIT", -1), ("PRESSUREUNIT", -1)),
    ),
)


class ModelFile:
    """Makes entities; a rooted one takes its id from its names, so that every export has the same."""

    def __init__(self, *owner: str) -> None:
        """Begin a file; ``owner`` names the project, behind which every id of the file is made."""
        import ifcopenshell

        self.file: ifcopenshell.file = ifcopenshell.file(schema=SCHEMA)
        self._owner = owner

    def make(self, entity: str, *values: Any, **named: Any) -> Any:
        """An entity without an id of its own."""
        return self.file.create_entity(entity, *values, **named)

    def root(self, entity: str, names: Sequence[str], **named: Any) -> Any:
        """An entity with a GlobalId, which follows of its names; the first says what it is."""
        return self.file.create_entity(entity, GlobalId=global_id(*self._owner, *names), **named)

    def point(self, *at: float) -> Any:
        """A point in two or three dimensions [m]."""
        return self.make("IfcCartesianPoint", tuple(rounded(one) for one in at))

    def direction(self, *to: float) -> Any:
        """A direction."""
        return self.make("IfcDirection", tuple(rounded(one) for one in to))

    def axes(
        self,
        at: tuple[float, float, float] = (0.0, 0.0, 0.0),
        up: tuple[float, float, float] | None = None,
        along: tuple[float, float, float] | None = None,
    ) -> Any:
        """Axes in space."""
        up_to = self.direction(*up) if up else None
        return self.make(
            "IfcAxis2Placement3D", self.point(*at), up_to, self.direction(*along) if along else None
        )

    def placed(self, under: Any | None, axes: Any) -> Any:
        """A placement relative to another one."""
        return self.make("IfcLocalPlacement", under, axes)

    def line(self, points: Iterable[tuple[float, ...]], *, closed: bool = False) -> Any:
        """A polyline; a closed one ends at its first point."""
        made = [self.point(*one) for one in points]
        return self.make("IfcPolyline", [*made, made[0]] if closed else made)

    def units(self) -> Any:
        """SI units for everything that is written."""
        basic = {
            kind: self.make("IfcSIUnit", UnitType=kind, Prefix=prefix, Name=name)
            for kind, prefix, name in _UNITS
        }
        derived = [
            self.make(
                "IfcDerivedUnit",
                [self.make("IfcDerivedUnitElement", basic[one], power) for one, power in parts],
                kind,
                None,
            )
            for kind, parts in _DERIVED
        ]
        return self.make("IfcUnitAssignment", [*basic.values(), *derived])

    def text(self, name: str, issued: str, program: str) -> bytes:
        """The file as written, with a header that holds no clock and no account.

        Args:
            name: of the file.
            issued: the issue date in ISO form; "" where there is none.
            program: that wrote it.
        """
        header = self.file.header
        header.file_description.description = ("",)
        head = header.file_name
        head.name, head.time_stamp = name, f"{issued}T00:00:00" if issued else ""
        head.author, head.organization = ("",), ("",)
        head.preprocessor_version, head.originating_system, head.authorization = program, program, ""
        written: str = self.file.to_string()  # type: ignore[no-untyped-call]
        return written.encode("ascii")
