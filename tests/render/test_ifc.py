"""The building model holds the wall as it is described: parts, sizes, materials, values, and how each value stands."""

from __future__ import annotations

from collections import Counter
from functools import cache
from importlib.util import find_spec
from itertools import pairwise
from math import fsum, hypot
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest

from specgen.assessment import assess
from specgen.drawing.sizes import job_of
from specgen.drawing.solids import Solid, solids
from specgen.intake.project import load_project
from specgen.model.project import Component, Stated
from specgen.model.requirement import Requirement
from specgen.render.ids import ids_file
from specgen.render.ifc_names import PLACE, capitals, modelled, part_id, set_of
from specgen.requirements.judge import Standing, judge
from specgen.specification import specify
from tests.conftest import LONG
from tests.render.bim_examples import ONE, PRACTICE, PROJECTS, STATED, spec_of

pytestmark = pytest.mark.skipif(
    find_spec("ifcopenshell") is None,
    reason="ifcopenshell (extra bim) is not installed: no building model is tried",
)

FOLDERS = tuple(sorted((*PROJECTS.iterdir(), *STATED.iterdir())))
TRIED = FOLDERS if LONG else (ONE,)


@cache
def data_of(folder: Path) -> bytes:
    from specgen.render.ifc import ifc_file

    return ifc_file(spec_of(folder), "walls.ifc")


@cache
def model_of(folder: Path) -> Any:
    import ifcopenshell

    return ifcopenshell.file.from_string(data_of(folder).decode("ascii"))


def named(folder: Path) -> str:
    return f"{folder.parent.name}-{folder.name}"


def element(folder: Path, parapet: str, component: str) -> Any:
    return model_of(folder).by_guid(part_id(spec_of(folder).assessment.project.title, parapet, component))


# The validator leaves the file of its rules open.
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning", "ignore::ResourceWarning")
@pytest.mark.parametrize("folder", TRIED, ids=named)
def test_the_model_holds_by_its_schema(folder):
    import ifcopenshell.validate

    log = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(model_of(folder), log, express_rules=LONG)
    assert log.statements == []


@pytest.mark.parametrize("folder", TRIED, ids=named)
def test_every_component_is_one_element_with_its_role_its_material_and_its_parapet(folder):
    import ifcopenshell.util.classification as classes
    import ifcopenshell.util.element as elements

    spec = spec_of(folder)
    walls = [one for one in spec.assessment.walls if any(one.parapet.components())]
    assert len(model_of(folder).by_type("IfcWall")) == len(walls)
    for wall in walls:
        for part in wall.parapet.components():
            made = element(folder, wall.parapet.name, part.id)
            assert (made.Name, made.ObjectType) == (part.id, part.role)
            assert [one.Identification for one in classes.get_references(made)] == [part.role]
            assert elements.get_aggregate(made).Name == wall.parapet.name
            assert elements.get_pset(made, PLACE)["Parapet"] == wall.parapet.name
            assert elements.get_material(made).Description == f"{part.role}: {part.kind}"
            assert made.Representation is not None
    ids = Counter(one.GlobalId for one in model_of(folder).by_type("IfcRoot"))
    assert not [one for one, times in ids.items() if times > 1]


def test_the_same_project_makes_the_same_bytes_and_no_clock_stands_in_them():
    from specgen.render.ifc import ifc_file

    assert ifc_file(spec_of(ONE), "walls.ifc") == data_of(ONE)
    head = data_of(ONE).split(b"ENDSEC")[0].decode("ascii")
    issued = spec_of(ONE).assessment.project.issued
    assert f"'walls.ifc','{issued}T00:00:00'" in head and "specgen" in head


@pytest.mark.parametrize("folder", TRIED, ids=named)
def test_each_value_stands_as_the_project_has_it(folder):
    import ifcopenshell.util.element as elements

    for wall in spec_of(folder).assessment.walls:
        for part in wall.parapet.components():
            sets = elements.get_psets(element(folder, wall.parapet.name, part.id))
            standing = sets[f"{set_of(part.role)}Standing"]
            for key in part.values:
                name = "".join(word.capitalize() for word in key.split("_"))
                assert standing[name] == ("specified" if key in part.specified else "stated"), (part.id, key)
            for key in part.unknown:
                name = "".join(word.capitalize() for word in key.split("_"))
                assert (standing[name], sets[set_of(part.role)][name]) == ("unknown", None)


