"""Errors that are not of the input: shown as one message, never as a traceback, never as a pass."""

from __future__ import annotations


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
