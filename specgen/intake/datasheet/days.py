"""Days as papers write them."""

from __future__ import annotations

import calendar
import re
from datetime import date

_NAMES = {name.casefold(): at for at, name in enumerate(calendar.month_name) if name}
_NAMES |= {name.casefold(): at for at, name in enumerate(calendar.month_abbr) if name} | {"sept": 9}
_MONTH = "|".join(sorted(_NAMES, key=len, reverse=True))
_FORMS = (  # as named groups; a day that is not written is the last of its month
    re.compile(r"(?<!\d)(?P<y>20\d\d|19\d\d)-(?P<m>\d{1,2})(?:-(?P<d>\d{1,2}))?(?!\d)"),
    re.compile(
        rf"(?<!\d)(?P<d>\d{{1,2}})(?:st|nd|rd|th)?[ .-]+(?P<n>{_MONTH})\.?,?[ -]+(?P<y>\d{{4}})(?!\d)", re.I
    ),
    re.compile(rf"\b(?P<n>{_MONTH})\.? +(?P<d>\d{{1,2}})(?:st|nd|rd|th)?,? +(?P<y>\d{{4}})(?!\d)", re.I),
    re.compile(rf"\b(?P<n>{_MONTH})\.?,? *[ /-] *(?P<y>\d{{4}})(?!\d)", re.I),
    re.compile(r"(?<!\d)(?P<m>\d{1,2})/(?P<d>\d{1,2})/(?P<y>\d{4}|\d{2})(?!\d)"),
    re.compile(r"(?<!\d)(?P<d>\d{1,2})\.(?P<m>\d{1,2})\.(?P<y>\d{4})(?!\d)"),
    re.compile(r"(?<![\d/])(?P<m>\d{1,2})/(?P<y>20\d\d)(?!\d)"),
)


def days_in(text: str) -> tuple[date, ...]:
    """The days that a text states, in the order of their places; a month stands for its last day.

    >>> [day.isoformat() for day in days_in("Issued May 3, 2024; revised 06/2025; valid to 31 December 2026")]
    ['2024-05-03', '2025-06-30', '2026-12-31']
    """
    found: dict[int, date] = {}
    taken: list[tuple[int, int]] = []
    for form in _FORMS:
        for match in form.finditer(text):
            if any(start < match.end() and match.start() < end for start, end in taken):
                continue
            day = _day(match)
            taken.append(match.span())
            if day is not None:
                found[match.start()] = day
    return tuple(day for _, day in sorted(found.items()))


def _day(match: re.Match[str]) -> date | None:
    parts = match.groupdict()
    year = int(parts["y"])
    year += 2000 if year < 100 else 0
    month = int(parts["m"]) if parts.get("m") else _NAMES[parts["n"].casefold()]
    try:
        last = calendar.monthrange(year, month)[1]
        return date(year, month, int(parts["d"]) if parts.get("d") else last)
    except ValueError:  # the 31st of June, the 13th month
        return None
