"""An office's own Word file as the template: what is taken, what is put in, what is refused or left out."""

from __future__ import annotations

import io
import random
import re
import zipfile
from pathlib import Path

import docx
import pytest
from docx.shared import Inches, Pt

from specgen.files.marks import InputError
from specgen.files.package import WORD, PackageError, PackageLimits, read_package
from specgen.model.document import Style, numbered
from specgen.render.word import volume_bytes, word_bytes
from specgen.render.word_office import load_office_template, office_template
from tests.published.test_word_schema import errors
from tests.render import word_samples as samples
from tests.render.word_reading import lines, opened


def office_file(*, places: bool = True, sections_list: bool = False) -> bytes:
    """A file as an office would keep it: A4, its own font, some styles of our names, header with places."""
    word = docx.Document()
    section = word.sections[0]
    section.page_width, section.page_height, section.left_margin = Inches(8.27), Inches(11.69), Inches(1.2)
    for name in ("Part Heading", "article heading", "Paragraph a", "Section Title"):
        style = word.styles.add_style(name, 1)
        style.font.name, style.font.size = "Georgia", Pt(13)
    if places:
        head = section.header.paragraphs[0]
        head.add_run("Hill Office, {header ").bold = True
        head.add_run("left} on {header right}")
        head.add_run().add_picture(io.BytesIO(samples.PNG), width=Inches(0.3))
        section.footer.paragraphs[0].text = "{footer left}\t{page}"
    word.add_paragraph("Words of the template that no document shows.")
    out = io.BytesIO()
    word.save(out)
    return out.getvalue()


