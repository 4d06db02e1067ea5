"""Errors that are not of the input: shown as one message, never as a traceback, never as a pass."""

from __future__ import annotations


class Fault(Exception):  # noqa: N818 - the word the message uses
    """A rule, a clause or a practice value is wrong; the message names it."""


class OutputError(Exception):
    """The output cannot be written; the message is one line for the user."""
