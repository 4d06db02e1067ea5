"""specgen calc: the calculations, with inputs, formulas, results and sources."""

from __future__ import annotations

from pathlib import Path

import click

from specgen.commands.common import CLEAN, FORMAT, PROJECT, UNUSABLE, echo_json, exits
from specgen.design.run import calculate_all, subjects
from specgen.design.sheet import as_json, sheet
from specgen.files.marks import near
from specgen.intake.project import load_project
from specgen.practice.load import load_practice


@click.command()
@PROJECT
@click.option("--subject", "subject", help="One subject, as `coping wind`.")
@click.option("--parapet", "parapet", help="One parapet by name.")
@FORMAT
@exits
def command(project: Path, subject: str | None, parapet: str | None, form: str) -> int:
    """Print the calculations of PROJECT: inputs, formula, steps, result, source, what is left out."""
    practice = load_practice()
    described = load_project(project, practice)
    for word, given, known in (
        ("subject", subject, tuple(subjects())),
        ("parapet", parapet, tuple(one.name for one in described.parapets)),
    ):
        if given is not None and given not in known:
            guess = near(given, known)
            hint = f"did you mean `{guess}`?" if guess else f"known: {', '.join(known)}"
            click.echo(f"no {word} `{given}`; {hint}", err=True)
            return UNUSABLE
    found = calculate_all(
        described, practice, subjects=[subject] if subject else None, parapets=[parapet] if parapet else None
    )
    system = described.info.word("units") or "inch-pound"
    if form == "json":
        echo_json({"project": described.title, "calculations": [as_json(one) for one in found]})
    else:
        click.echo("\n\n".join(sheet(one, system) for one in found))
    return CLEAN
