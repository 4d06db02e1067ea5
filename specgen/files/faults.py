"""Faults that are not the user's input: shown as one message, never as a traceback, never as a pass."""

from __future__ import annotations


class Fault(Exception):  # noqa: N818 - the word the message uses
    """A rule, a clause or a practice value is wrong; the message names it."""
