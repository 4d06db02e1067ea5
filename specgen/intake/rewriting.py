"""An older file in the current format: its text is changed at the marks of its tree, and nowhere else."""

from __future__ import annotations

import codecs
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from specgen.files.foreign import foreign_bytes, refused
from specgen.files.marks import InputError, InputProblem, of_file
from specgen.files.yaml_nodes import Splicing, YamlText, source, spliced
from specgen.files.yaml_reader import Limits, MarkedMap, read_yaml, read_yaml_text
from specgen.intake import schedule
from specgen.intake.formats import FORMAT, Splice, brought_up, current
from specgen.intake.wrong_file import KEYS, kind_of_tree

ENDINGS = (".yaml", ".yml")
_TOKEN = re.compile(r"(&\S+\s+)?([\"']?)")  # what stands before the words of a key or value


@dataclass(frozen=True)
class Rewriting:
    """A file as it stands and as it is in the current format; the bytes are the same where it is that already."""

    path: Path
    kind: str
    number: int  # that it bears
    before: bytes
    after: bytes

    @property
    def current(self) -> int:
        """The number that files of its kind bear now."""
        return current(self.kind)


@dataclass(frozen=True)
class Found:
    """What there is to rewrite below some paths, and the YAML files that are of no kind of specgen's."""

    files: tuple[Rewriting, ...]
    aside: tuple[Path, ...]


def why_aside(path: Path) -> str:
    """Why a YAML file of a folder is left aside."""
    if path.is_symlink():
        return "a link; name the file itself"
    return "no file of specgen's" if path.is_file() else "no regular file"


def rewritings(paths: Sequence[Path]) -> Found:
    """Read files, and every YAML file below folders, and put them into the current format in memory.

    Args:
        paths: a file named here must be of a known kind; in a folder, others and hidden ones are left aside.

    Raises:
        InputError: carries every problem of every file; a folder that holds nothing is one.
    """
    files: dict[Path, Rewriting] = {}
    aside: list[Path] = []
    problems: list[InputProblem] = []
    for given in paths:
        inside = _below(given) if given.is_dir() else [given]
        before = len(problems)
        for path in inside:
            if path is not given and (path.is_symlink() or not path.is_file()):
                aside.append(path)
                continue
            try:
                one = _rewriting(path, named=path is given)
            except InputError as error:
                problems += error.problems
                continue
            if one is None:
                aside.append(path)
            else:
                files[path] = one
        if len(problems) == before and not any(one in files for one in inside):
            problems.append(of_file(given, "the folder holds no file of specgen", "name a project's folder"))
    if problems:
        raise InputError(problems)
    return Found(tuple(files.values()), tuple(dict.fromkeys(aside)))


def _below(folder: Path) -> list[Path]:
    """What bears the name of a YAML file in a folder, without folders and what is hidden."""
    found = (path for path in sorted(folder.rglob("*")) if path.suffix.lower() in ENDINGS)
    return [
        path
        for path in found
        if (path.is_symlink() or not path.is_dir())
        and not any(part.startswith(".") for part in path.relative_to(folder).parts)
    ]


def _rewriting(path: Path, named: bool) -> Rewriting | None:
    root = read_yaml(path)
    kind = kind_of_tree(root)
    plainly = kind and KEYS[kind][0] in root and (kind != "schedule" or set(root) <= set(schedule.FILE))
    if not isinstance(root, MarkedMap) or not kind or not (named or plainly):
        if named:
            raise refused(path, "the file is of no kind of specgen's", f"kinds: {', '.join(KEYS)}")
        return None
    data = foreign_bytes(path, Limits().bytes)
    sign = codecs.BOM_UTF8 if data.startswith(codecs.BOM_UTF8) else b""
    text = data[len(sign) :].decode("utf-8")
    number, splices = brought_up(root, kind)
    if number == current(kind):
        return Rewriting(path, kind, number, data, data)
    try:
        after = _spliced(source(text, str(path)), root, splices)
        again = read_yaml_text(after, str(path), want=dict)
    except (InputError, KeyError):
        after, again = "", MarkedMap(root.mark)
    if _content(again) != _content(root) or again.get(FORMAT) != root[FORMAT]:
        what = "it cannot be rewritten without a change of what it says"
        fix = f"write each key on a line of its own, and `{FORMAT}: {root[FORMAT]}` as the first"
        raise refused(path, what, fix)
    return Rewriting(path, kind, number, data, sign + after.encode("utf-8"))


def _content(root: MarkedMap) -> str:
    """What a file says: keys in their order and values with their types, without its number."""
    return repr({key: value for key, value in root.items() if key != FORMAT})


def _spliced(base: YamlText, root: MarkedMap, splices: Sequence[Splice]) -> str:
    """The text with other words at the marks, and with its number before the first key if it bears none."""
    words = (node for node in base.root.below() if node.kind in ("scalar", "alias"))
    places = {base.mark(node.start): (node.start, node.end) for node in words}
    # Of several changes at one mark the last is what shall stand there.
    changes = {places[one.mark]: one.now for one in splices}
    edits = [(at, stop, _as_written(base.text[at:stop], now)) for (at, stop), now in changes.items()]
    if FORMAT not in root.keys_at:
        first = places[next(iter(root.keys_at.values()))]
        edits.append(_numbered(base, first[0], f"{FORMAT}: {root[FORMAT]}"))
    return spliced(base.text, edits)


def _as_written(token: str, now: str) -> str:
    """Other words in place of those of a key or value: the anchor, the quotes and what follows stay."""
    found = _TOKEN.match(token)
    anchor, quote = (found[1] or "", found[2]) if found else ("", "")
    return f"{anchor}{quote}{now}{quote}{token[len(token.rstrip()) :]}"


def _numbered(base: YamlText, at: int, line: str) -> Splicing:
    """Where the number goes in: on a line of its own before that of the first key, which stands at ``at``."""
    if base.root.flow:
        return at, at, f"{line}, "
    start = base.line_start(at)
    indent = base.text[start:at].partition("?")[0]
    return start, start, f"{indent}{line}{base.line_break}"
