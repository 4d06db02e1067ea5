"""Words that a shell completes: of specgen's own lists, and the names in the project that the line names.

A word is completed while a person types, so nothing here loads the rule book or reads a project as a command does:
lists come from names of files and single lines of text, and a broken project file gives what can still be seen in it.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import click
from click.shell_completion import BashComplete, CompletionItem, add_completion_class

from specgen.commands import WORDS
from specgen.files.carried import carried
from specgen.files.foreign import foreign_bytes
from specgen.files.marks import InputError
from specgen.files.names import PROJECT_FILE

Words = Iterable[tuple[str, str]]  # each with what it means
Complete = Callable[[click.Context, click.Parameter, str], list[CompletionItem]]

_HOUSE = Path(__file__).resolve().parent.parent
_ENDINGS = (".yaml", ".yml")
_MOST = 4_000_000  # bytes of a project file that is looked into
_SUBJECT = re.compile(r'^(SUBJECT|TITLE) = "(.*)"$', re.MULTILINE)
_RULE_FILE = re.compile(r"([a-z]{2}\d\d)_")
_PAPER_RULE = re.compile(r'\bcode="([A-Z]{2}\d\d)",\s*name="([^"]*)"')
_STATES = re.compile(r"^    state: \{.*choices: \[(.*?)\]", re.MULTILINE)
_ROLE = re.compile(r"^([a-z][\w -]*):$", re.MULTILINE)
_NAME = re.compile(r"""(?:^|[{,]|-)\s*name:\s*("[^"]*"|'[^']*'|[^,}#\n]+)""")
_SPECIAL = re.compile(r"""[\s"'\\$`&|;<>()*?!#~]""")  # of bash
_SEVERITIES = (
    ("defect", "breaks a code or a condition the assembly depends on"),
    ("risk", "departs from good practice"),
    ("query", "someone must answer or confirm in writing"),
)
_LAYERS = tuple((name, "") for name in ("water", "air", "vapor", "heat"))
_PLACES = tuple((name, "") for name in ("plain run", "corner", "end", "scupper", "penetration"))


def _from(words: Callable[[click.Context], Words]) -> Complete:
    """What completes an option by a list; nothing where the list cannot be made."""

    def complete(context: click.Context, parameter: click.Parameter, incomplete: str) -> list[CompletionItem]:
        begun = incomplete.casefold()
        try:
            known = [one for one in words(context) if one[0].casefold().startswith(begun)]
        except (OSError, ValueError, InputError):
            return []
        return [CompletionItem(word, help=meaning or None) for word, meaning in known]

    return complete


