"""Values in running text. They are shown, never taken as they are: a sentence may speak of a limit or a rival."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from specgen.intake.datasheet.grammar import COMPARATORS, contents
from specgen.intake.datasheet.labels import Label, Labels, condition_dimension, wanted_dimensions
from specgen.intake.datasheet.value import Beside, candidate
from specgen.model.datasheet import Candidate, Cell, Evidence, Page
from specgen.practice.datasheet_names import plain_name
from specgen.practice.entries import Vocabulary

CONFIDENCE = 0.5
REACH = 110  # characters from a name to its value
LONGEST_TEXT = 60_000
WHY = "it stands in running text"
UNNAMED = "its unit alone says what it is"
TELLING = frozenset({"vapor permeance"})  # what no other attribute of a product is measured in
_SENTENCE = re.compile(r"[^.;!?]*(?:\.(?=\S)[^.;!?]*)*")


def from_prose(
    lines: Sequence[Cell], file: str, page: Page, labels: Labels, vocabulary: Vocabulary
) -> Iterator[Candidate]:
    """The values that sentences state: a name of an attribute, then an amount before the sentence ends."""
    text, starts = "", []
    for line in lines:
        starts.append(len(text))
        text += line.text + " "
        if len(text) > LONGEST_TEXT:
            break
    flat = text.casefold().replace("-", " ").replace("vapour", "vapor")
    for names, field in labels.attributes:
        dims = wanted_dimensions(field)
        if not dims:
            continue
        if dims == TELLING:
            yield from _by_unit(
                text, starts, lines, Label(names, field, "", True, contents("", dims)), page, file, vocabulary
            )
        for name in names.names:
            for match in re.finditer(rf"(?<![a-z]){re.escape(name)}(?![a-z])", flat):
                after = re.split(
                    r"(?<=[a-z)])\.\s|[;!?]|\.\s+(?=[A-Z])", text[match.end() : match.end() + REACH]
                )[0]
                value = _amount_in(after, dims, condition_dimension(field))
                if value is None:
                    continue
                at = max(index for index, start in enumerate(starts) if start <= match.start())
                words = text[max(match.start() - 30, 0) : match.end() + len(after)].strip()
                words = words.partition(" ")[2] if match.start() > 30 else words
                label = Label(names, field, name, True, contents("", dims))
                cell = replace(lines[at], text=value)
                beside = Beside(cell, cell, doubts=[WHY], confidence=CONFIDENCE + 0.3)
                evidence = Evidence(
                    file, page.label, page.number, lines[at].box, " ".join(words.split())[:240]
                )
                yield candidate(label, beside, evidence, vocabulary)


def _by_unit(
    text: str,
    starts: Sequence[int],
    lines: Sequence[Cell],
    label: Label,
    page: Page,
    file: str,
    vocabulary: Vocabulary,
) -> Iterator[Candidate]:
    """The amounts of sentences that name no attribute and whose unit no other attribute has: "offers 11 perms"."""
    for match in _SENTENCE.finditer(text):
        sentence = match[0]
        plain = f" {plain_name(sentence)} "
        value = _amount_in(sentence, TELLING, "")
        if value is None or any(f" {name} " in plain for name in (*label.names.names, *label.names.other)):
            continue
        at = max(index for index, start in enumerate(starts) if start <= match.start())
        cell = replace(lines[at], text=value)
        beside = Beside(cell, cell, doubts=[WHY, UNNAMED], confidence=CONFIDENCE)
        words = " ".join(sentence.split())[:240]
        yield candidate(
            label, beside, Evidence(file, page.label, page.number, lines[at].box, words), vocabulary
        )


def _amount_in(text: str, dims: frozenset[str], condition: str) -> str | None:
    """The first amount of a sentence, with its comparator and what follows it."""
    for match in re.finditer(r"(?<![\w.])[+-]?[0-9.]", text):
        found = contents(text[match.start() : match.start() + 40], dims, condition=condition)
        if found.amounts:
            before = text[max(match.start() - 25, 0) : match.start()]
            compared = next(
                (
                    f"{one[0]} "
                    for one in COMPARATORS
                    if re.search(f"(?:{one[1].pattern})\\s*$", before, re.I)
                ),
                "",
            )
            return compared + text[match.start() :]
    return None