def _volume(shape: Any) -> float:
    """Of a closed body of triangles, by the divergence theorem."""
    points, faces = shape.geometry.verts, shape.geometry.faces
    at = [points[3 * one : 3 * one + 3] for one in faces]
    return abs(
        fsum(
            (
                a[0] * (b[1] * c[2] - b[2] * c[1])
                + a[1] * (b[2] * c[0] - b[0] * c[2])
                + a[2] * (b[0] * c[1] - b[1] * c[0])
            )
            / 6.0
            for a, b, c in zip(at[0::3], at[1::3], at[2::3], strict=True)
        )
    )


def _area(solid: Solid) -> float:
    """Of a section, by the shoelace formula."""
    return fsum(
        abs(fsum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(one, (*one[1:], one[0]), strict=True))) / 2.0
        for one in solid.outlines
    )


@pytest.mark.parametrize("folder", TRIED, ids=named)
def test_the_volume_of_each_part_is_its_section_times_its_length(folder):
    """Of layers thickness by height by length; of bent sheets thickness by girth, within what a cut fold lacks."""
    import ifcopenshell.geom as geom

    settings = geom.settings()
    for wall in spec_of(folder).assessment.walls:
        long = wall.parapet.si("length") or 1.0
        for solid in solids(job_of(wall, {})).parts:
            if not solid.outlines:
                continue
            made = element(folder, wall.parapet.name, solid.component)
            volume = _volume(geom.create_shape(settings, made))
            assert volume == pytest.approx(_area(solid) * long, rel=1e-6), solid.component
            if solid.line and solid.thickness:
                girth = fsum(hypot(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in pairwise(solid.line))
                assert volume == pytest.approx(solid.thickness.value * girth * long, rel=0.03), (
                    solid.component
                )
            elif solid.thickness:
                low, high = (pick(y for _, y in solid.outlines[0]) for pick in (min, max))
                assert volume == pytest.approx(solid.thickness.value * (high - low) * long, rel=1e-5), (
                    solid.component
                )


def test_a_layer_is_as_thick_as_it_is_stated_and_the_layers_together_as_the_wall():
    (wall,) = model_of(ONE).by_type("IfcWall")
    (usage,) = [
        one for rel in wall.HasAssociations for one in (getattr(rel, "RelatingMaterial", None),) if one
    ]
    layers = {one.Name: one.LayerThickness for one in usage.ForLayerSet.MaterialLayers}
    parapet = spec_of(ONE).assessment.walls[0].parapet
    for part in parapet.build_up:
        stated = part.si("thickness") if part.has("thickness") else None
        if part.id in layers and stated is not None:
            assert layers[part.id] == pytest.approx(stated, abs=1e-9)
    assert fsum(layers.values()) == pytest.approx(parapet.si("thickness") or 0.0, abs=0.005)


SIDES = (("west", (-1, 0)), ("north", (0, 1)), ("east", (1, 0)), ("south", (0, -1)))


@pytest.mark.parametrize(("looks", "to"), SIDES if LONG else SIDES[:1])
def test_the_outer_face_looks_to_where_the_parapet_does(looks, to):
    from dataclasses import replace

    import ifcopenshell
    import ifcopenshell.util.placement as placement

    from specgen.render.ifc import ifc_file

    project = load_project(ONE, PRACTICE)
    (parapet,) = project.parapets
    turned = replace(parapet, values={**parapet.values, "orientation": looks})
    spec = spec_of(ONE).again(replace(project, parapets=(turned,)))
    made = ifcopenshell.file.from_string(ifc_file(spec, "walls.ifc").decode("ascii"))
    at = placement.get_local_placement(made.by_type("IfcWall")[0].ObjectPlacement)
    assert [round(float(-at[row][1]), 6) + 0.0 for row in (0, 1)] == list(
        to
    )  # the section's x runs toward the roof


def _misses(asked: Requirement, part: Component) -> bool:
    """Whether the house itself would not let the value of a part pass, by whatever method it was measured."""
    stated = Stated(part.kind) if asked.attribute == "kind" else part.stated(asked.attribute)
    standing = judge(asked, stated, PRACTICE).standing
    return standing in (Standing.MISSED, Standing.NOT_STATED, Standing.OPEN)


def test_what_the_model_does_not_hold_is_named(tmp_path):
    from specgen.render.ifc import not_in_the_model

    (tmp_path / "project.yaml").write_text(
        "project: {name: Half Done}\nparapets:\n  - name: site\n    build_up:\n"
        "      - {role: plaster, kind: portland cement plaster}\n      - {role: barrier, kind: unknown}\n"
        "  - name: project\n",
        encoding="utf-8",
    )
    spec = specify(assess(load_project(tmp_path, PRACTICE), PRACTICE))
    assert list(not_in_the_model(spec)) == [
        "barrier at site: its kind is not known yet",
        "parapet project: no component is listed yet",
    ]


@cache
def ids_of(folder: Path) -> Any:
    """The IDS of an example as a checker reads it."""
    ids = pytest.importorskip(
        "ifctester.ids", reason="ifctester is not installed: no model is held against an IDS"
    )
    with TemporaryDirectory() as there:
        path = Path(there) / "walls.ids"
        path.write_bytes(ids_file(spec_of(folder)).data)
        return ids.open(str(path))


def failed(folder: Path, model: Any) -> set[tuple[str, str]]:
    """What a checker finds wrong in a model: the requirement by its id, the element by its own."""
    checked = ids_of(folder)
    checked.validate(model)
    assert all(each.applicable_entities for each in checked.specifications)
    return {
        (key.get("identifier"), one["element"].GlobalId)
        for key, each in zip(_written(ids_file(spec_of(folder)).data), checked.specifications, strict=True)
        for wanted in each.requirements
        for one in wanted.failures
    }


@pytest.mark.parametrize("folder", TRIED, ids=named)
def test_a_checker_finds_in_the_model_what_the_judge_finds_in_the_project(folder):
    spec = spec_of(folder)
    title, asked_for = spec.assessment.project.title, ids_file(spec).asked
    expected = {
        (asked.id, part_id(title, wall.parapet.name, part.id))
        for asked in map(spec.assessment.requirements.by_id.__getitem__, asked_for)
        for wall in spec.assessment.walls
        for part in wall.parapet.components()
        if part.role == asked.role and asked.holds_at(wall.parapet.name, part.id) and _misses(asked, part)
    }
    assert failed(folder, model_of(folder)) == expected


def _bounded(folder: Path) -> list[tuple[Requirement, Any]]:
    """Each requirement with a bound that a part of the model meets, with the property that meets it."""
    spec, found = spec_of(folder), []
    for key in ids_file(spec).asked:
        asked = spec.assessment.requirements.by_id[key]
        wall = next(one for one in spec.assessment.walls if asked.holds_at(one.parapet.name))
        part = wall.parapet.part(asked.role)
        if part is None or asked.limit.comparison not in ("at least", "at most") or _misses(asked, part):
            continue
        for rel in element(folder, wall.parapet.name, part.id).IsDefinedBy:
            made = rel.RelatingPropertyDefinition
            if made.Name == set_of(asked.role):
                found += [(asked, one) for one in made.HasProperties if one.Name == capitals(asked.attribute)]
    return found


@pytest.mark.parametrize("folder", TRIED, ids=named)
def test_a_broken_value_fails_at_its_own_requirement_alone(folder):
    """Each bound of the small wall, some of the others; in the short run one."""
    before = failed(folder, model_of(folder))
    every = _bounded(folder)
    assert len(every) > 10
    step = 1 if folder == ONE else len(every) // 5
    for asked, one in every[::step] if LONG else every[:1]:
        was, limit = one.NominalValue, modelled(PRACTICE, asked.limit.value)
        assert limit is not None
        low = asked.limit.comparison == "at least"
        beyond = limit.value * (0.99 if low else 1.01) if was.is_a() != "IfcInteger" else int(limit.value) - 1
        one.NominalValue = model_of(folder).create_entity(was.is_a(), beyond)
        after = failed(folder, model_of(folder))
        one.NominalValue = was
        assert {key for key, _ in after - before} == {asked.id}, asked.id
        assert before <= after


def _written(data: bytes) -> list[Any]:
    from lxml import etree

    return etree.fromstring(data).findall(".//{*}specification")
