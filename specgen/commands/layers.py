"""specgen layers: the path of each control layer at each place, whole or with what breaks it and what would close it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

import click

from specgen.assessment import settled
from specgen.commands.common import echo_json, exits, status, strange
from specgen.commands.options import ALLOW_CODE, FORMAT, OFFICE, PARAPETS, PROJECT, completed
from specgen.commands.terminal import print_text
from specgen.commands.unusable import WordError
from specgen.model.project import Project
from specgen.paths.graph import declared_route
from specgen.paths.shapes import LAYERS, Layer, LayerPath, path_lines
from specgen.paths.trace import all_paths
from specgen.units.counted import many
from specgen.work.inputs import read_inputs

KINDS_OF_PLACE = ("plain run", "corner", "end", "scupper", "penetration")


@dataclass(frozen=True)
class NotTraced:
    """A layer without a path at a place where others have one."""

    parapet: str
    place: str
    layer: Layer
    route: str  # as declared


@dataclass(frozen=True)
class Layers:
    """What is printed as data of the control layers of a project."""

    project: str
    summary: Mapping[str, int]
    paths: tuple[LayerPath, ...]
    not_traced: tuple[NotTraced, ...]


@click.command()
@PROJECT
@click.option(
    "--layer",
    "layers",
    multiple=True,
    shell_complete=completed("layers"),
    help="Only this layer: water, air, vapor, heat; repeatable.",
)
@PARAPETS
@click.option(
    "--place",
    "places",
    multiple=True,
    shell_complete=completed("places"),
    help="Only this place: plain run, corner, end, scupper, penetration, or one by name (`corner C-1`); repeatable.",
)
@OFFICE
@ALLOW_CODE
@FORMAT
@exits
def command(
    project: Path,
    layers: tuple[str, ...],
    parapets: tuple[str, ...],
    places: tuple[str, ...],
    office: Path | None,
    allow_code: bool,
    form: str,
) -> int:
    """Print the paths of water, air, vapor and heat through each parapet of PROJECT.

    At the plain run and at each corner, end, scupper and penetration: a whole path as a chain of components with
    the joints between them; a broken one with the two components, the missing condition and what would close it.

    Exit status: 0 no path is broken and nothing is unknown, 1 a path is broken, 2 the file cannot be used, 3 no path is
    broken, but something on one is not stated.
    """
    inputs = read_inputs(project, office, allow_code)
    practice = inputs.effective()
    found = all_paths(settled(inputs.project, practice), practice)
    wrong = [
        *strange("layer", layers, LAYERS),
        *strange("parapet", parapets, [one.name for one in inputs.project.parapets]),
        *(words for place in places for words in _strange_place(place, found)),
    ]
    if wrong:
        raise WordError(wrong)
    here = [one for one in found if _at(one, parapets, places)]
    shown = [one for one in here if not layers or one.layer in layers]
    absent = [one for one in not_traced(inputs.project, here) if not layers or one.layer in layers]
    if form == "json":
        echo_json(Layers(inputs.project.title, _summary(shown), tuple(shown), tuple(absent)))
    else:
        print_text("\n".join([*_text(shown, absent), _closing(inputs.project, shown)]))
    return status(shown)


def _strange_place(place: str, found: Iterable[LayerPath]) -> list[str]:
    """A message for a place that is no kind of place and not the name of one."""
    named = list(dict.fromkeys(one.place.partition(" (")[0] for one in found))
    if place in KINDS_OF_PLACE or any(_is_place(one.place, place) for one in found):
        return []
    return strange("place", [place], dict.fromkeys([*KINDS_OF_PLACE, *named]))


def _is_place(place: str, asked: str) -> bool:
    """Whether a place is the one asked for, by its kind, its name, or its name in full.

    >>> [_is_place("corner C-1 (inside)", asked) for asked in ("corner", "corner C-1", "corner C", "end")]
    [True, True, False, False]
    """
    return place == asked or place.startswith(f"{asked} ")


def _at(path: LayerPath, parapets: tuple[str, ...], places: tuple[str, ...]) -> bool:
    here = not places or any(_is_place(path.place, one) for one in places)
    return here and (not parapets or path.parapet in parapets)


def not_traced(project: Project, found: Iterable[LayerPath]) -> list[NotTraced]:
    """The layers without a path at a place where others have one."""
    there: dict[tuple[str, str], set[str]] = {}
    for one in found:
        there.setdefault((one.parapet, one.place), set()).add(one.layer)
    by_name = {parapet.name: parapet for parapet in project.parapets}
    return [
        NotTraced(name, place, layer, declared_route(by_name[name], layer) or "not declared")
        for (name, place), known in there.items()
        for layer in LAYERS
        if layer not in known
    ]


def merged(found: Iterable[LayerPath]) -> list[LayerPath]:
    """One path for what several parapets share, as those of one type do: the same but for the parapet's name."""
    groups: dict[LayerPath, list[str]] = {}
    for one in found:
        groups.setdefault(replace(one, parapet=""), []).append(one.parapet)
    return [replace(one, parapet=", ".join(names)) for one, names in groups.items()]


def _text(shown: Iterable[LayerPath], absent: Iterable[NotTraced]) -> list[str]:
    lines = [line for one in merged(shown) for line in path_lines(one)]
    shared: dict[tuple[str, Layer, str], list[str]] = {}
    for one in absent:
        shared.setdefault((one.place, one.layer, one.route), []).append(one.parapet)
    for (place, layer, route), names in shared.items():
        lines.append(f"{layer} at {', '.join(names)}, {place}: not traced here; declared: {route}")
    return lines


def _summary(shown: Iterable[LayerPath]) -> dict[str, int]:
    """How many paths are whole, broken, or wait for an answer."""
    counts = Counter(
        "unbroken" if one.unbroken else "broken" if one.standing("broken") else "open" for one in shown
    )
    return {word: counts[word] for word in ("unbroken", "broken", "open")}


def _closing(project: Project, shown: Iterable[LayerPath]) -> str:
    counts = _summary(shown)
    total = sum(counts.values())
    return (
        f"{project.title}: {many(total, 'path')}: {counts['unbroken']} unbroken, "
        f"{counts['broken']} broken, {counts['open']} waiting for an answer."
    )
