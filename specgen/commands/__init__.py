"""The command line. Each command is a module of this room, loaded only when it is called."""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, ClassVar

import click

from specgen import __version__
from specgen.commands.plain_signs import write_plainly

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

WORDS = __name__  # of the command line, in the context
_WHOLE = "\N{NON-BREAKING HYPHEN}"
COMPLETING = "_SPECGEN_COMPLETE"  # in the environment while a shell asks for words
COMMANDS = {
    "new": "Start a project file with comments, ready to edit.",
    "page": "Open a project in the browser of this machine.",
    "propose": "Propose whole walls from facts, compared, each as a project file.",
    "check": "Check a project against the rule book.",
    "compare": "Tell what differs between two project files and what follows from them.",
    "calc": "Print the calculations with inputs, formulas and sources.",
    "hourly": "Run the hours of years through the walls, and keep what they did beside the project.",
    "layers": "Print the paths of water, air, vapor and heat, and what breaks them.",
    "sequence": "Print the order of work, with trades and hold points.",
    "write": "Write the specification sections and the submittal checklist.",
    "read": "Read data sheets into a submittal file, each value with its evidence.",
    "package": "Sort a folder of mixed paper by product, and read each into a submittal file.",
    "review": "Hold submitted products against the requirements.",
    "substitute": "Put a substitution request into the wall and tell what it changes.",
    "letters": "Draft request for information, compatibility letters, deficiency list, transmittal.",
    "register": "Keep the submittal register: what is due, by when, and what became of it.",
    "accept": "Enter a submittal or a substitution that was accepted, beside the project.",
    "comment": "List what people ask on findings, paragraphs and values; comment, answer, mark as answered.",
    "exchange": "Write the project in open formats for other programs: IDS, IFC, BCF.",
    "audit": "Assess many projects at once, as designed and as accepted.",
    "upgrade": "Rewrite older files in the current format, and tell what changes in an issue by this program.",
    "rules": "Print the rule catalogue, or one rule.",
    "template": "Tell what an office's Word file gives the documents, and what is put in for the rest.",
    "schema": "Print the JSON Schema of a project, submittal, request or office file.",
}


class WholeWords(click.HelpFormatter):
    """Wraps help at spaces alone: a name such as ``--with-open-points`` is never torn at its hyphens."""

    def write_text(self, text: str) -> None:
        """As click does."""
        super().write_text(text.replace("-", _WHOLE))

    def write_dl(self, rows: Iterable[tuple[str, str]], col_max: int = 30, col_spacing: int = 2) -> None:
        """As click does."""
        super().write_dl([(name, text.replace("-", _WHOLE)) for name, text in rows], col_max, col_spacing)

    def getvalue(self) -> str:
        """The help."""
        return super().getvalue().replace(_WHOLE, "-")


class HelpContext(click.Context):
    """The context of every command, for its help."""

    formatter_class = WholeWords


class TableGroup(click.Group):
    """Knows commands by the names of a table, and loads a command's module when it is called."""

    TABLE: ClassVar[Mapping[str, str]] = {}  # name to what it does, in the order of the list
    MODULE: ClassVar = ""  # of a command, with its name for the braces
    WORD: ClassVar = "command"
    context_class = HelpContext

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order of the table."""
        return list(self.TABLE)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command, from the module of its name."""
        if cmd_name not in self.TABLE:
            return None
        name = self.MODULE.format(cmd_name)
        command = importlib.import_module(name).command
        if not isinstance(command, click.Command):
            raise TypeError(f"{name} has no command")
        command.context_class = HelpContext
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, with the nearest command in the message of a misspelt one."""
        if args and not args[0].startswith("-") and args[0] not in self.TABLE and not ctx.resilient_parsing:
            from specgen.files.marks import suggestion

            hint = suggestion(args[0], self.TABLE, f"{self.WORD}s: {', '.join(self.TABLE)}")
            raise click.UsageError(f"no {self.WORD} `{args[0]}`; {hint}", ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The command list, from the table: help loads no command."""
        with formatter.section(f"{self.WORD.capitalize()}s"):
            formatter.write_dl(list(self.TABLE.items()))

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """The commands that begin so, from the table: a shell that completes a word loads no command."""
        from click.shell_completion import CompletionItem

        names = (one for one in self.TABLE.items() if one[0].startswith(incomplete))
        found = [CompletionItem(name, help=what) for name, what in names]
        return [*found, *click.Command.shell_complete(self, ctx, incomplete)]


class LazyGroup(TableGroup):
    """All commands; what is raised in one becomes a status here."""

    TABLE = COMMANDS
    MODULE = "specgen.commands.{}"

    def main(self, *args: Any, **extra: Any) -> Any:
        """As click does; a console that lacks a sign gets it in letters, in help and errors as well."""
        for stream in (sys.stdout, sys.stderr):
            write_plainly(stream)
        if COMPLETING not in os.environ:
            return super().main(*args, **extra)
        try:
            import specgen.commands.completion  # noqa: F401 - knows how a word is put into the line of a shell

            return super().main(*args, **extra)
        except Exception:  # the person is in the middle of a line, in which nothing may be printed
            sys.exit(1)

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """As click does; the words are kept, so that also a command line that cannot be used has its form."""
        ctx.meta[WORDS] = tuple(args)
        return super().parse_args(ctx, args)

    def invoke(self, ctx: click.Context) -> object:
        """As click does; whatever is raised on the way, in an option or in the command, becomes a status here."""
        words = ctx.meta[WORDS]
        try:
            if any("\0" in word for word in words):
                raise click.UsageError("a word of the command line holds a NUL character")
            return super().invoke(ctx)
        except (BrokenPipeError, click.exceptions.Exit, click.Abort):
            raise  # of a broken pipe the reader, as `head`, has seen enough
        except (Exception, SystemExit) as error:  # SystemExit: a rule of an office that ends the program
            from specgen.commands.common import report

            ctx.exit(report(error, words))


@click.command(
    cls=LazyGroup,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="To complete words with the Tab key, add a line to the start file of your shell:\n\n\b\n"
    f'  bash  eval "$({COMPLETING}=bash_source specgen)"\n'
    f'  zsh   eval "$({COMPLETING}=zsh_source specgen)"\n'
    f"  fish  {COMPLETING}=fish_source specgen | source\n\n"
    "Exit status: 0 nothing worse than a query and nothing unknown, 1 a defect, a risk or a product to resubmit,"
    " 2 unusable input, 3 nothing failed, but something is unknown, 70 a fault of the program.",
)
@click.version_option(__version__, message="specgen %(version)s")
def main() -> None:
    """Describe a stucco parapet in YAML; check it, calculate it, specify it, review what is submitted.

    PROJECT is a folder that holds project.yaml, or the file itself, or - for standard input; without it, the
    folder you are in. The tool recommends; a person decides and signs. Local codes govern.
    """