def changed(data: bytes, **parts: bytes | tuple[bytes, bytes]) -> bytes:
    """The file with parts put in (bytes) or with a piece replaced (a pair), by name."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as source, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as to:
        for name in source.namelist():
            content, change = source.read(name), parts.pop(name, b"")
            if isinstance(change, tuple):
                assert change[0] in content, name
                content = content.replace(*change)
            to.writestr(name, change if isinstance(change, bytes) and change else content)
        for name, content in parts.items():
            to.writestr(name, content)
    return out.getvalue()


def part(content: bytes, name: str) -> str:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return archive.read(name).decode()


def test_page_styles_header_and_footer_are_the_offices() -> None:
    content = word_bytes(samples.SECTION, office_template(office_file()).template)
    word = opened(content)
    page = word.sections[0]
    assert (round(page.page_width.inches, 2), round(page.left_margin.inches, 2)) == (8.27, 1.2)
    assert (
        page.header.paragraphs[0].text
        == f"Hill Office, {samples.SECTION.header_left} on {samples.SECTION.header_right}"
    )
    assert len(page.header.part.related_parts) == 1  # the picture
    assert page.footer.paragraphs[0].text.endswith("07 27 00-1")
    assert word.styles["Part Heading"].font.name == "Georgia"
    assert "Words of the template" not in part(content, "word/document.xml")


def test_numbers_are_those_of_the_tree_in_the_offices_styles() -> None:
    content = word_bytes(samples.SECTION, office_template(office_file()).template)
    labels = [line.label for line in lines(content) if line.label]
    assert labels == [line.label for line in numbered(samples.SECTION.blocks)]


def test_headings_of_the_office_stay_with_what_follows_and_feed_the_contents() -> None:
    styles = opened(word_bytes(samples.SECTION, office_template(office_file()).template)).styles
    for name in ("Part Heading", "article heading", "Section Title"):
        assert styles[name].paragraph_format.keep_with_next
        assert "outlineLvl" in styles[name].element.xml


def test_report_tells_each_style_and_place() -> None:
    found = office_template(office_file())
    uses = {one.wanted: one.used for one in found.styles}
    assert uses["Part Heading"] == "Part Heading"
    assert uses["Article Heading"] == "article heading"
    assert (uses["Paragraph a"], uses["Paragraph A"]) == ("Paragraph a", "")  # capitals tell these two apart
    assert uses["Report Heading"].casefold() == "heading 1"
    assert set(Style) <= {Style(name) for name in uses if name in {style.value for style in Style}}
    assert found.places == ("header left", "header right", "footer left", "page")


def test_without_header_the_own_one_stands_in_and_is_told() -> None:
    found = office_template(office_file(places=False))
    assert any("no header" in note for note in found.notes)
    word = opened(word_bytes(samples.SECTION, found.template))
    assert word.sections[0].header.paragraphs[0].text.startswith(samples.SECTION.header_left)


def test_missing_places_are_told() -> None:
    data = changed(office_file(), **{"word/footer1.xml": (b"{page}", b"page")})
    found = office_template(data)
    assert "header and footer have no place for: {page}" in found.notes


@pytest.mark.word
def test_validator_finds_no_error_in_the_offices_look(tmp_path: Path) -> None:
    for number, data in enumerate((office_file(), office_file(places=False))):
        template = office_template(data).template
        for name, content in (
            ("section", word_bytes(samples.SECTION, template)),
            ("volume", volume_bytes(samples.VOLUME, template)),
        ):
            path = tmp_path / f"{name}{number}.docx"
            path.write_bytes(content)
            assert errors(path) == [], name


def test_macros_and_links_are_left_out_and_told() -> None:
    relation = (
        b'<Relationship Id="rIdX" Type="http://schemas.microsoft.com/office/2006/relationships/vbaProject"'
        b' Target="vbaProject.bin"/><Relationship Id="rIdY" Type="http://schemas.openxmlformats.org/'
        b'officeDocument/2006/relationships/hyperlink" Target="http://example.invalid/" TargetMode="External"/>'
        b"</Relationships>"
    )
    data = changed(
        office_file(),
        **{
            "word/_rels/document.xml.rels": (b"</Relationships>", relation),
            "word/vbaProject.bin": b"\xd0\xcf\x11\xe0 payload-of-a-macro",
        },
    )
    found = office_template(data)
    assert "macros are left out" in found.notes
    assert any("link to another place" in note for note in found.notes)
    content = word_bytes(samples.SECTION, found.template)
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        everything = b"".join(archive.read(name) for name in archive.namelist())
        assert not [name for name in archive.namelist() if "vba" in name]
    assert b"example.invalid" not in everything and b"payload-of-a-macro" not in everything


@pytest.mark.parametrize(
    "code", ['INCLUDETEXT "//host/x"', "DDEAUTO excel cmd", "LINK Word.Document x", "USERINFO x"]
)
def test_a_field_that_reads_from_elsewhere_goes_and_its_text_stays(code: str) -> None:
    field = (
        f'<w:r><w:fldChar w:fldCharType="begin"/></w:r><w:r><w:instrText>{code[:2]}</w:instrText></w:r>'
        f"<w:r><w:instrText>{code[2:]}</w:instrText></w:r>"
        '<w:r><w:fldChar w:fldCharType="separate"/></w:r><w:r><w:t>shown</w:t></w:r>'
        '<w:r><w:fldChar w:fldCharType="end"/></w:r></w:p>'
    ).encode()
    found = office_template(changed(office_file(), **{"word/footer1.xml": (b"</w:p>", field)}))
    footer = part(word_bytes(samples.SECTION, found.template), "word/footer1.xml")
    assert any("reads from elsewhere" in note for note in found.notes)
    assert "shown" in footer and code[2:] not in re.sub(r" (?:PAGE|NUMPAGES) ", "", footer)


def test_plain_fields_stay() -> None:
    field = b'<w:fldSimple w:instr=" NUMPAGES "><w:r><w:t>9</w:t></w:r></w:fldSimple></w:p>'
    found = office_template(changed(office_file(), **{"word/footer1.xml": (b"</w:p>", field)}))
    assert 'w:instr=" NUMPAGES "' in part(word_bytes(samples.SECTION, found.template), "word/footer1.xml")


def test_a_zip_bomb_is_refused() -> None:
    small = PackageLimits(part=1_000_000)
    with pytest.raises(PackageError, match="unpacks to more than 1,000,000 bytes"):
        read_package(changed(office_file(), **{"word/media/big.bin": b"0" * 1_000_001}), small)


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "not a Word file"),
        (b"PK\x03\x04 cut short", "not a Word file"),
        (b"\xd0\xcf\x11\xe0 old", "password or is of the old .doc kind"),
        (b"0" * (WORD.file + 1), "more than 20,000,000"),
    ],
)
def test_what_is_no_word_file_is_refused(data: bytes, message: str) -> None:
    with pytest.raises(PackageError, match=re.escape(message)):
        office_template(data)


@pytest.mark.parametrize("name", ["word/styles.xml", "word/document.xml", "word/header1.xml"])
def test_entities_are_refused(name: str) -> None:
    bomb = b'<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><x>&b;</x>'
    with pytest.raises(PackageError, match="declares a document type"):
        office_template(changed(office_file(), **{name: bomb}))


@pytest.mark.parametrize("name", ["../out.xml", "/abs.xml", "word/../../x"])
def test_names_that_lead_out_are_refused(name: str) -> None:
    with pytest.raises(PackageError):
        office_template(changed(office_file(), **{name: b"x"}))


def test_a_missing_or_bad_file_is_an_input_error_with_a_fix(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="there is no such file"):
        load_office_template(tmp_path / "none.docx")
    bad = tmp_path / "bad.docx"
    bad.write_bytes(changed(office_file(), **{"word/document.xml": b"<w:document"}))
    with pytest.raises(InputError, match="is not XML"):
        load_office_template(bad)


@pytest.mark.parametrize("seed", range(40))
def test_a_damaged_file_is_read_or_refused_and_never_worse(seed: int, tmp_path: Path) -> None:
    """One part is cut, or its names and numbers are swapped about; the answer is a template or an InputError."""
    chance = random.Random(seed)
    data = office_file()
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        name = chance.choice([one for one in archive.namelist() if one.startswith(("word/", "_rels"))])
        content = archive.read(name)
    kind = chance.choice(["cut", "swap", "drop", "number"])
    if kind == "cut":
        content = content[: chance.randrange(1, len(content))]
    elif kind == "swap":
        words = re.findall(rb'"[^"]*"', content) or [b'""']
        content = content.replace(chance.choice(words), chance.choice([*words, b'"-7"', b'""']))
    elif kind == "drop":
        tags = re.findall(rb"<w:\w+[^>]*/>", content) or [b"\x00"]
        content = content.replace(chance.choice(tags), b"")
    else:
        content = re.sub(
            rb'"\d+"', lambda _: chance.choice([b'"x"', b'"99999999999"', b'""', b'"1"']), content
        )
    path = tmp_path / "office.docx"
    path.write_bytes(changed(data, **{name: content}))
    try:
        found = load_office_template(path)
    except InputError:
        return
    labels = [line.label for line in numbered(samples.SECTION.blocks)]
    xml = part(word_bytes(samples.SECTION, found.template), "word/document.xml")
    assert xml.count("<w:p>") >= len(labels)


@pytest.mark.parametrize("name", ["w", "h", "top", "left", "gutter"])
@pytest.mark.parametrize("written", ["inf", "-inf", "nan", "1e999", "-1", "-1e300", "9" * 400, "x", ""])
def test_a_page_of_no_size_is_refused_in_one_line(name: str, written: str, tmp_path: Path) -> None:
    data = office_file()
    held = zipfile.ZipFile(io.BytesIO(data)).read("word/document.xml").decode()
    odd = re.sub(rf'(<w:pg(?:Sz|Mar) [^>]*w:{name}=")[^"]*', rf"\g<1>{written}", held, count=1)
    assert odd != held
    path = tmp_path / "odd.docx"
    path.write_bytes(changed(data, **{"word/document.xml": odd.encode()}))
    if written == "-1" and name not in "wh":  # a margin of less than nothing is as Word has it
        load_office_template(path)
        return
    with pytest.raises(InputError) as caught:
        load_office_template(path)
    assert len(caught.value.problems) == 1
