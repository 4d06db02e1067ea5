"""Names that strangers give to files, made into names that are safe on every system and read as they look."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection

from specgen.files.names import check_name, same_on_disk

LONGEST = 44  # characters, without ending and number
_STRANGE = re.compile(r"[^\w .()+,&-]")
_ENDING = re.compile(r"\.[A-Za-z][A-Za-z0-9]{0,4}\Z")


def safe_name(given: str, ending: str, taken: Collection[str] = (), otherwise: str = "paper") -> str:
    """A file name after the one that was given: its last part alone, in plain letters, with the ending of its content.

    Args:
        given: whatever was sent: a path of another system, signs that change the direction of writing, a device.
        ending: of the name to make, as ``.pdf``; what the content is decides it.
        taken: names that are there; two that some file system takes for one are told apart by a number.
        otherwise: the name where nothing is left of the given one.

    >>> safe_name("../../etc/passwd", ".pdf"), safe_name(r"C:\\\\temp\\\\con.pdf", ".pdf")
    ('passwd.pdf', 'paper con.pdf')
    >>> safe_name("sheet.pdf", ".pdf", ["Sheet.PDF"]), safe_name("\\u202efdp.exe", ".pdf")
    ('sheet (2).pdf', 'fdp.pdf')
    """
    flat = unicodedata.normalize("NFKC", given.encode("utf-8", "ignore").decode("utf-8"))
    last = re.split(r"[/\\:]", flat)[-1]
    shown = "".join(one for one in last if unicodedata.category(one) not in ("Cf", "Co", "Cn", "Mn", "Me"))
    stem = " ".join(_STRANGE.sub(" ", shown).split())
    while _ENDING.search(stem):
        stem = _ENDING.sub("", stem)
    stem = stem[:LONGEST].strip(" .-") or otherwise
    try:
        check_name(f"{stem}{ending}")
    except ValueError:
        stem = f"{otherwise} {stem}"[:LONGEST].strip(" .-")
    there = {same_on_disk(one) for one in taken}
    names = (f"{stem}{ending}", *(f"{stem} ({number}){ending}" for number in range(2, 10_000)))
    return check_name(next(one for one in names if same_on_disk(one) not in there))
