"""Comments beside what they are about, as that is now; and one whose object is gone."""

from __future__ import annotations

from dataclasses import replace

import pytest

from specgen.explain.commented import GONE, commented, object_of, open_counts
from specgen.files.marks import Mark
from specgen.model.comment import About, Comment
from specgen.page.comments import about_field
from specgen.page.fields import Fields
from specgen.render.basis import basis_bytes
from specgen.specification import Specification, specify
from specgen.wall.differing import records_at
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING, FAULTY, REPO
from tests.render.html_reading import read_html
from tests.render.test_document_html import HOSTILE


@pytest.fixture(scope="module")
def spec() -> Specification:
    return specify(read_inputs(FAULTY, None, False).assessed())


def comment(about: About, text: str = "why?", answered: bool = False) -> Comment:
    time = "2026-11-30T09:15:00+00:00"
    return Comment(about, "A. B.", time, text, (), answered, Mark("comments.yaml", 1, 1))


def test_each_finding_paragraph_and_value_is_found(spec: Specification) -> None:
    for one in spec.assessment.findings:
        found = object_of(spec, About(finding=one.code, parapet=one.parapet, layer=one.layer))
        assert bool(found.gone) != one.shown or found.now, one
    for section in spec.sections:
        for traced in section.trace:
            found = object_of(spec, About(section=section.number, paragraph=traced.key))
            assert traced.place in f"{section.number} {found.where.rpartition(', ')[2]}" and found.now
    project = spec.assessment.project
    for wall in project.parapets:
        for part in wall.components():
            for key in part.values:
                found = object_of(spec, About(value=key, of=part.id, parapet=wall.name))
                assert found.now not in ("", "not stated") and wall.name in found.where
        for lap in wall.transitions:
            of = f"{lap.first} / {lap.second}"
            assert object_of(spec, About(value="upper", of=of, parapet=wall.name)).now
    assert object_of(spec, About(value="wind_speed", of="site")).now == project.site.values["wind_speed"].text
    assert object_of(spec, About(value="no such key", of="site")).now == "not stated"


@pytest.mark.parametrize(
    "about",
    [
        About(finding="XX99"),
        About(section="07 71 00", paragraph="gone"),
        About(section="99 99 99", paragraph="drip"),
        About(value="slope", of="coping", parapet="P-99"),
        About(value="slope", of="roof garden", parapet="P-1"),
        About(value="slope", of="nowhere"),
    ],
)
def test_what_is_gone_is_told_as_such(spec: Specification, about: About) -> None:
    (found,) = commented(spec, [comment(about)])
    assert found.object.gone == GONE[about.kind] and found.object.where == about.words


def test_what_waits_comes_first_and_is_counted(spec: Specification) -> None:
    done = comment(About(finding="A"), answered=True)
    waiting = comment(About(finding="A"), "and?")
    assert [one.open for one in commented(spec, [done, waiting])] == [True, False]
    assert open_counts([done, waiting, waiting]) == {About(finding="A"): 2}


def test_the_basis_report_shows_them_as_words() -> None:
    spec = specify(read_inputs(CONFORMING, None, False).assessed())
    asked = replace(comment(About(finding="XX99", parapet=HOSTILE), HOSTILE), name=HOSTILE)
    page = read_html(basis_bytes(spec, ["coping wind"], comments=[asked]).decode())
    (section,) = [one for one in page.all("section") if one.attributes.get("aria-labelledby") == "comments"]
    assert section.text.count(HOSTILE) == 3 and GONE["finding"] in section.text
    assert not page.all("script")
    assert "#comments" in {one.attributes.get("href") for one in page.all("a")}
    plain = read_html(basis_bytes(spec, ["coping wind"]).decode())
    assert "#comments" not in {one.attributes.get("href") for one in plain.all("a")}


@pytest.mark.parametrize("name", ["existing-repair", "mixed-humid-midrise", "marine-library"])
def test_a_comment_can_stand_on_every_field_that_the_page_shows(name: str) -> None:
    spec = specify(read_inputs(REPO / "projects" / name, None, False).assessed())
    project = spec.assessment.project
    made, count = Fields(spec.assessment), 0
    for wall in project.parapets:
        for _, record in records_at(wall):
            for view in made.of(record, wall.name):
                found = object_of(spec, about_field(view.address))
                assert found.now, view.address
                count += 1
    for record in (
        project.info,
        project.site,
        project.building,
        project.quality,
        project.trades,
        project.contacts,
    ):
        for view in made.of(record):
            assert object_of(spec, about_field(view.address)).now, view.address
            count += 1
    assert count > 100
