"""Names of the project file in documents for people on the job."""

from __future__ import annotations

from specgen.model.document import CrossRef, Para, Style, Table, text
from specgen.practice.load import load_practice
from specgen.render.plain import in_plain_words
from specgen.sections.words import without_keys
from specgen.wall.paper_words import PaperWords
from tests.render import word_samples as samples

VOCABULARY = load_practice().vocabulary


def plainly(words: str, own: tuple[str, ...] = ()) -> str:
    tree = samples.document(Para(Style.BODY, text(words)), Table(("Why",), ((words,),), (1.0,), "Why"))
    para, table = in_plain_words(tree, PaperWords(VOCABULARY, own)).blocks
    assert isinstance(para, Para) and isinstance(table, Table)
    assert table.rows == ((para.text,),)
    return para.text


def test_a_field_is_called_by_its_title() -> None:
    title = VOCABULARY.roles["barrier"].fields["nail_sealability"].title
    assert plainly("state layer `barrier`, add `nail_sealability`") == f"state layer barrier, add {title}"


def test_a_field_with_two_titles_keeps_its_name_and_a_part_its_own() -> None:
    titles = {
        role.fields["thickness"].title for role in VOCABULARY.roles.values() if "thickness" in role.fields
    }
    assert len(titles) > 1
    assert plainly("`thickness` of `top flashing`, `not_a_field`") == "thickness of top flashing, not a field"


def test_a_text_of_a_person_stays_as_it_is_written() -> None:
    words = "roof turn-up by Roof turn-up and Sons, in the roof turn-up and Sons Hall. Roof turn-up"
    own = ("roof turn-up and Sons Hall", "Roof turn-up and Sons")
    kept = "base flashing by Roof turn-up and Sons, in the roof turn-up and Sons Hall. Base flashing"
    assert plainly(words, own) == kept
    assert "turn-up" not in plainly(words)


def test_a_document_without_names_is_the_same_one() -> None:
    tree = samples.document(Para(Style.BODY, (*text("See "), CrossRef("a", "1.1"))))
    assert in_plain_words(tree, PaperWords(VOCABULARY)) is tree


def test_a_part_is_a_part_where_a_record_has_a_field_of_its_name() -> None:
    assert any("barrier" in record.fields for record in VOCABULARY.records.values())
    assert (
        without_keys("air layer, `top flashing` to `barrier`", VOCABULARY)
        == "air layer, top flashing to barrier"
    )
    title = VOCABULARY.roles["barrier"].fields["nail_sealability"].title
    assert without_keys("`nail_sealability` of `barrier`", VOCABULARY) == f"{title} of barrier"
