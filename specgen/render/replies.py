"""The files that answer a submittal or a request, and the letters: what each is called and what it holds."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

from specgen.assessment import Assessment
from specgen.files.foreign import foreign_bytes, refused
from specgen.files.writing import OutputFolder
from specgen.model.document import Document
from specgen.model.submission import ProductReview, ReviewComment, Submission, SubmittalReview
from specgen.render.files import docx_bytes, file_stem, json_bytes
from specgen.render.plain import in_plain_words
from specgen.render.word_template import Template
from specgen.review import forms
from specgen.review.comments import comments
from specgen.review.letter import Earlier, review_letter
from specgen.review.package import Reviewed
from specgen.review.references import Reference, referenced
from specgen.review.substitution import Substitution
from specgen.review.substitution_form import substitution_form
from specgen.sections.waivers import waiver_blocks

MOST_BYTES = 50_000_000


def review_stem(number: str, round_: int = 1) -> str:
    """The name, without ending, of the letter for a submittal number.

    >>> review_stem("07 27 00-01"), review_stem("07 27 00-01", 2)
    ('review-07-27-00-01', 'review-07-27-00-01-round-2')
    """
    return "review-" + file_stem(number, "") + (f"-round-{round_}" if round_ > 1 else "")


def earlier_comments(folder: Path, number: str, round_: int) -> tuple[ReviewComment, ...] | None:
    """The comments of the round before, from the data of its review; None where they are not in the folder.

    Raises:
        InputError: the file is there and is not what was written.
    """
    path = folder / f"{review_stem(number, round_ - 1)}.json"
    if round_ < 2 or not path.is_file():
        return None
    try:
        rows = json.loads(foreign_bytes(path, MOST_BYTES))["comments"]
        return tuple(ReviewComment(**row) for row in rows)
    except (ValueError, KeyError, TypeError):
        raise refused(path, "it is not the data of a review", "run the review of that round again") from None


def review_data(
    folder: Path, assessment: Assessment, submission: Submission, reviews: tuple[ProductReview, ...]
) -> SubmittalReview:
    """The data of a review, with its comments numbered after those of the round before in the folder."""
    before = earlier_comments(folder, submission.info.word("number") or "", submission.round)
    found = comments(reviews, assessment.practice.vocabulary, before or (), submission.answers)
    return SubmittalReview.of(submission, reviews, found)


def add_review(
    folder: OutputFolder,
    assessment: Assessment,
    submission: Submission,
    reviews: tuple[ProductReview, ...],
    template: Template | None = None,
    titles: Mapping[str, str] | None = None,
) -> tuple[str, Document]:
    """Add what ``specgen review`` makes of one submittal: the letter and its data. Returns the letter's name.

    The comments of the round before are taken from its data in the folder.
    """
    number, round_ = submission.info.word("number") or "", submission.round
    before = earlier_comments(folder.folder, number, round_)
    letter = in_plain_words(
        review_letter(
            assessment.project,
            submission,
            reviews,
            assessment.practice,
            waiver_blocks(assessment),
            titles,
            Earlier(before),
        ),
        assessment.paper_words(submission),
    )
    stem = review_stem(number, round_)
    folder.add(f"{stem}.docx", docx_bytes(letter, template))
    folder.add(
        f"{stem}.json",
        json_bytes(
            review_data(folder.folder, assessment, submission, reviews),
            submission.path,
            assessment.project.path,
        ),
    )
    return f"{stem}.docx", letter


def substitution_stem(number: str) -> str:
    """The name, without ending, of the form for a request number.

    >>> substitution_stem("S-1")
    'substitution-s-1'
    """
    return "substitution-" + file_stem(number, "")


def add_substitution(
    folder: OutputFolder,
    assessment: Assessment,
    one: Substitution,
    template: Template | None = None,
) -> str:
    """Add what ``specgen substitute`` makes of one request: the form and its data. Returns the form's name."""
    stem = substitution_stem(one.request.number)
    form = in_plain_words(substitution_form(one, assessment), assessment.paper_words(one.request))
    folder.add(f"{stem}.docx", docx_bytes(form, template))
    folder.add(f"{stem}.json", json_bytes(one, one.request.path, assessment.project.path))
    return f"{stem}.docx"


