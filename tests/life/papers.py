"""What people do with the papers of an issue, and what must still be there: plain data, nothing of the program."""

from __future__ import annotations

import io
import json
import random
import re
import zipfile
from collections.abc import Iterator, Mapping
from typing import Any

from tests import plain_yaml

Files = Mapping[str, bytes]
_OWN = re.compile(r"(manifest|issue)\.json|\.specgen-.*|.*/\.specgen-.*|submittal-register.*|audit-state\..*")
AGAIN = ("revise and resubmit", "rejected")


class Papers:
    """What lies in the folder of an issue, which papers somebody edited, and what a killed run moved untold."""

    def __init__(self) -> None:
        self.edited: dict[str, bytes] = {}
        self.unnamed: set[str] = set()

    def ran(self, before: Files, after: Files, out: str | None) -> Iterator[str]:
        """Hold a folder after a run against the one before; ``out`` is what was told, None of a run that was killed."""
        printed = (out or "") + "".join(
            data.decode("utf-8")
            for name, data in after.items()
            if re.fullmatch(r"addendum-.*\.json", name) and data != before.get(name)
        )
        for name, data in before.items():
            if _OWN.fullmatch(name) or after.get(name) == data:
                continue
            if name.startswith("withdrawn/"):
                yield f"{name} was withdrawn and is not what it was"
            elif name in after:
                if self.edited.get(name) == data:
                    yield f"{name} was edited by hand and is overwritten"
            elif not any(_withdrawn(one, name) and kept == data for one, kept in after.items()):
                yield f"{name} is gone"
            else:
                self.unnamed.add(name)
        self.edited = {name: data for name, data in self.edited.items() if after.get(name) == data}
        if out is None:
            return
        for name in sorted(self.unnamed):
            if name not in printed and name not in after:
                yield f"{name} was withdrawn, and nobody was told"
        self.unnamed.clear()
        for name in self.edited:
            aside = re.compile(re.escape(name).replace(r"\.", r"(\.new\d*)?\."))
            new = {one for one in after.keys() - before.keys() if aside.fullmatch(one)}
            if new and name not in printed:
                yield f"{name} was edited by hand, {new} lies beside it, and nobody was told"

    def hand_edit(self, name: str, data: bytes, word: str) -> bytes:
        """A paper with a word that somebody wrote into it."""
        if not name.endswith((".docx", ".xlsx")):
            edited = data + word.encode()
        else:
            edited = _in_part(
                data, "word/document.xml" if name.endswith(".docx") else "docProps/core.xml", word
            )
        self.edited[name] = edited
        return edited


def _withdrawn(one: str, name: str) -> bool:
    return one.startswith("withdrawn/") and one.endswith(f"/{name}")


def _in_part(data: bytes, part: str, word: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            words = old.read(name)
            if name == part:
                found = words.replace(b"</w:t>", f" {word}</w:t>".encode(), 1)
                words = found if found != words else words + f"<!-- {word} -->".encode()
            new.writestr(name, words)
    return out.getvalue()


def status_of_issue(found: Mapping[str, Any]) -> int:
    """The status that an issue with these findings must end with."""
    counts = found["summary"]
    if counts["defect"] or counts["risk"]:
        return 1
    return 3 if counts["unknown"] else 0


def held_issue(out: str, status: int, changed: bool) -> Iterator[str]:
    """What ``write`` printed as data against its status; an issue of a changed project has a list of changes."""
    found = json.loads(out)
    if status != status_of_issue(found):
        yield f"status {status} with {found['summary']}"
    if changed and not found["addendum"]:
        yield "the project changed, and no addendum was written"


def held_review(out: str, status: int) -> Iterator[str]:
    """What ``review`` printed as data against its status."""
    results = [one["recommendation"] for each in json.loads(out)["reviews"] for one in each["products"]]
    if (status == 1) != any(one in AGAIN for one in results):
        yield f"status {status} with {results}"


def held_audit(audit: bytes, accepted: str) -> Iterator[str]:
    """Whoever accepted something stands in the audit, once for each paper."""
    found = json.loads(audit)["projects"][0]
    for one in plain_yaml.load(accepted)["accepted"] if accepted else ():
        if one["by"] not in json.dumps(found["papers"]):
            yield f"{one['by']} accepted a paper and is not in the audit: {found['problems']}"


def paper_to_edit(files: Files, chance: random.Random) -> str:
    """A paper that a person may write into."""
    names = [
        name
        for name in sorted(files)
        if name.endswith((".docx", ".xlsx", ".html", ".svg"))
        and not _OWN.fullmatch(name)
        and "withdrawn/" not in name
    ]
    return chance.choice(names) if names else ""
