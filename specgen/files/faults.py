"""Errors that are not of the input: shown as one message, never as a traceback, never as a pass."""

from __future__ import annotations

import traceback
from pathlib import Path

PACKAGE = Path(__file__).parents[1]
MOST_OF_A_FAULT = 300  # characters of an unexpected error's own words


class Fault(Exception):  # noqa: N818 - the word the message uses
    """A rule, a clause or a practice value is wrong; the message names it."""


def stops_the_run(error: BaseException) -> bool:
    """Whether it is a person's Ctrl-C, which comes between two steps of code; one that code raises is its fault."""
    from opcode import opmap

    last = error.__traceback__
    while last is not None and last.tb_next is not None:
        last = last.tb_next
    raised = last is not None and last.tb_frame.f_code.co_code[last.tb_lasti] == opmap["RAISE_VARARGS"]
    return isinstance(error, KeyboardInterrupt) and not raised


class OutputError(Exception):
    """The output cannot be written; the message is one line for the user."""


def fault_line(error: BaseException) -> str:
    """One line on a fault: what it is, and where unless the fault itself says where."""
    words = " ".join(str(error).split())[:MOST_OF_A_FAULT]
    if not isinstance(error, Fault):
        last = traceback.extract_tb(error.__traceback__)[-1]
        file = Path(last.filename)
        place = file.relative_to(PACKAGE.parent) if file.is_relative_to(PACKAGE) else file.name
        words = f"{place}:{last.lineno}: {type(error).__name__}: {words}"
    return (
        f"fault: {words}; this is a fault of specgen or of an office's own files, nothing more was written; "
        "please report this line"
    )
