"""The result of a review as an office types it, as the word that the register keeps."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from specgen.model.submission import Recommendation
from specgen.practice.load import load_practice

RESULTS = tuple(one.value for one in Recommendation)
WRITTEN = "review_results"
RESULT = "result"  # the column


def plain(words: str) -> str:
    """Words as they are compared: letters and digits alone.

    >>> plain("No Exceptions Taken."), plain("R&R"), plain("revise/resubmit")
    ('noexceptionstaken', 'rr', 'reviseresubmit')
    """
    return "".join(one for one in words.casefold() if one.isalnum())


@lru_cache(maxsize=1)
def results() -> Mapping[str, str]:
    """The results by all that is understood for them, compared as :func:`plain` makes it."""
    table = load_practice().table(WRITTEN)
    return {
        **{plain(str(row["written"])): str(row["result"]) for row in table.rows},
        **{plain(one): one for one in RESULTS},
    }


def result_of(words: str) -> str:
    """The result that is meant; "" where none is.

    >>> result_of("Approved"), result_of("NET"), result_of("looks good")
    ('no exceptions taken', 'no exceptions taken', '')
    """
    return "" if "?" in words else results().get(plain(words), "")


def fault_of(words: str) -> str:
    """What is wrong with a result that is not understood, with those that are."""
    return f"`{words[:40]}` is no result; choose: {'; '.join(RESULTS)}"