def folders(context: click.Context, parameter: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """Folders, for an option that names one."""
    return [CompletionItem(incomplete, type="dir")]


def subject_words(_context: click.Context | None = None) -> Iterator[tuple[str, str]]:
    """The subjects of calculations with their titles."""
    for path in sorted((_HOUSE / "design").glob("*.py")):
        found = dict(_SUBJECT.findall(path.read_text("utf-8")))
        if "SUBJECT" in found:
            yield found["SUBJECT"], found.get("TITLE", "")


def rule_words(_context: click.Context | None = None) -> Iterator[tuple[str, str]]:
    """The codes of the rules that ship, each with the first line of its manual page."""
    found = dict(_PAPER_RULE.findall((_HOUSE / "rules" / "papers.py").read_text("utf-8")))
    for path in (_HOUSE / "rules").glob("*/*.py"):
        if match := _RULE_FILE.match(path.name):
            with path.open(encoding="utf-8") as file:
                found[match[1].upper()] = file.readline().strip().strip('"').partition(": ")[2]
    yield from sorted(found.items())


def section_words(_context: click.Context | None = None) -> Iterator[tuple[str, str]]:
    """The numbers of the sections that ship."""
    for path in sorted(carried("clauses").glob("[0-9][0-9]-[0-9][0-9]-[0-9][0-9].yaml")):
        yield path.stem.replace("-", " "), ""


def example_words(_context: click.Context | None = None) -> Iterator[tuple[str, str]]:
    """The worked examples, and the file with a comment at each key."""
    for path in sorted(carried("projects").glob(f"*/{PROJECT_FILE}")):
        yield path.parent.name, "worked example"
    yield "commented", "a comment at each key"


def state_words(_context: click.Context | None = None) -> Iterator[tuple[str, str]]:
    """The states of an issue."""
    found = _STATES.search((_HOUSE / "practice" / "vocabulary" / "records.yaml").read_text("utf-8"))
    for word in found[1].split(", ") if found else ():
        yield word, ""


def file_words(_context: click.Context | None = None) -> Iterator[tuple[str, str]]:
    """The kinds of files that have a schema."""
    from specgen.commands.schema import FILES  # which the line has loaded

    yield from ((name, "") for name in FILES)


def role_words(_context: click.Context | None = None) -> Iterator[tuple[str, str]]:
    """What a component does in the wall."""
    for word in _ROLE.findall((_HOUSE / "practice" / "vocabulary" / "roles.yaml").read_text("utf-8")):
        yield word, ""


def parapet_words(context: click.Context) -> Iterator[tuple[str, str]]:
    """The parapets of the project that the line names, or of the one in this folder."""
    # An option without its word ends the parsing of the line: click knows nothing of the project then.
    for word in (*context.meta.get(WORDS, ())[1:], "."):
        path = Path(word) / PROJECT_FILE if Path(word).is_dir() else Path(word)
        if path.is_file() and path.suffix.lower() in _ENDINGS:
            text = foreign_bytes(path, _MOST).decode("utf-8-sig", "replace")
            yield from ((name, "") for name in parapet_names(text))
            return


def parapet_names(text: str) -> list[str]:
    """The names of the parapets in the text of a project file, as far as they can be seen.

    >>> parapet_names("parapets:\\n  - name: P-1\\n    corners:\\n      - name: C-1\\n  - {name: 'P 2', type: a}\\nsite:")
    ['P-1', 'P 2']
    """
    _, _, behind = f"\n{text}".partition("\nparapets:")
    block = re.split(r"^[^\s#-]", behind, maxsplit=1, flags=re.MULTILINE)[0]
    at: int | None = None
    found = []
    for line in block.splitlines():
        indent = len(line) - len(line.lstrip())
        item = line.lstrip().startswith("-")
        if at is None and item:
            at = indent
        if at is None or not ((item and indent == at) or (not item and indent == at + 2)):
            continue
        if item or line.lstrip().startswith("name:"):
            found += [match.strip().strip("\"'") for match in _NAME.findall(line)[:1]]
    return [name for name in found if name and name[0] not in "[{"]


parapets, subjects, rules = _from(parapet_words), _from(subject_words), _from(rule_words)
sections, states, roles = _from(section_words), _from(state_words), _from(role_words)
severities, layers = _from(lambda _: _SEVERITIES), _from(lambda _: _LAYERS)
places, files = _from(lambda _: _PLACES), _from(file_words)


def examples(context: click.Context, parameter: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """Worked examples, and files where none begins so."""
    return _from(example_words)(context, parameter, incomplete) or [CompletionItem(incomplete, type="file")]


class QuotingBashComplete(BashComplete):
    """Bash puts a word into the line as it is: spaces are escaped here, unless the person has begun with a quote."""

    def format_completion(self, item: CompletionItem) -> str:
        """As click does, with the word as one word of the line."""
        typed = os.environ.get("COMP_WORDS", "").split("\n")
        at = int(os.environ.get("COMP_CWORD", "0"))
        quoted = at < len(typed) and typed[at][:1] in ('"', "'")
        word = item.value if quoted else _SPECIAL.sub(r"\\\g<0>", item.value)
        escaped = word.replace("\\", "\\\\")  # its script reads the line with `read`, which takes one away
        return f"{item.type},{escaped}"


add_completion_class(QuotingBashComplete, "bash")
