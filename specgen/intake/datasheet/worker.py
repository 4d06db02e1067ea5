"""The process that opens one file from outside. The file comes on standard input, the text leaves as JSON.

``python -m specgen.intake.datasheet.worker FORM``; FORM is pdf, workbook, word, csv, or crops. A first line of JSON on
standard input says what is wanted, the file's bytes follow.
"""

from __future__ import annotations

import json
import sys
from typing import Any

from specgen.intake.datasheet.limits import MEMORY, SECONDS


def limit() -> None:
    """Bound this process where the system can: memory, processor time, and no file larger than nothing."""
    try:
        import resource
    except ImportError:
        return  # no such limits on this system: the parent's clock remains
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (int(SECONDS), int(SECONDS) + 1))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))


def answer(form: str, wanted: dict[str, Any], data: bytes) -> dict[str, Any]:
    """What was read, or what is wrong with the file."""
    from specgen.intake.datasheet.pdf import UnusableFileError

    try:
        if form == "pdf":
            from specgen.intake.datasheet.pdf import read_pages

            return {"pages": read_pages(data, bool(wanted.get("recognize")))}
        if form == "crops":
            from specgen.intake.datasheet.pdf import crops

            return {
                "crops": crops(data, [(one[0], tuple(one[1]), tuple(one[2])) for one in wanted["regions"]])
            }
        if form == "word":
            from specgen.intake.datasheet.word import read_word

            return {"sheets": read_word(data)}
        from specgen.intake.datasheet.tables import read_csv, read_workbook

        return {"sheets": read_csv(data) if form == "csv" else read_workbook(data)}
    except UnusableFileError as error:
        return {"wrong": error.message, "fix": error.fix}
    except MemoryError:
        return {"wrong": "opening it takes too much memory", "fix": "ask for a simpler file"}


def main() -> None:
    """Read standard input, write the answer."""
    limit()
    wanted = json.loads(sys.stdin.buffer.readline())
    found = answer(sys.argv[1], wanted, sys.stdin.buffer.read())
    sys.stdout.buffer.write(json.dumps(found, ensure_ascii=True).encode())


if __name__ == "__main__":
    main()
