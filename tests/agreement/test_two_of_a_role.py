"""Two parts of one role, each with its own step: a condition at the application of one is measured at its step."""

from __future__ import annotations

import pytest

from specgen.agreement.issue import opened
from specgen.agreement.order import out_of_order, steps
from specgen.agreement.page import Page, PrintedTable

ASKED = "bridging tape: least temperature of air and substrate at application"
MEASURED = (
    "least temperature of air and substrate at application: ______ °F (at least 40 °F; 07 65 00, 3.2.F)"
)


def issue(before: str, step: str) -> list[str]:
    """What is out of order where the temperature is measured before a part, at its step."""
    asked = PrintedTable("Section 07 65 00 Flashing", ("Paragraph", "Item"), (("3.2.F", ASKED),))
    named = PrintedTable(
        "Parts", ("Part", "Stated values"), (("bridging tape (silicone sheet)", ""), ("coping", ""))
    )
    rows = (
        ("6", "silicone sheet", "installer"),
        ("8", "bridging tape", "installer"),
        ("9", "coping", "sheet metal"),
    )
    order = PrintedTable("Order of work at P-1", ("Step", "Part", "Trade"), rows)
    header = ("Step", "Before this work", "Inspect", "Look for", "Measured; limit")
    hold = PrintedTable("Parapet P-1", header, ((step, before, "conditions", "dry", MEASURED),))
    pages = (
        Page("submittal-checklist.docx", tables=(asked,)),
        Page("basis-of-design.html", tables=(named, order)),
        Page("field/hold-point-checklist.docx", tables=(hold,)),
    )
    made = opened(pages)
    return [one.about for one in out_of_order(made, list(steps(made)))]


@pytest.mark.parametrize(("before", "step"), [("silicone sheet", "6"), ("bridging tape", "8")])
def test_each_tape_is_measured_as_it_is_laid(before: str, step: str) -> None:
    assert issue(before, step) == []


def test_measured_when_both_are_laid_is_too_late() -> None:
    assert issue("coping", "9") == ["application of bridging tape"]
