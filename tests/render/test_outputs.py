"""The real documents in Word: reopened they say what the tree says, hold to the schema, and read alike elsewhere."""

from __future__ import annotations

import dataclasses
import io
import json
import re
import zipfile
from pathlib import Path

import pytest

from specgen.assessment import assess
from specgen.files.writing import OutputFolder
from specgen.intake.project import load_project
from specgen.intake.submittal import load_submission
from specgen.model.document import CrossRef, Document, Para, Properties, Style, Table, numbered, text
from specgen.model.plain import FORMAT_NUMBER, plain
from specgen.practice.load import load_practice
from specgen.render.files import docx_bytes, file_stem, without_folders
from specgen.render.issues import Record
from specgen.render.outputs import add_issue, trace
from specgen.render.replies import add_review, review_stem
from specgen.review.judge import review
from specgen.sections.checklist import checklist_document
from specgen.sections.manual import manual
from specgen.specification import Specification, specify
from tests.chain.runs import CONFORMING, FAULTY, contents
from tests.published import test_word_libreoffice as libreoffice
from tests.published.test_word_schema import errors
from tests.render.word_reading import Line, lines, opened


@dataclasses.dataclass(frozen=True)
class Issue:
    """One project with everything that is written of it."""

    spec: Specification
    trees: dict[str, Document]  # by file name
    files: dict[str, bytes]


def issue(project: Path, folder: Path) -> Issue:
    practice = load_practice()
    assessment = assess(load_project(project, practice), practice)
    spec = specify(assessment)
    out = OutputFolder(folder)
    add_issue(out, spec, Record())
    trees = {f"{file_stem(one.number, one.title)}.docx": one.document for one in spec.sections}
    trees["submittal-checklist.docx"] = checklist_document(spec.rows, spec.sections, assessment.project)
    for path in sorted((project / "submittals").glob("*.yaml")):
        submission = load_submission(path, practice)
        reviews = review(submission, assessment.requirements, spec.paragraphs, practice, assessment.system)
        name, letter = add_review(out, assessment, submission, reviews)
        trees[name] = letter
    out.commit()
    return Issue(spec, trees, contents(folder))


@pytest.fixture(scope="module", params=[CONFORMING, FAULTY], ids=lambda path: path.name)
def made(request, tmp_path_factory) -> Issue:
    return issue(request.param, tmp_path_factory.mktemp("issue"))


@pytest.fixture(scope="module")
def conforming(tmp_path_factory) -> Issue:
    return issue(CONFORMING, tmp_path_factory.mktemp("conforming"))


def wanted(tree: Document) -> list[Line]:
    """The paragraphs of a tree as a reader of the file should see them."""
    labels = {id(one.para): one.label for one in numbered(tree.blocks)}
    return [
        Line(one.style.value, labels.get(id(one), "•" if one.style is Style.BULLET else ""), one.text)
        for one in tree.paragraphs()
    ]


def test_each_document_is_a_file_and_each_file_a_document(made):
    bound = {"project-manual.docx"} | {name for name in made.files if name.startswith("field/")}
    assert {name for name in made.files if name.endswith(".docx")} == set(made.trees) | bound
    others = {name for name in made.files if not name.endswith(".docx")}
    assert {"manifest.json", "trace.json", "submittal-checklist.json"} <= others


def test_paragraphs_styles_and_computed_numbers_are_those_of_the_tree(made):
    for name, tree in made.trees.items():
        assert lines(made.files[name]) == wanted(tree), name


def test_tables_are_those_of_the_tree(made):
    for name, tree in made.trees.items():
        tables = [block for block in tree.blocks if isinstance(block, Table)]
        found = [
            [tuple(cell.text for cell in row.cells) for row in table.rows]
            for table in opened(made.files[name]).tables
        ]
        assert found == [[one.header, *one.rows] for one in tables], name


def test_a_file_says_what_it_is(made):
    for name, tree in made.trees.items():
        word = opened(made.files[name])
        core = word.core_properties
        assert (core.title, core.category) == (tree.properties.title, made.spec.assessment.project.title)
        assert core.author == ""
        margins = [
            p.text for part in (word.sections[0].header, word.sections[0].footer) for p in part.paragraphs
        ]
        assert tree.header_left in "\n".join(margins)
        assert tree.footer_left in "\n".join(margins)


def test_every_reference_is_a_field_that_points_at_a_paragraph(conforming):
    seen = 0
    for section in conforming.spec.sections:
        name = f"{file_stem(section.number, section.title)}.docx"
        xml = zipfile.ZipFile(io.BytesIO(conforming.files[name])).read("word/document.xml").decode()
        marks = re.findall(r'<w:bookmarkStart[^>]*w:name="([^"]+)"', xml)
        fields = re.findall(r"<w:instrText[^>]*> REF (\S+) ", xml)
        parts = [part for para in section.document.paragraphs() for part in para.content]
        keys = {part.key for part in parts if isinstance(part, CrossRef)}
        assert len(set(marks)) == len(marks)
        assert set(fields) <= set(marks)
        # A paragraph's number is made of its article's field and its own.
        assert len(set(fields)) >= len(keys)
        seen += len(keys)
    assert seen > 20


