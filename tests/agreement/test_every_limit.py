"""A limit that is changed in one paragraph of one document is noticed, whichever it is, in each worked example."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from specgen.agreement.issue import opened, read_pages
from specgen.agreement.reader import among
from specgen.agreement.values import printed_values
from tests.agreement.issues import written
from tests.agreement.walls import EXAMPLES
from tests.conftest import LONG


@pytest.mark.parametrize("example", EXAMPLES if LONG else EXAMPLES[::3])
def test_a_changed_limit_is_noticed(example):
    pages = read_pages(written(example))
    asked = {(row.section, row.paragraph) for row in opened(pages).rows}
    places = [
        (p, n)
        for p, page in enumerate(pages)
        for n, line in enumerate(page.lines)
        if (line.section, line.number) in asked and any(v.sign != "=" for v in printed_values(line.text))
    ]
    chance = random.Random(example)
    for p, n in places if LONG else chance.sample(places, 1):
        page, line = pages[p], pages[p].lines[n]
        value = next(one for one in printed_values(line.text) if one.sign != "=")
        other = line.text.replace(
            value.quantity.text, value.quantity.text.replace(value.quantity.text[0], "9", 1), 1
        )
        other = (
            other
            if other != line.text
            else line.text.replace(value.quantity.text, f"8{value.quantity.text}", 1)
        )
        lines = (*page.lines[:n], replace(line, text=other), *page.lines[n + 1 :])
        changed = (*pages[:p], replace(page, lines=lines), *pages[p + 1 :])
        assert among(changed), f"{page.file}: {line.text} -> {other}"
