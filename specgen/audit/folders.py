"""The project folders below a folder: none twice, none outside, whatever the tree looks like."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from specgen.files.names import PROJECT_FILE as PROJECT

DEEPEST = 16  # folders below the one that is audited


@dataclass(frozen=True)
class Tree:
    """What a walk found. Paths are from the root, with forward slashes, as the file system spells them."""

    projects: tuple[str, ...]
    links: int  # links to folders, not followed
    too_deep: int  # folders below the deepest, not looked into
    unread: tuple[str, ...]  # folders that cannot be listed


def find_projects(root: Path, leave_out: Path) -> Tree:
    """Every folder with a project file, in the order of the names.

    Links to folders are not followed, so that a loop of links ends and nothing outside is read. Hidden folders are
    not looked into.

    Args:
        root: the folder that is audited.
        leave_out: the output folder, which may lie in it.

    Raises:
        OSError: the root itself cannot be listed.
    """
    found: list[str] = []
    unread: list[str] = []
    links = too_deep = 0
    away = leave_out.stat() if leave_out.is_dir() else None
    waiting: list[tuple[str, int]] = [("", 0)]
    while waiting:
        path, depth = waiting.pop()
        here = root / path
        try:
            with os.scandir(here) as listed:
                entries = sorted(listed, key=lambda one: one.name)
        except OSError:
            if not path:
                raise
            unread.append(path)
            continue
        for entry in entries:
            name = f"{path}/{entry.name}" if path else entry.name
            try:
                if entry.name == PROJECT:
                    found.append(path)
                elif entry.is_dir(follow_symlinks=False):
                    if entry.name.startswith(".") or (away and _is(entry, away)):
                        continue
                    if depth == DEEPEST:
                        too_deep += 1
                    else:
                        waiting.append((name, depth + 1))
                elif entry.is_symlink() and entry.is_dir():
                    links += 1
            except OSError:  # as a link to itself
                links += 1
    return Tree(tuple(sorted(found)), links, too_deep, tuple(sorted(unread)))


def _is(entry: os.DirEntry[str], folder: os.stat_result) -> bool:
    return entry.inode() == folder.st_ino and os.path.samestat(entry.stat(follow_symlinks=False), folder)


def visible(text: str) -> str:
    r"""A name as it can be printed: what would steer a terminal or cannot be encoded is spelled out.

    >>> visible("a\x1b[2Jb\n"), visible("plain ü")
    ('a\\x1b[2Jb\\n', 'plain ü')
    """
    return "".join(
        char if char.isprintable() else char.encode("unicode_escape").decode("ascii") for char in text
    )