def test_each_checklist_row_names_a_paragraph_that_is_printed(made):
    printed = {
        (section.number, one.number)
        for section in made.spec.sections
        for one in numbered(section.document.blocks)
    }
    assert {(row.section, row.paragraph) for row in made.spec.rows} <= printed


@pytest.mark.word
def test_the_validator_finds_no_error_in_the_real_documents(conforming, tmp_path):
    for name in (*conforming.trees, "project-manual.docx"):
        path = tmp_path / name
        path.write_bytes(conforming.files[name])
        assert errors(path) == [], name


@pytest.mark.word
@pytest.mark.skipif(libreoffice.SOFFICE is None, reason="LibreOffice not run: soffice is not installed")
def test_libreoffice_reads_the_same_words_and_numbers(conforming, tmp_path):
    name = "07-71-00-copings.docx"
    path = tmp_path / name
    path.write_bytes(conforming.files[name])
    content = libreoffice.saved_as("txt:Text (encoded):UTF8", path, tmp_path / "profile").read_text(
        "utf-8-sig"
    )
    found = [" ".join(line.split()) for line in re.split(r"[\n\t]", content) if line.strip()]
    assert found == libreoffice.visible(conforming.trees[name])


@pytest.mark.word
@pytest.mark.skipif(libreoffice.SOFFICE is None, reason="LibreOffice not run: soffice is not installed")
def test_libreoffice_reads_the_manual_as_its_sections_one_after_the_other(conforming, tmp_path):
    path = tmp_path / "project-manual.docx"
    path.write_bytes(conforming.files[path.name])
    content = libreoffice.saved_as("txt:Text (encoded):UTF8", path, tmp_path / "profile").read_text(
        "utf-8-sig"
    )
    found = [" ".join(line.split()) for line in re.split(r"[\n\t]", content) if line.strip()]
    assert found == libreoffice.volume_lines(
        manual(conforming.spec.assessment, conforming.spec.sections, conforming.spec.paragraphs)
    )


def test_the_trace_has_an_entry_for_each_requirement_and_row(made):
    written = json.loads(made.files["trace.json"])
    path = made.spec.assessment.project.path
    bare = json.loads(json.dumps(without_folders(plain(trace(made.spec)), (path,))))
    assert written == {"format": FORMAT_NUMBER, **bare}
    assert [one["id"] for one in written["requirements"]] == list(made.spec.assessment.requirements.by_id)
    assert len(written["checklist"]) == len(made.spec.rows)
    assert [one["section"] for one in written["sections"]] == [one.number for one in made.spec.sections]


def test_places_are_named_by_file_alone():
    path = "jobs/wall/project.yaml"
    data = {
        "a": [f"{path}:4:9", path, "project.yaml:1:1"],
        "b": {"c": "see jobs/wall/project.yaml2"},
        "d": [3, None, True],
    }
    assert without_folders(data, (path,)) == {
        "a": ["project.yaml:4:9", "project.yaml", "project.yaml:1:1"],
        "b": {"c": "see jobs/wall/project.yaml2"},
        "d": [3, None, True],
    }


@pytest.mark.parametrize(
    ("number", "title", "stem"),
    [
        ("07 71 00", "Copings", "07-71-00-copings"),
        ("..", "/etc/passwd", "etc-passwd"),
        ("7", "x" * 300, "7-" + "x" * 78),
        ("07 27 00", "Ärger & <Co>", "07-27-00-rger-co"),
    ],
)
def test_file_names(number, title, stem):
    assert file_stem(number, title) == stem
    assert len(file_stem(number, title)) <= 80


def test_a_review_is_named_by_its_number():
    assert review_stem("07 71 00-01") == "review-07-71-00-01"


@pytest.mark.parametrize("length", [254, 255, 256, 500])
def test_long_names_fit_what_a_file_may_say_of_itself(length):
    name = "n" * length
    properties = Properties(name, "subject", name, "2026-11-02", "Draft")
    tree = Document(properties, name, "right", "left", "", (Para(Style.BODY, text(name)),))
    word = opened(docx_bytes(tree))
    assert word.core_properties.title == (name if length <= 255 else "n" * 254 + "…")
    assert word.core_properties.category == word.core_properties.title
    assert word.sections[0].header.paragraphs[0].text.startswith(name)
    assert word.paragraphs[0].text == name
