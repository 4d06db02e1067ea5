"""specgen audit: many projects at once, as designed and as accepted, on all cores or on a cluster."""

from __future__ import annotations

import contextlib
from collections.abc import Generator, Iterator
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.common import FAULT, exits, folder_lines, need, status
from specgen.commands.options import FORCE, FORMAT, OUTPUT
from specgen.commands.terminal import print_as_is, print_text
from specgen.commands.unusable import WordError
from specgen.design.progress import tell
from specgen.units.counted import many

if TYPE_CHECKING:
    from specgen.audit.engine import Done, Job
    from specgen.audit.folders import Tree
    from specgen.audit.state import State
    from specgen.audit.totals import Audit
    from specgen.files.writing import Written
    from specgen.model.bad import BadProduct

DAY = click.DateTime(["%Y-%m-%d"])
LISTS = (".yaml", ".yml")


@click.command()
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@OUTPUT
@click.option("--jobs", type=click.IntRange(1, 512), help="Processes to use; without it, one a core.")
@click.option(
    "--engine",
    type=click.Choice(["local", "dask"]),
    default="local",
    help="Where the projects are assessed: in processes of this machine, or on a Dask cluster.",
)
@click.option("--scheduler", metavar="ADDRESS", help="Scheduler of the Dask cluster, as tcp://host:8786.")
@click.option(
    "--bad",
    "named",
    multiple=True,
    metavar="NAME|FILE",
    help="A product now known to be bad, or a YAML list of them; repeatable.",
)
@click.option("--since", type=DAY, help="First day of the trend by month.")
@click.option("--until", type=DAY, help="Last day of the trend by month.")
@click.option(
    "--office",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="One office file for all projects; without it, office.yaml beside each.",
)
@FORCE
@FORMAT
@exits
def command(
    folder: Path,
    output: Path,
    jobs: int | None,
    engine: str,
    scheduler: str | None,
    named: tuple[str, ...],
    since: datetime | None,
    until: datetime | None,
    office: Path | None,
    force: bool,
    form: str,
) -> int:
    """Assess every project below DIR, as designed and with what accepted.yaml beside it says was accepted.

    A page, a workbook and a JSON file go into the output folder, and beside them the state of the run: a line for
    each project that is done. A run that was stopped goes on from there when it is started again, and projects
    whose files did not change are not assessed again. A project that cannot be used is a row with its problems; so is
    one on which the program has a fault: the other rows stand, and the audit ends with 70.

    Exit status: 0 nothing worse than a query and nothing unknown, 1 a defect, a risk, an accepted product that fails a
    requirement, a bad product or an unusable project, 2 unusable input, or stopped before the end, 3 nothing failed,
    but something is unknown or was accepted unproven.
    """
    from specgen.audit.folders import find_projects
    from specgen.audit.state import State

    first, last = _day(since), _day(until)
    if first and last and first > last:
        raise click.UsageError(f"--since {first} lies after --until {last}")
    if (engine == "dask") != bool(scheduler):
        raise click.UsageError("--engine dask and --scheduler ADDRESS go together")
    if engine == "dask":
        need("portfolio")
    sought = _sought(named)
    root = _root(folder)
    tree = find_projects(root, output)
    if not tree.projects:
        raise click.UsageError(f"no folder below {folder} has a project.yaml")
    with State(output) as state:
        todo = list(_todo(root, tree, state, office))
        _notes(tree, state, len(todo))
        _assess(todo, state, engine, scheduler, jobs)
        from specgen.audit.totals import audit_of
        from specgen.commands.audit_print import audit_bytes, audit_text, with_files

        audit = audit_of(root.name or str(root), state.records(tree.projects), sought, first, last)
        whole = audit_bytes(audit, state.records(tree.projects))
    written = _write(output, audit, whole, force)
    if form == "json":
        print_as_is(with_files(whole, written), nl=False)
    else:
        for line in audit_text(audit):
            print_text(line)
        for line in folder_lines(written):
            print_text(line)
        print_text(f"{output / 'audit.html'}, audit.xlsx, audit.json")
    if any(one.status == FAULT for one in audit.projects):
        return FAULT
    return status((*audit.findings, *audit.papers), failed=bool(audit.unusable or audit.bad))


