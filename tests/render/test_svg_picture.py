"""The picture inside a page: links in the order of the wall, marks in shape and number, neither style nor script."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from urllib.parse import quote
from xml.etree import ElementTree

import pytest

from specgen.assessment import assess
from specgen.drawing.picture import Picture, picture_of
from specgen.intake.project import load_project
from specgen.model.finding import Severity
from specgen.render.page import page_template
from specgen.render.svg_picture import PartMark, marks_of, picture_svg
from tests.drawing.jobs import DEMOS, PRACTICE, demo

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = '"><script>alert(1)</script>'
STILL = Path("templates/live/still/picture.css")


def link(part: str) -> str:
    return f"?part={quote(part)}#fields"


def drawn(name: str = "mixed-humid-midrise") -> Picture:
    assessment = demo(next(one for one in DEMOS if one.name == name)).assessment
    found = picture_of(assessment, assessment.walls[0].parapet.name)
    assert found is not None
    return found


def links_of(svg: str, kind: str) -> list[ElementTree.Element]:
    return [one for one in ElementTree.fromstring(svg).iter(f"{SVG}a") if one.get("class") == kind]


def parts_of(svg: str) -> list[ElementTree.Element]:
    return links_of(svg, "part")


@pytest.mark.parametrize("folder", DEMOS, ids=lambda one: one.name)
def test_every_part_is_a_link_in_the_order_of_the_wall(folder: Path) -> None:
    assessment = demo(folder).assessment
    for wall in assessment.walls:
        found = picture_of(assessment, wall.parapet.name)
        assert found is not None
        links = parts_of(picture_svg(found, link))
        names = [part.id for part in wall.parapet.components()]
        assert [one.get("data-part") for one in links] == names
        assert [one.get("href") for one in links] == [link(name) for name in names]
        for one, part in zip(links, found.parts, strict=True):
            assert one.get("aria-label") == f"{part.number} {part.words}"


@pytest.mark.parametrize("folder", DEMOS, ids=lambda one: one.name)
def test_nothing_of_style_or_script_stands_in_it(folder: Path) -> None:
    assessment = demo(folder).assessment
    for wall in assessment.walls:
        found = picture_of(assessment, wall.parapet.name)
        assert found is not None
        marks = marks_of(assessment.findings, wall.parapet.name)
        svg = picture_svg(found, link, found.parts[0].id, marks)
        for one in ElementTree.fromstring(svg).iter():
            assert one.tag.removeprefix(SVG) in {
                "svg", "g", "a", "path", "circle", "text", "title", "desc",
            }  # fmt: skip
            assert not any(name == "style" or name.startswith("on") for name in one.attrib)
        assert svg == picture_svg(found, link, found.parts[0].id, dict(marks))


def test_the_chosen_part_alone_is_current() -> None:
    one = drawn()
    links = parts_of(picture_svg(one, link, one.parts[2].id))
    assert [each.get("data-part") for each in links if each.get("aria-current")] == [one.parts[2].id]
    assert not [each for each in parts_of(picture_svg(one, link, "no such part")) if each.get("aria-current")]


def test_marks_are_a_shape_and_a_number_and_words() -> None:
    one = drawn()
    ids = [part.id for part in one.parts[:4]]
    marks = dict(
        zip(
            ids,
            (PartMark(1, "defect"), PartMark(2, "risk"), PartMark(3, "unknown"), PartMark(0)),
            strict=True,
        )
    )
    svg = picture_svg(one, link, "", marks)
    places = {each.get("data-part"): each for each in links_of(svg, "place")}
    flags = [[each for each in places[name] if (each.get("class") or "").startswith("flag")] for name in ids]
    assert [[each.tag.removeprefix(SVG) for each in pair] for pair in flags] == [
        ["path", "text"],
        ["path", "text"],
        ["circle", "text"],
        [],
    ]
    square, diamond = (each[0].get("d") or "" for each in flags[:2])
    assert "h5.0" in square and "l3.0" in diamond
    assert [pair[1].text for pair in flags[:3]] == ["1", "2", "3"]
    assert [(a.get("aria-label") or "").partition(": ")[2] for a in parts_of(svg)[:4]] == [
        "1 finding, the worst: defect",
        "2 findings, the worst: risk",
        "3 findings, the worst: unknown",
        "",
    ]


def test_marks_count_what_somebody_must_act_on() -> None:
    assessment = demo(next(one for one in DEMOS if one.name == "faulty-parapet")).assessment
    name = assessment.walls[0].parapet.name
    marks = marks_of(assessment.findings, name)
    open_ones = [one for one in assessment.findings if one.counts and one.parapet == name and one.layer]
    assert sum(mark.count for mark in marks.values()) == len(open_ones)
    failed = {one.layer for one in open_ones if one.failed and one.severity is Severity.DEFECT}
    assert failed and {part for part, mark in marks.items() if mark.word == "defect"} == failed
    assert marks_of(assessment.findings, "another") == {}


def test_what_a_project_wrote_is_escaped() -> None:
    one = drawn()
    hostile = replace(
        one,
        title=HOSTILE,
        description=HOSTILE,
        parts=tuple(replace(part, id=HOSTILE + part.id, words=HOSTILE) for part in one.parts),
        ways=tuple(replace(way, words=HOSTILE) for way in one.ways),
    )
    svg = picture_svg(hostile, lambda part: f"?part={part}", HOSTILE + one.parts[0].id, {})
    assert "<script" not in svg
    assert [a.get("data-part") for a in parts_of(svg)] == [HOSTILE + part.id for part in one.parts]
    assert ElementTree.fromstring(svg).findtext(f"{SVG}title") == HOSTILE


def test_hostile_names_of_a_file_come_through(tmp_path: Path) -> None:
    file = tmp_path / "project.yaml"
    file.write_text(
        "project: {name: mill}\nparapets:\n  - name: '\"><script>P</script>'\n    build_up:\n"
        "      - {role: framing, id: '\"><script>x</script>', kind: concrete masonry}\n",
        "utf-8",
    )
    assessment = assess(load_project(file, PRACTICE), PRACTICE)
    found = picture_of(assessment, assessment.walls[0].parapet.name)
    assert found is not None
    svg = picture_svg(found, link, found.parts[0].id)
    assert "<script" not in svg and len(parts_of(svg)) == 1


def test_thin_parts_are_pressed_above_thick_ones() -> None:
    one = drawn()
    places = links_of(picture_svg(one, link), "place")
    assert {each.get("data-part") for each in places} == {part.id for part in one.parts}
    kinds = ["area" if each.find(f"{SVG}path[@class='area']") is not None else "line" for each in places]
    assert kinds == sorted(kinds)
    assert all(each.get("tabindex") == "-1" and each.get("aria-hidden") == "true" for each in places)


def test_each_control_layer_is_a_group_that_the_sheet_of_styles_can_show() -> None:
    one = drawn("faulty-parapet")
    classes = [
        each.get("class") or "" for each in ElementTree.fromstring(picture_svg(one, link)).iter(f"{SVG}g")
    ]
    rules = STILL.read_text("utf-8")
    for layer in ("water", "air", "vapor", "heat"):
        assert any(f"way-{layer}" in each.split() for each in classes)
        assert f":has(#show-{layer}:checked) .way-{layer}" in rules
    assert ".picture .way{display:none" in rules
    points = [each for each in classes if each.startswith("way ") and len(each.split()) > 2]
    assert any({"way-water", "way-air"} <= set(each.split()) for each in points)


def test_every_class_that_is_written_has_a_rule() -> None:
    one = drawn("faulty-parapet")
    marks = {
        one.parts[0].id: PartMark(1, "defect"),
        one.parts[1].id: PartMark(1, "risk"),
        one.parts[2].id: PartMark(1),
    }
    rules = STILL.read_text("utf-8")
    names = {
        name
        for each in re.findall(r'class="([^"]*)"', picture_svg(one, link, one.parts[3].id, marks))
        for name in each.split()
    }
    plain = {one.name for one in one.layers} | {"keys", "places"}  # groups without a look of their own
    assert {name for name in names - plain if f".{name}" not in rules} == set()


def test_the_figure_of_a_page_names_paths_and_open_points() -> None:
    one = drawn("faulty-parapet")
    parts = page_template("live/picture.html").module
    figure = parts.figure(picture_svg(one, link), one)
    assert figure.count("<svg ") == 1 and "&lt;svg" not in figure
    for way in one.ways:
        assert f'class="words-{way.layer}"' in figure
    assert all(f"<b>{point.key}</b>" in figure for point in one.open_points)
    switches = parts.switches()
    assert [f'id="show-{name}"' in switches for name in ("water", "air", "vapor", "heat")] == [True] * 4
    assert "style=" not in figure + switches
