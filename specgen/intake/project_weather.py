"""The weather files of a project: named in the project file and inside its folder, or one given on the command line."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from specgen.files.inside import inside
from specgen.files.marks import InputError, InputProblem, shown
from specgen.model.project import Record

if TYPE_CHECKING:  # a project without a weather file needs no array library
    from specgen.model.weather import Weather

FIRST, FURTHER = "weather", "weather_years"
ASIDE = "the further years that the project names are left aside for the file of the command line"
MOST_YEARS = 30
APART = 1.0  # degrees between the places of two files, beyond which they are not of one


def weather_files(site: Record) -> tuple[tuple[str, str], ...]:
    """The key and name of every weather file that a project names, the first year first."""
    first, further = site.word(FIRST), site.word(FURTHER)
    names = [name.strip() for name in further.split(",")] if further else []
    return (*(((FIRST, first),) if first else ()), *((FURTHER, name) for name in names))


def project_weather(
    site: Record, folder: Path, given: Path | None, problems: list[InputProblem]
) -> Weather | None:
    """The weather of a project with its further years, or None where it names none; problems are added to the list.

    Args:
        site: its ``weather`` names a file relative to the folder, its ``weather_years`` those of further years.
        folder: the project folder; a named file may not lie outside, links followed.
        given: a file from the command line, which may lie anywhere and goes before all that are named.
        problems: of the project file and its weather files.
    """
    named = weather_files(site)
    if given is None and (not named or named[0][0] != FIRST):
        return None  # further years without a first: the rule on values that belong together asks for it
    from specgen.intake.weather import load_weather

    try:
        if given is not None:
            weather = load_weather(given)
            aside = (ASIDE,) if site.word(FURTHER) else ()
            return replace(weather, notes=(*weather.notes, *aside)) if aside else weather
    except InputError as error:
        problems.extend(error.problems)
        return None
    if len(named) > MOST_YEARS:
        fix = f"name at most {MOST_YEARS} in all"
        problems.append(InputProblem(site.at(FURTHER), f"`{FURTHER}`: {len(named)} weather files", fix))
        return None
    years = [_named(site, folder, key, name, problems) for key, name in named]
    read = [year for year in years if year is not None]
    if len(read) < len(named):
        return None
    first = read[0]
    for year in read[1:]:
        if not _same_place(first, year):
            fix = "name files of one place"
            message = f"`{FURTHER}`: {shown(year.name)} is of another place than {shown(first.name)}"
            problems.append(InputProblem(site.at(FURTHER), message, fix))
    return replace(first, further=tuple(read[1:])) if len(read) > 1 else first


def _named(site: Record, folder: Path, key: str, named: str, problems: list[InputProblem]) -> Weather | None:
    """One file that the project names, or None with its problem."""
    from specgen.intake.weather import load_weather

    try:
        path = inside(folder, named)
        if path is None:
            fix = "put the file beside the project file, or give it on the command line"
            message = f"`{key}`: {shown(named)} leaves the project folder"
            problems.append(InputProblem(site.at(key), message, fix))
            return None
        if not path.is_file():
            fix = "put the file beside the project file"
            problems.append(InputProblem(site.at(key), f"`{key}`: no file {shown(named)}", fix))
            return None
        return load_weather(path, str(folder / named))
    except InputError as error:
        problems.extend(error.problems)
        return None


def _same_place(one: Weather, other: Weather) -> bool:
    east = abs((one.place.longitude - other.place.longitude + 180.0) % 360.0 - 180.0)
    return abs(one.place.latitude - other.place.latitude) <= APART and east <= APART
