"""Names of output files that are safe on every system and cannot leave their folder."""

from __future__ import annotations

import re
import unicodedata
from pathlib import PurePath

PROJECT_FILE = "project.yaml"
_FORBIDDEN = re.compile(r'[\x00-\x1f\x7f<>:"\\|?*]')
_RESERVED = re.compile(
    r"(?:con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])\s*(?:\.|\Z)", re.IGNORECASE
)
_LONGEST_PART = 200
LONGEST_ON_WINDOWS = 259  # characters of a path


def check_name(name: str) -> str:
    """`name`, a relative path with forward slashes, if it is safe.

    Raises:
        ValueError: for an absolute path, a drive letter, `..`, a character or a name that Windows reserves, a
            part that ends with a dot or a space, or a part longer than 200 bytes.

    >>> check_name("sections/07 62 00.docx")
    'sections/07 62 00.docx'
    """
    for part in name.split("/"):
        reason = _reason(part)
        if reason:
            raise ValueError(f"file name {name!r} is refused: {reason}")
    return name


def _reason(part: str) -> str:
    if part in ("", ".", ".."):
        return "it must be a relative path without empty parts, '.' or '..'"
    found = _FORBIDDEN.search(part)
    if found:
        return f"it holds {found.group()!r}"
    if part[-1] in ". " or part[0] == " ":
        return "a part starts with a space, or ends with a dot or a space"
    if _RESERVED.match(part):
        return f"{part!r} is a name that Windows reserves"
    if len(part.encode("utf-8", "surrogatepass")) > _LONGEST_PART:
        return f"a part is longer than {_LONGEST_PART} bytes"
    return ""


def unusable_on_windows(path: PurePath) -> str:
    """Why Windows has no such file or folder, by the first part of a path that it cannot have; "" where it can.

    >>> from pathlib import PureWindowsPath
    >>> unusable_on_windows(PureWindowsPath(r"C:\\jobs\\con.old\\out"))
    "'con.old' is a name that Windows reserves"
    >>> from pathlib import PureWindowsPath
    >>> unusable_on_windows(PureWindowsPath(r"C:\\jobs\\..\\my wall")), unusable_on_windows(PureWindowsPath("out."))
    ('', 'a part starts with a space, or ends with a dot or a space')
    """
    parts = path.parts[1:] if path.anchor else path.parts
    return next((why for one in parts if one not in (".", "..") and (why := _reason(one))), "")


def too_long_for_windows(path: PurePath, beside: int = 0) -> str:
    """A hint where a whole path has more characters than Windows takes unless long paths are switched on; "" else.

    Args:
        path: absolute.
        beside: characters of a longer name that is written beside it for a moment.

    >>> from pathlib import PureWindowsPath
    >>> too_long_for_windows(PureWindowsPath("C:/" + "a" * 256)), too_long_for_windows(PureWindowsPath("C:/x"))
    ('', '')
    """
    count = max(len(str(path)), len(str(path.parent)) + 1 + beside)
    if count <= LONGEST_ON_WINDOWS:
        return ""
    most = f"Windows takes {LONGEST_ON_WINDOWS} unless long paths are switched on"
    return f"the path has {count} characters, and {most}: use a folder nearer to the drive"


def same_on_disk(name: str) -> str:
    """A key that is equal for names that some file system takes for one (case, composed accents)."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())


def beside(name: str, number: int) -> str:
    """The name under which a new file lands beside an edited one.

    >>> beside("out/report.docx", 1), beside("out/report.docx", 2), beside("LICENSE", 1)
    ('out/report.new.docx', 'out/report.new2.docx', 'LICENSE.new')
    """
    folder, slash, last = name.rpartition("/")
    stem, dot, ending = last.rpartition(".")
    word = "new" if number == 1 else f"new{number}"
    new = f"{stem}.{word}.{ending}" if dot and stem else f"{last}.{word}"
    return f"{folder}{slash}{new}"


_BESIDE = re.compile(r"(?<=[^/])\.new[0-9]*(?=(?:\.[^./]*)?\Z)")


def is_beside(name: str) -> bool:
    """Whether `name` has the form that `beside` gives."""
    return _BESIDE.search(name) is not None


def edited_paper(name: str) -> str:
    """The name beside which `beside` gave this one; the name itself if it did not.

    >>> edited_paper("out/report.new2.docx"), edited_paper("out/report.docx")
    ('out/report.docx', 'out/report.docx')
    """
    return _BESIDE.sub("", name)