LETTERS = (
    "request-for-information.",
    "deficiency-list.",
    "compatibility-",
    "transmittal.",
)  # how names begin


NUMBERS = "letter-numbers.json"
DAY = 86_400.0  # [s]


def add_letters(
    folder: OutputFolder,
    assessment: Assessment,
    reviewed: tuple[Reviewed, ...],
    template: Template | None = None,
    day: date | None = None,
) -> tuple[str, ...]:
    """Add what ``specgen letters`` makes, with their numbers, which stay. Returns the names of the letters.

    Args:
        folder: in which the letters of earlier runs and their numbers lie.
        assessment: the project.
        reviewed: submittals with their reviews.
        template: an office's own.
        day: on which the letters go out; without it, a line for the date.
    """
    known = letter_numbers(folder.folder)
    days = round(assessment.practice.quantity("letter.answer_time").value / DAY)
    sending = forms.Sending(answer_days=days, makers=_makers(reviewed))
    drafts = _letters(assessment, reviewed, sending, {})
    references = referenced(known, drafts, day)
    letters = _letters(assessment, reviewed, sending, references)
    plain = assessment.paper_words(*(submission for submission, _ in reviewed))
    for stem, letter in letters.items():
        folder.add(f"{stem}.docx", docx_bytes(in_plain_words(letter, plain), template))
    folder.add(NUMBERS, json_bytes(references))
    return tuple(f"{stem}.docx" for stem in letters)


def _letters(
    assessment: Assessment,
    reviewed: tuple[Reviewed, ...],
    sending: forms.Sending,
    references: Mapping[str, Reference],
) -> dict[str, Document]:
    def known(stem: str, answered: bool = True) -> forms.Sending:
        one = replace(sending, reference=references.get(stem, Reference()))
        return one if answered else replace(one, answer_days=0)

    stems = {file_stem("compatibility", pair): pair for pair in forms.compatibility_letters(assessment)}
    pairs = {pair: known(stem) for stem, pair in stems.items()}
    found = {
        "request-for-information": forms.request_for_information(
            assessment, known("request-for-information")
        ),
        "deficiency-list": forms.deficiency_list(assessment, reviewed, known("deficiency-list")),
    }
    for pair, letter in forms.compatibility_letters(assessment, pairs).items():
        found[file_stem("compatibility", pair)] = letter
    if reviewed:
        found["transmittal"] = forms.transmittal(assessment, reviewed, known("transmittal", answered=False))
    return found


def _makers(reviewed: tuple[Reviewed, ...]) -> dict[str, str]:
    """Who makes which material family, where a submittal says both."""
    found: dict[str, str] = {}
    for submission, _ in reviewed:
        for product in submission.products:
            claim = product.claims.get("family")
            if claim is not None and product.maker:
                found.setdefault(str(claim.value), product.maker)
    return found


def letter_numbers(folder: Path) -> dict[str, Reference]:
    """The references of the letters that a folder holds.

    Raises:
        InputError: the record is not what was written.
    """
    path = folder / NUMBERS
    if not path.is_file():
        return {}
    try:
        rows = json.loads(foreign_bytes(path, MOST_BYTES))
        return {
            str(stem): Reference(
                str(row["number"]),
                int(row["round"]),
                date.fromisoformat(row["day"]) if row["day"] else None,
                str(row["content"]),
            )
            for stem, row in rows.items()
        }
    except (ValueError, KeyError, TypeError, AttributeError):
        fix = "put the file back from a backup; without it the letters are numbered from 1"
        raise refused(path, "it is not the record of the numbers of letters", fix) from None
