"""One input held against what a reader promises, and inputs made by chance from seeds."""

from __future__ import annotations

import hashlib
import os
import random
import resource
import signal
import sys
import traceback
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, redirect_stderr
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import FrameType

from tests.fuzz.targets import SEEDS, TARGETS, Target, examples

MOST_SECONDS = 2.0  # of the processor, for one input
MOST_BYTES = 1_000_000_000  # resident, of the process that reads them all, beside what it held before
KEPT_AS_CRASH = "crash-"
_NOWHERE = Path(os.devnull).open("w")  # noqa: SIM115 - for the whole run: where what is told of older formats goes
_INTERESTING = (
    b"\0",
    b"\xff",
    b"\xed\xa0\x80",
    b"\xf0\x9f\x98\x80",
    b"\r\n",
    b"\xe2\x80\xa8",
    b"\xef\xbb\xbf",
    b"9" * 40,
    b" " * 40,
)


class TooSlow(BaseException):
    """A reader took longer than it may; no error that it could tell as one of its own."""


@dataclass(frozen=True)
class Failure:
    """An input that ended in anything but what its reader declares."""

    what: str
    place: str  # file and line of the deepest frame of ours: one fault, one place
    data: bytes


@contextmanager
def within(seconds: float) -> Iterator[None]:
    """Break off what takes more processor time."""

    def late(_: int, frame: FrameType | None) -> None:
        raise TooSlow(f"more than {seconds} s of the processor")

    before = signal.signal(signal.SIGVTALRM, late)
    signal.setitimer(signal.ITIMER_VIRTUAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


def outcome(target: Target, data: bytes, seconds: float = MOST_SECONDS) -> str | Failure:
    """The kind of end that an input came to: "" where it was read, the error's words without its values, or a failure."""
    before = _before()
    try:
        with within(seconds), redirect_stderr(_NOWHERE):
            target.run(data)
    except target.declared as error:
        words = str(error).rpartition(": error: ")[2]
        return (
            f"{type(error).__name__}: {''.join(c for c in words[:200] if c.isalpha() and c.isascii())[:60]}"
        )
    except (KeyboardInterrupt, SystemExit):
        raise
    except BaseException as error:
        ours = [one for one in traceback.extract_tb(error.__traceback__) if "specgen" in one.filename]
        last = (ours or traceback.extract_tb(error.__traceback__))[-1]
        return Failure(
            f"{type(error).__name__}: {error}"[:300], f"{Path(last.filename).name}:{last.lineno}", data
        )
    return Failure(f"{_peak()} bytes resident", "memory", data) if _peak() > before + MOST_BYTES else ""


def _peak() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * (1 if sys.platform == "darwin" else 1024)


@cache
def _before() -> int:
    """What the process held before the first input: that of other tests."""
    return _peak()


def seeds(name: str) -> list[bytes]:
    """The inputs that a target begins with: those kept, in the order of their names, and the examples."""
    return [*(path.read_bytes() for path in sorted((SEEDS / name).iterdir())), *examples(TARGETS[name])]


def keep(name: str, failure: Failure) -> Path:
    """Keep an input that failed, to be tried by every later run of the tests."""
    path = SEEDS / name / f"{KEPT_AS_CRASH}{hashlib.sha256(failure.data).hexdigest()[:12]}"
    path.write_bytes(failure.data)
    return path


def mutated(chance: random.Random, corpus: Sequence[bytes], target: Target) -> bytes:
    """An input changed in one to six places: cut, doubled, bytes, words of its language or of another input put in."""
    data = bytearray(chance.choice(corpus))
    for _ in range(chance.choice((1, 1, 2, 3, 6))):
        at = chance.randint(0, len(data))
        to = min(len(data), at + chance.choice((1, 1, 2, 4, 8, 32)))
        match chance.randrange(8 if target.tokens else 6):
            case 0:
                data[at:to] = b""
            case 1:
                data[at:at] = data[at:to] * chance.choice((1, 2, 30))
            case 2:
                data[at : at + 1] = bytes([chance.randrange(256)])
            case 3:
                data[at:at] = bytes([chance.randrange(32, 127)])
            case 4:
                data[at:at] = chance.choice(_INTERESTING)
            case 5:
                other = chance.choice(corpus)
                start = chance.randint(0, len(other))
                data[at:to] = other[start : start + chance.choice((4, 20, 200))]
            case 6:
                data[at:to] = chance.choice(target.tokens).encode("utf-8", "surrogatepass")
            case _:
                data[at:at] = chance.choice(target.tokens).encode("utf-8", "surrogatepass")
    return bytes(data[: target.longest])


def by_chance(name: str, runs: int, seed: int) -> tuple[int, list[Failure]]:
    """Try inputs made from the seeds; one that ends in a way not seen yet is changed further.

    Returns:
        How many ends of another kind were seen, and the failures, one for each place.
    """
    target, chance = TARGETS[name], random.Random(seed)
    corpus = seeds(name)
    seen: set[str] = set()
    failures: dict[str, Failure] = {}
    for _ in range(runs):
        data = mutated(chance, corpus, target)
        end = outcome(target, data)
        if isinstance(end, Failure):
            failures.setdefault(end.place, end)
        elif end not in seen:
            seen.add(end)
            corpus.append(data)
    return len(seen), list(failures.values())
