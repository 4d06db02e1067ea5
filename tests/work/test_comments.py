"""Comments written beside a project: nothing that stands there is lost, whoever writes into it meanwhile."""

from __future__ import annotations

import random
import threading
from datetime import UTC, datetime
from pathlib import Path

import pytest

from specgen.files.faults import OutputError
from specgen.files.marks import InputError
from specgen.intake.comments import comments_beside
from specgen.model.comment import About
from specgen.practice.load import load_practice
from specgen.specification import specify
from specgen.work import comments as work
from specgen.work.comments import Beside, add, answer, mark_answered, meant
from specgen.work.inputs import read_inputs
from tests.chain.runs import FAULTY
from tests.conftest import LONG, SEED
from tests.render.test_document_html import HOSTILE

PRACTICE = load_practice()
NOW = datetime(2026, 11, 30, 9, 15, tzinfo=UTC)
DRIP = About(section="07 71 00", paragraph="drip")
WORDS = (
    "why?",
    HOSTILE,
    "two\nlines\n\n\ttab",
    "- a: {b",
    "yes",
    "7",
    "# no",
    "'",
    '"',
    "«é» 漢 \U0001f600",
    "a: b",
    "\\n",
)


@pytest.fixture
def beside(tmp_path: Path) -> Beside:
    return Beside(tmp_path / "project.yaml", PRACTICE)


@pytest.mark.parametrize("words", WORDS)
def test_words_come_back_as_they_were_typed(beside: Beside, words: str) -> None:
    about = About(value=words.strip().replace("\n", " ").replace("\t", " "), of="site")
    one = add(beside, about, "A. B.", words, NOW)
    answer(beside, one.key, words.replace("\n", " ").replace("\t", " "), words, NOW)
    (found,) = comments_beside(beside.project, PRACTICE)
    assert (found.about, found.text, found.time) == (about, words.strip(), "2026-11-30T09:15:00+00:00")
    assert found.answers[0].text == words.strip()
    assert found.answers[0].name == " ".join(words.split())


def test_what_people_wrote_stays_byte_for_byte(beside: Beside) -> None:
    held = (
        "\ufeff# ours\r\ncomments:   # of the office\r\n"
        '- {about: {finding: CP02}, name: A, time: "2026-11-30T09:15:00+01:00", text: why}  # first\r\n'
        "# at the end\r\n"
    )
    beside.path.write_bytes(held.encode())
    (first,) = comments_beside(beside.project, PRACTICE)
    add(beside, DRIP, "B", "and this?", NOW)
    answer(beside, first.key, "C", "so", NOW)
    mark_answered(beside, first.key, True)
    text = beside.path.read_bytes().decode()
    for line in held.splitlines():
        kept = line.partition("}  #")[0]
        assert kept.rstrip("}") in text, line
    assert "# first" in text and "# at the end" in text and "\r\n" in text and text.startswith("\ufeff")
    one, two = comments_beside(beside.project, PRACTICE)
    assert one.answered and one.answers[0].text == "so" and two.text == "and this?"


def test_histories_of_changes_lose_nothing(beside: Beside) -> None:
    chance = random.Random(SEED)
    known: dict[str, tuple[str, list[str], bool]] = {}
    for step in range(300 if LONG else 40):
        key = chance.choice([*known]) if known else ""
        what = chance.choice(("add", "answer", "mark")) if known else "add"
        if what == "add":
            words = f"{chance.choice(WORDS)} {step}".strip()
            known[add(beside, DRIP, "A", words, NOW).key] = (words, [], False)
        elif what == "answer":
            answer(beside, key, "B", f"answer {step}", NOW)
            known[key][1].append(f"answer {step}")
        else:
            words, answers, marked = known[key]
            mark_answered(beside, key, not marked)
            known[key] = (words, answers, not marked)
    found = comments_beside(beside.project, PRACTICE)
    assert [(one.key, one.text, [each.text for each in one.answers], one.answered) for one in found] == [
        (key, *rest) for key, rest in known.items()
    ]


def test_writers_at_the_same_time_lose_nothing(beside: Beside) -> None:
    def write(who: str) -> None:
        for number in range(5):
            add(beside, DRIP, who, f"{who} {number}", NOW)

    threads = [threading.Thread(target=write, args=(who,)) for who in "ABC"]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert len(comments_beside(beside.project, PRACTICE)) == 15


def test_a_program_that_asks_for_no_lock_is_noticed(beside: Beside, monkeypatch: pytest.MonkeyPatch) -> None:
    add(beside, DRIP, "A", "first", NOW)
    theirs = beside.path.read_bytes() + b"# theirs\n"
    insert = work.insert_item

    def late(*words: object) -> str:
        beside.path.write_bytes(theirs)
        return insert(*words)  # type: ignore[arg-type]

    monkeypatch.setattr(work, "insert_item", late)
    with pytest.raises(OutputError, match="at the same moment"):
        add(beside, DRIP, "B", "second", NOW)
    assert beside.path.read_bytes() == theirs


def test_an_answer_to_what_was_answered_meanwhile_is_refused(beside: Beside) -> None:
    one = add(beside, DRIP, "A", "first", NOW)
    answer(beside, one.key, "B", "mine", NOW, one.state)
    held = beside.path.read_bytes()
    with pytest.raises(OutputError, match="somebody else"):
        answer(beside, one.key, "C", "mine too", NOW, one.state)
    with pytest.raises(OutputError, match="somebody else"):
        mark_answered(beside, one.key, True, one.state)
    with pytest.raises(LookupError):
        mark_answered(beside, "nothing", True)
    assert beside.path.read_bytes() == held


@pytest.mark.parametrize(
    ("held", "message"),
    [
        (b"comments: {a: 1}\n", "a list is wanted"),
        (b"comments: [\n", ""),
        (b"\xff\xfe", "UTF-8"),
        (b"parapets: []\n", "project file"),
        (b"%PDF-1.7", "PDF"),
    ],
)
def test_a_file_that_cannot_be_read_is_left_as_it_is(beside: Beside, held: bytes, message: str) -> None:
    beside.path.write_bytes(held)
    with pytest.raises(InputError, match=message or None):
        add(beside, DRIP, "A", "first", NOW)
    assert beside.path.read_bytes() == held


@pytest.mark.parametrize("words", ["", "  \n ", "x" * 4001, "a\x07b", "a\u200bb\x00"])
def test_words_that_nobody_types_are_refused(beside: Beside, words: str) -> None:
    with pytest.raises(InputError):
        add(beside, DRIP, "A", words, NOW)
    with pytest.raises(InputError):
        add(beside, DRIP, words, "text", NOW)
    assert not beside.path.exists()


def test_what_is_meant_is_looked_for_in_the_project() -> None:
    spec = specify(read_inputs(FAULTY, None, False).assessed())
    section = next(one for one in spec.sections if one.number == "07 71 00")
    one = next(iter(section.paragraphs.values()))
    assert meant(spec, About(section=one.section, paragraph=one.number)).paragraph == one.key
    assert meant(spec, About(section=one.section, paragraph=one.key)).paragraph == one.key
    finding = next(each for each in spec.assessment.findings if each.shown and each.parapet)
    assert meant(spec, About(finding=finding.code, parapet=finding.parapet, layer=finding.layer)).finding
    for gone in (About(finding="XX99"), About(section="07 71 00", paragraph="99"), About(value="a", of="b")):
        with pytest.raises(InputError, match="any more"):
            meant(spec, gone)
