"""specgen compare: two project files, and everything that differs between what follows from them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.common import echo_json, exits, status
from specgen.commands.options import ALLOW_CODE, FORMAT, OFFICE, WEATHER
from specgen.commands.reading import ReadPath
from specgen.commands.terminal import print_text
from specgen.design.progress import in_turn, part
from specgen.work.inputs import read_inputs

if TYPE_CHECKING:
    from specgen.design.changes import ResultChange
    from specgen.review.compare import Comparison, FindingChange, TextChange

NOTHING = "Nothing differs."
CUT = 160  # characters of a text on a terminal


@click.command()
@click.argument("before", type=ReadPath())
@click.argument("after", type=ReadPath())
@OFFICE
@ALLOW_CODE
@WEATHER
@FORMAT
@exits
def command(
    before: Path, after: Path, office: Path | None, allow_code: bool, weather: Path | None, form: str
) -> int:
    """Tell what differs between the projects BEFORE and AFTER a change.

    Findings that come and go, with place, reason and source; control layers; results of calculations; paragraphs;
    submittals that change or come back; drawings; order of work.

    Exit status: 0 nothing worse comes than a query and nothing unknown, 1 a defect or a risk comes, 2 a file cannot be
    used, 3 nothing fails anew, but something unknown comes.
    """
    from specgen.specification import specify
    from specgen.work.compared import compared

    with part(0.0, 0.5):
        one, other = (
            read_inputs(path, office, allow_code, weather).assessed() for path in in_turn((before, after))
        )
    with part(0.5, 1.0):
        found = compared(specify(one), specify(other))
    if form == "json":
        echo_json(found)
    else:
        lines = [*finding_changes(found.findings), *_differences(found.difference)]
        print_text("\n".join(lines) if lines else NOTHING)
    return status(change.after for change in found.findings if change.after is not None)


def finding_changes(changes: Iterable[FindingChange]) -> Iterator[str]:
    """Findings that come, go or say something else, in print."""
    for change in changes:
        where = f"(parapet {', '.join(change.parapets)})"
        if change.after is None:
            assert change.before is not None
            yield f"gone: {change.before.code} {change.before.message} {where}"
            continue
        new = change.after
        how = "new" if change.before is None else "other"
        yield f"{how}: {new.mark}: {new.word} {new.code} {new.message} {where}"
        if change.before is not None:
            yield f"    before: {change.before.message}"
        yield f"    reason: {new.reason}"
        yield from (f"    source: {source}" for source in new.sources)


def _differences(found: Comparison) -> Iterator[str]:
    for title, texts in (
        ("Control layers", found.paths),
        ("Paragraphs", found.paragraphs),
        ("Submittals", found.submittals),
        ("Order of work", found.order),
    ):
        yield from text_changes(title, texts)
    yield from _results(found.results)
    if found.drawings:
        yield f"Drawings ({len(found.drawings)})"
        yield from (f"  {name}" for name in found.drawings)


def text_changes(title: str, texts: Sequence[TextChange]) -> Iterator[str]:
    """Texts before and after, in print; nothing where there are none."""
    if texts:
        yield f"{title} ({len(texts)})"
    for one in texts:
        yield f"  {_cut(one.place)}"
        yield from (
            f"    {sign} {_cut(words)}" for sign, words in (("-", one.before), ("+", one.after)) if words
        )


def _results(results: tuple[ResultChange, ...]) -> Iterator[str]:
    from specgen.work.compared import by_parapets

    groups = by_parapets(results)
    if groups:
        yield f"Results ({len(groups)})"
    for one, parapets in groups:
        times = f"  (x {one.factor:.3g})" if one.factor is not None else ""
        difference = f"{one.before} -> {one.after}{times}"
        yield f"  {one.subject}, {', '.join(parapets)}: {one.title}: {_cut(difference)}"


def _cut(words: str) -> str:
    return words if len(words) <= CUT else words[: CUT - 1] + "…"