def _write(output: Path, audit: Audit, whole: bytes, force: bool) -> Written:
    """Write the papers.

    Raises:
        OutputError: the folder cannot be used; what was assessed is kept in the state.
    """
    from specgen.audit.sheet import audit_workbook
    from specgen.audit.state import NAME
    from specgen.files.faults import OutputError
    from specgen.files.writing import OutputFolder
    from specgen.render.audit import audit_page
    from specgen.render.workbook import workbook_bytes

    papers = OutputFolder(output)
    papers.add("audit.html", audit_page(audit))
    papers.add("audit.xlsx", workbook_bytes(audit_workbook(audit)))
    papers.add("audit.json", whole)
    try:
        return papers.commit(force=force)
    except OutputError as error:
        kept = f"no paper was written; {NAME} keeps what was assessed"
        raise OutputError(str(error).replace("nothing was written", kept)) from None


def _day(given: datetime | None) -> date | None:
    return given.date() if given else None


def _root(folder: Path) -> Path:
    """The folder with links followed: places are told from it.

    Raises:
        InputError: it is no folder.
    """
    from specgen.files.foreign import refused

    if not folder.is_dir():
        what = "this is a file, not a folder" if folder.exists() else "there is no such folder"
        raise refused(folder, what, "name a folder with projects in it")
    return folder.resolve()


def _sought(named: tuple[str, ...]) -> tuple[BadProduct, ...]:
    """Bad products by name, and those of lists."""
    from specgen.intake.bad_products import load_bad
    from specgen.model.bad import BadProduct
    from specgen.practice.load import load_practice

    found: list[BadProduct] = []
    for one in named:
        if one.lower().endswith(LISTS):
            found += load_bad(Path(one), load_practice())
        elif one.strip():
            words = " ".join(one.split())
            found.append(BadProduct(words, "", "", (), words, ""))
        else:
            raise click.UsageError("--bad names no product")
    return tuple(dict.fromkeys(found))


def _todo(root: Path, tree: Tree, state: State, office: Path | None) -> Iterator[Job]:
    """The projects that the state does not hold as they are now; those with problems are tried again."""
    from specgen.audit.engine import Job
    from specgen.audit.keys import digest, digests, key_of, program

    shared = office.resolve() if office else None
    office_digest = digest(shared) if shared else ""
    for path in tree.projects:
        if path in state:
            line = state.record(path)
            now = digests(root / path, line["inputs"])
            if not line.get("problems") and line.get("key") == key_of(now, program(), office_digest):
                continue
        yield Job(str(root), path, str(shared or ""), program())


def _notes(tree: Tree, state: State, todo: int) -> None:
    from specgen.audit.folders import DEEPEST, visible

    if state.repaired:
        print_text(
            "The state file ended in a line that was cut short; that project is assessed again.", err=True
        )
    if todo < len(tree.projects):
        print_text(
            f"done already: {len(tree.projects) - todo} of {many(len(tree.projects), 'project')}.", err=True
        )
    if tree.links:
        print_text(f"links to folders, not followed: {tree.links}", err=True)
    if tree.too_deep:
        print_text(f"folders more than {DEEPEST} deep, not looked into: {tree.too_deep}", err=True)
    for path in tree.unread:
        print_text(f"folder that cannot be listed: {visible(path)}", err=True)


def _assess(todo: list[Job], state: State, engine: str, scheduler: str | None, jobs: int | None) -> None:
    """Assess and note each project as it is done.

    Raises:
        WordError: the run was interrupted.
    """
    from specgen.audit.cluster import NoClusterError
    from specgen.audit.engine import prepare

    if not todo:
        return
    if engine == "local":
        prepare()
    from specgen.commands.audit_job import (
        lost_line,
    )  # reads much: meanwhile the process for the workers does too

    done = 0
    try:
        with contextlib.closing(_engine(todo, engine, scheduler, jobs)) as results:
            for one in results:
                state.add(one.job.path, one.line or lost_line(one.job))
                done += 1
                tell(done / len(todo))
    except NoClusterError as error:
        raise click.UsageError(str(error)) from None
    except KeyboardInterrupt:
        words = f"interrupted after {done} of {many(len(todo), 'project')}; start it again to go on."
        raise WordError([words]) from None


def _engine(
    todo: list[Job], engine: str, scheduler: str | None, jobs: int | None
) -> Generator[Done, None, None]:
    from specgen.audit.cluster import dask
    from specgen.audit.engine import cores, local
    from specgen.commands.audit_job import audit_job

    if engine == "dask":
        return dask(audit_job, todo, scheduler or "")
    return local(audit_job, todo, min(jobs or cores(), len(todo)))
