"""Topics hold by the published schema, are read by a client, and name the elements of the building model."""

from __future__ import annotations

import io
import zipfile
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from lxml import etree

from specgen.assessment import assess
from specgen.explain.commented import commented
from specgen.files.marks import Mark
from specgen.intake.project import load_project
from specgen.model.comment import About, Answer, Comment
from specgen.model.folded import folded
from specgen.render.bcf import ANSWERED, COMMENT, FINDING, OPEN, WAIVED, Bcf, bcf_file, status_of
from specgen.render.ifc_names import part_id, wall_id
from specgen.specification import specify
from tests.chain.runs import copied
from tests.conftest import LONG
from tests.render.bim_examples import PRACTICE, PROJECTS, THREE, spec_of

SCHEMAS = Path(__file__).parents[1] / "published" / "bcf_3_0"
TRIED = tuple(sorted(PROJECTS.iterdir())) if LONG else (THREE,)
DAY = date(2026, 11, 2)
KINDS = {
    "bcf.version": "version",
    "extensions.xml": "extensions",
    "project.bcfp": "project",
    "markup.bcf": "markup",
    "viewpoint.bcfv": "visinfo",
}
AT = Mark("comments.yaml", 2, 3)
ASKED = (
    Comment(
        About(finding="TF03", parapet="P-1"),
        "A. B.",
        "2026-11-03T09:15:00-05:00",
        "Ask the maker\x07 of the sheet.",
        (Answer("C. D.", "2026-11-04T10:00:00-05:00", "Asked."),),
        False,
        AT,
    ),
    Comment(About(value="slope", of="coping", parapet="P-2"), "A. B.", "2026-11-03T09:20:00Z", "Why?", (), True, AT),
    Comment(About(finding="CP09"), "A. B.", "2026-11-03T09:25:00Z", "Gone?", (), False, AT),
)  # fmt: skip


@cache
def made(folder: Path) -> Bcf:
    spec = spec_of(folder)
    return bcf_file(spec, commented(spec, ASKED if folder == THREE else ()), DAY)


def parts(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


@pytest.mark.parametrize("folder", TRIED, ids=lambda one: one.name)
def test_every_part_holds_by_the_published_schema(folder):
    schemas = {kind: etree.XMLSchema(etree.parse(SCHEMAS / f"{kind}.xsd")) for kind in {*KINDS.values()}}
    for name, data in parts(made(folder).data).items():
        kind = KINDS.get(name.rpartition("/")[2])
        if kind is None:
            assert name.endswith("/snapshot.png") and data.startswith(b"\x89PNG"), name
        else:
            schemas[kind].assertValid(etree.fromstring(data))
    broken = etree.fromstring(parts(made(THREE).data)["bcf.version"].replace(b"VersionId", b"Version"))
    assert not schemas["version"].validate(broken)


@pytest.mark.parametrize("folder", TRIED, ids=lambda one: one.name)
def test_there_is_a_topic_for_each_finding_that_counts_or_was_decided(folder):
    topics = [one for one in made(folder).topics if one.type == FINDING]
    expected = folded(one for one in spec_of(folder).assessment.findings if status_of(one))
    assert [(one.labels, one.status) for one in topics] == [
        ((each.finding.word, each.finding.code), status_of(each.finding)) for each in expected
    ]
    assert len({one.guid for one in made(folder).topics}) == len(made(folder).topics)


def test_a_topic_says_what_why_what_to_do_and_where_it_comes_from():
    (one,) = [one for one in made(THREE).topics if one.type == FINDING]
    found = next(each for each in spec_of(THREE).assessment.findings if each.code == "TF03" and each.counts)
    assert (one.title, one.status, one.priority) == (
        "TF03 flashing and wall barrier, P-1, P-2, P-3",
        OPEN,
        "query",
    )
    assert found.reason in one.description and "Source: " in one.description
    assert "ask both manufacturers in writing" in one.description


def test_a_view_selects_the_elements_of_the_model_at_every_parapet():
    (topic,) = [one for one in made(THREE).topics if one.type == FINDING]
    view = etree.fromstring(parts(made(THREE).data)[f"{topic.guid}/viewpoint.bcfv"])
    title = spec_of(THREE).assessment.project.title
    selected = [one.get("IfcGuid") for one in view.iterfind("Components/Selection/Component")]
    assert selected == [part_id(title, name, "top flashing") for name in ("P-1", "P-2", "P-3")]
    asked = next(one for one in made(THREE).topics if one.labels == ("finding",))
    view = etree.fromstring(parts(made(THREE).data)[f"{asked.guid}/viewpoint.bcfv"])
    selected = [one.get("IfcGuid") for one in view.iterfind("Components/Selection/Component")]
    assert selected == [wall_id(title, name) for name in ("P-1", "P-2", "P-3")]


def test_comments_stand_in_the_topic_of_their_finding_and_others_in_one_of_their_own():
    topics = {one.labels[-1]: one for one in made(THREE).topics}
    assert list(topics) == ["TF03", "finding", "value"]
    assert [(one.type, one.status) for one in topics.values()][1:] == [(COMMENT, OPEN), (COMMENT, ANSWERED)]
    assert topics["finding"].description == "no rule finds this any more"
    markup = etree.fromstring(parts(made(THREE).data)[f"{topics['TF03'].guid}/markup.bcf"])
    written = [
        (one.findtext("Author"), one.findtext("Comment")) for one in markup.iter("Comment") if len(one)
    ]
    assert written == [("A. B.", "Ask the maker of the sheet."), ("C. D.", "Asked.")]


def test_a_waived_finding_stays_a_topic_with_who_accepted_it(tmp_path):
    waiver = "{rule: TF03, parapet: all, by: A. B., date: 2026-11-01, reason: both makers answered}"
    job = copied(THREE, tmp_path / "job", ("\nparapets:", f"\nwaivers:\n  - {waiver}\nparapets:"))
    (one,) = bcf_file(specify(assess(load_project(job, PRACTICE), PRACTICE)), (), DAY).topics
    assert one.status == WAIVED and "Accepted by A. B., 2026-11-01: both makers answered." in one.description
    assert one.guid == next(each for each in made(THREE).topics if each.type == FINDING).guid


def test_the_same_project_makes_the_same_bytes():
    spec = spec_of(THREE)
    assert bcf_file(spec, commented(spec, ASKED), DAY).data == made(THREE).data


@pytest.mark.parametrize("folder", TRIED, ids=lambda one: one.name)
def test_a_client_reads_every_topic_with_its_view_and_its_picture(folder, tmp_path):
    client = pytest.importorskip("bcf.v3.bcfxml", reason="bcf-client is not installed: no BCF is read back")
    path = tmp_path / "walls.bcf"
    path.write_bytes(made(folder).data)
    with client.BcfXml.load(path) as read:
        found = dict(read.topics)
        assert set(found) == {str(one.guid) for one in made(folder).topics}
        for one in made(folder).topics:
            topic = found[str(one.guid)].topic
            assert (topic.title, topic.topic_status, topic.topic_type) == (one.title, one.status, one.type)
            (view,) = found[str(one.guid)].viewpoints.values()
            assert view.snapshot and view.visualization_info.components.selection.component
