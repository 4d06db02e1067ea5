"""specgen page: the project in the browser of this machine."""

from __future__ import annotations

import getpass
from contextlib import suppress
from pathlib import Path

import click

from specgen.commands.common import CLEAN, exits, need
from specgen.commands.options import ALLOW_CODE, CLAUSES, OFFICE, WEATHER
from specgen.commands.progress import end_bar
from specgen.commands.terminal import print_text
from specgen.commands.unusable import WordError

IDLE = 3600.0  # s


@click.command()
@click.argument("project", type=click.Path(path_type=Path), default=".")
@OFFICE
@ALLOW_CODE
@WEATHER
@CLAUSES
@click.option(
    "--port", type=click.IntRange(0, 65535), default=0, help="Port to listen on; 0 takes a free one."
)
@click.option("--no-browser", "quiet", is_flag=True, help="Print the address and open no browser.")
@click.option(
    "--name", "person", metavar="NAME", help="Who works at the page; comments and decisions bear it."
)
@click.option("--end-with-tab", is_flag=True, help="End when the last tab of the page is closed.")
@click.option("--end-idle", is_flag=True, help="End after an hour in which nothing was asked of the page.")
@exits
def command(
    project: Path,
    office: Path | None,
    allow_code: bool,
    weather: Path | None,
    clauses: Path | None,
    port: int,
    quiet: bool,
    person: str | None,
    end_with_tab: bool,
    end_idle: bool,
) -> int:
    """Open PROJECT in the browser: describe the wall, see what it breaks, decide, print.

    PROJECT is a project's folder or file, or any folder to start one in; without it, the folder you are in. The page
    answers this machine alone, at the address that is printed. Ctrl-C ends it.

    Exit status: 0 the page was ended, 2 the project cannot be used, or the port is taken.
    """
    need("page")
    from specgen.intake.project import FILE_NAME
    from specgen.page.desk import Desk, Options
    from specgen.page.serve import listening, serve

    root = project if project.is_dir() else project.parent
    if not root.is_dir():
        raise WordError([f"{project}: there is no such folder; name a project's folder, or one to start in"])
    desk = Desk(root, Options(office, allow_code, weather, clauses), person or _user())
    if not project.is_dir() or (project / FILE_NAME).exists():
        desk.open(project)
    try:
        sock = listening(port)
    except OSError as error:
        raise WordError(
            [f"port {port} cannot be used: {error.strerror}; choose another with --port"]
        ) from None
    with suppress(KeyboardInterrupt):  # which is how it is ended
        serve(
            desk, sock, _ready, browser=not quiet, end_with_tab=end_with_tab, idle=IDLE if end_idle else None
        )
    return CLEAN


def _ready(address: str) -> None:
    end_bar()  # what is asked of the page later shows how far it is on the page
    print_text(f"The page is at {address}")
    print_text("It answers this machine alone. Keep the address to yourself; Ctrl-C ends the page.")


def _user() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):  # the last on Windows, where the environment has no name
        return ""
