"""What a contractor submits, and what is said about it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import Enum
from typing import ClassVar

from specgen.files.marks import Mark
from specgen.model.finding import Finding
from specgen.model.project import Record, Sense, Stated, Value
from specgen.model.requirement import Requirement
from specgen.units.quantity import Quantity


@dataclass(frozen=True)
class Claim:
    """One submitted value, with the test method and the evidence stated for it.

    ``sense`` says whether the value is exact, a bound, or the lower end of a range to ``upper``.
    """

    value: Value
    method: str
    evidence: str
    mark: Mark
    sense: Sense = ""
    upper: Quantity | None = None
    tolerance: bool = False  # the range is a value with its tolerance: "40 mil ± 2 mil"
    written: str = ""  # as the submittal writes it, where it was converted: "16 oz/ft2"

    @property
    def stated(self) -> Stated:
        """What the claim states, by its method."""
        return Stated(self.value, self.sense, self.upper, self.method)


@dataclass(frozen=True)
class Unconfirmed:
    """A value read from a data sheet that no person has confirmed: it is shown, and decides nothing."""

    seen: str  # the value as read, "" where none could be made of it
    method: str
    why: str
    evidence: str
    mark: Mark


@dataclass(frozen=True)
class Unreadable:
    """A value that cannot be used, as it is written: its row fails, the others are judged."""

    seen: str
    why: str
    fix: str
    evidence: str
    mark: Mark


@dataclass(frozen=True)
class Paper:
    """A paper that values were read from: what it says of itself, and each notice on it with a person's answer."""

    stated: Record
    notices: tuple[Record, ...] = ()

    @property
    def standing(self) -> tuple[Record, ...]:
        """The notices that nobody has answered."""
        return tuple(one for one in self.notices if not (one.word("answer") or "").strip())


@dataclass(frozen=True)
class Product:
    """One submitted product, by generic attributes."""

    role: str
    name: str
    kind: str
    claims: dict[str, Claim]
    mark: Mark
    parapets: tuple[str, ...] = ()  # where it is to go; empty: everywhere
    unconfirmed: Mapping[str, Unconfirmed] = field(default_factory=dict)
    meant: Mapping[str, str] = field(default_factory=dict)  # why a value is right that is not expected
    unreadable: Mapping[str, Unreadable] = field(default_factory=dict)
    maker: str = ""  # who makes it; "" where the submittal does not say
    papers: tuple[Paper, ...] = ()
    against: str = ""  # why nothing on its papers counts until a person has answered
    confirmed: Mapping[str, Record] = field(
        default_factory=dict
    )  # who compared a value with its sheet, and when


@dataclass(frozen=True)
class Submission:
    """One submittal file."""

    info: Record
    products: tuple[Product, ...]
    path: str
    deviations: tuple[str, ...] = ()  # from the documents, as the submitter declares them
    answers: Mapping[int, str] = field(default_factory=dict)  # to the numbered comments of the round before

    @property
    def round(self) -> int:
        """Which round of this submittal it is; the first is 1."""
        found = self.info.values.get("round")
        return found if isinstance(found, int) else 1


@dataclass(frozen=True)
class ReviewComment:
    """One numbered comment, which the next round answers."""

    number: int
    product: str
    about: str  # the requirement with its limit and place in the wall
    place: str  # section and paragraph, or the source
    submitted: str
    words: str
    key: str  # the same matter in the next round
    deviation: bool = False  # a requirement is not met
    standing: str = "new"  # or "still open", or "closed"
    answer: str = ""  # of the submitter


@dataclass(frozen=True)
class SubmittalReview:
    """What is printed as data of one reviewed submittal."""

    submittal: str | None  # its number
    file: str
    products: tuple[ProductReview, ...]
    round: int = 1
    comments: tuple[ReviewComment, ...] = ()
    received: date | None = None
    returned: date | None = None

    @classmethod
    def of(
        cls,
        submission: Submission,
        reviews: tuple[ProductReview, ...],
        comments: tuple[ReviewComment, ...] = (),
    ) -> SubmittalReview:
        """The review of a submittal."""
        received, returned = (
            found if isinstance(found := submission.info.values.get(key), date) else None
            for key in ("date", "returned")
        )
        number = submission.info.word("number")
        return cls(number, submission.path, reviews, submission.round, comments, received, returned)


