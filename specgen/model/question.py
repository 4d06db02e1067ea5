"""A question that a project leaves open, in words: what hangs on it, who can answer, what is taken meanwhile."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class OpenQuestion:
    """One question in the order in which a project is asked."""

    number: int
    key: str  # where the answer is written: site.wind_speed; on no paper
    question: str
    answers: str  # what may be answered: the choices, or how a quantity is written
    where: tuple[str, ...]  # parapets; () for the whole project
    count: int  # of conclusions
    findings: Mapping[str, int]  # by the worst that one of the answers makes of it
    paragraphs: int
    limits: int
    sections: tuple[str, ...]
    calculations: tuple[str, ...]
    checks: tuple[str, ...]  # names of what it decides, the gravest first
    decides: str  # the same in words
    who: str
    meanwhile: str
    tried: int  # answers that were tried


@dataclass(frozen=True)
class OpenQuestions:
    """The questions of a project, what decides most first."""

    project: str
    questions: tuple[OpenQuestion, ...]
    parapets: tuple[str, ...]  # that were looked at; others leave the same open
    trials: int
    untried: int  # answers beyond the most that are tried
    left_out: int  # open values that a project may leave out: nothing is open without them
