"""The weather file of a project: named in the project file and inside its folder, or given on the command line."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from specgen.files.inside import inside
from specgen.files.marks import InputError, InputProblem, shown
from specgen.model.project import Record

if TYPE_CHECKING:  # a project without a weather file needs no array library
    from specgen.model.weather import Weather


def project_weather(
    site: Record, folder: Path, given: Path | None, problems: list[InputProblem]
) -> Weather | None:
    """The weather of a project, or None where it names none; problems are added to the list.

    Args:
        site: its ``weather`` names a file relative to the folder.
        folder: the project folder; the named file may not lie outside, links followed.
        given: a file from the command line, which may lie anywhere and goes before the named one.
        problems: of the project file and its weather file.
    """
    named = site.word("weather")
    if given is None and named is None:
        return None
    named = named or ""
    from specgen.intake.weather import load_weather

    try:
        if given is not None:
            return load_weather(given)
        path = inside(folder, named)
        if path is None:
            fix = "put the file beside the project file, or give it on the command line"
            message = f"`weather`: {shown(named)} leaves the project folder"
            problems.append(InputProblem(site.at("weather"), message, fix))
            return None
        if not path.is_file():
            fix = "put the file beside the project file"
            problems.append(InputProblem(site.at("weather"), f"`weather`: no file {shown(named)}", fix))
            return None
        return load_weather(path, str(folder / named))
    except InputError as error:
        problems.extend(error.problems)
        return None