class Result(Enum):
    """What is said of one submitted attribute."""

    MEETS = "meets"
    FAILS = "fails"
    NOT_STATED = "not stated"
    OTHER_METHOD = "other method"
    NOT_PROVEN = "not proven"
    UNREADABLE = "not readable"
    CONFIRM = "confirm"


class Recommendation(Enum):
    """What is recommended for one product, in the trade's words. A person decides and signs."""

    NO_EXCEPTIONS = "no exceptions taken"
    CORRECTIONS = "make corrections noted"
    RESUBMIT = "revise and resubmit"
    REJECTED = "rejected"
    NOT_REQUIRED = "not required, returned unreviewed"

    @property
    def again(self) -> bool:
        """Whether the product is to be submitted again."""
        return self in (Recommendation.RESUBMIT, Recommendation.REJECTED)

    @property
    def strictness(self) -> int:
        """How strict it is, from 0 for what was not reviewed; the others are named in this order."""
        return (list(Recommendation).index(self) + 1) % len(Recommendation)


@dataclass(frozen=True)
class Verdict:
    """One requirement against one submitted value."""

    requirement: Requirement
    limit: str  # the requirement's limit as the Sections print it
    result: Result
    submitted: str  # the value as the submitter wrote it
    reason: str
    cure: str
    section: str  # where the requirement is stated: "07 71 00"
    paragraph: str  # its paragraph there: "2.2.A.3"; "" if no section states it
    mark: Mark
    evidence: str = ""  # document, page and words, as the submittal states them
    margin: str = ""  # how far the value lies from the limit: "26 % above the limit"
    note: str = ""  # by which other edition of the wanted method, if so
    doubted: bool = False  # the value is not expected of such a product, and nobody has said that it is meant


@dataclass(frozen=True)
class WallPoint:
    """What the wall with the product in it does that the wall as designed does not."""

    finding: Finding
    parapets: tuple[str, ...]
    along_with: tuple[str, ...] = ()  # other products without which it would not happen
    mended_by: tuple[str, ...] = ()  # other products of the package along with which it does not happen
    SPREAD_PLAIN: ClassVar = ("finding",)

    @property
    def breaks(self) -> bool:
        """Whether it stands for certain, is no question to anybody, and nothing in the package mends it."""
        return self.finding.failed and not self.mended_by


@dataclass(frozen=True)
class PlaceResult:
    """What is recommended of a product at some of its parapets."""

    parapets: tuple[str, ...]
    recommendation: Recommendation
    why: str


@dataclass(frozen=True)
class ProductReview:
    """All verdicts on one product, what it does to the wall, and the recommendation that follows."""

    product: Product
    verdicts: tuple[Verdict, ...]
    recommendation: Recommendation
    why: str  # with the codes of rules, for the reviewer
    why_in_words: str  # with their titles, for the letter
    wall: tuple[WallPoint, ...] = ()
    alternatives: tuple[str, ...] = ()  # other submitted products for the same role and place
    places: tuple[
        PlaceResult, ...
    ] = ()  # where one parapet is recommended otherwise than another; the whole is the worst
    notes: tuple[str, ...] = ()  # what else of the paper a person must clear up

    @property
    def failed(self) -> bool:
        """Whether the product is to be submitted again."""
        return self.recommendation.again

    @property
    def open(self) -> bool:
        """Whether a row is to be confirmed, or the wall with the product in it wants a value to be judged."""
        rows = (verdict.result is Result.CONFIRM for verdict in self.verdicts)
        return any(rows) or bool(self.notes) or any(point.finding.open for point in self.wall)
