"""What a signer is asked about first, as the worked examples print it: water, methods, metals, and plaster."""

from __future__ import annotations

import pytest

from tests.sections.test_special_walls import CONCRETE, INSULATED, VENTED, below, of, paragraphs

MIDRISE, FLUID = "mixed-humid-midrise", "fluid-applied-roof"
PRINTED = [
    # water resistance of the barrier, by its kind, and of the flashings
    (MIDRISE, "07 27 00", "Water resistance of the assembly: no water behind the barrier", "ASTM E331"),
    (MIDRISE, "07 27 00", "Water-resistive coating: evaluated by", "ASTM E2570 or ICC-ES AC212"),
    (MIDRISE, "07 27 00", "Properties of the transition sheet:", "AAMA 711"),
    (MIDRISE, "07 65 00", "Adhesion in peel", "AAMA 711"),
    (MIDRISE, "07 65 00", "Low-temperature flexibility:", "ASTM D1970"),
    (FLUID, "07 65 00", "Water penetration around fasteners:", "AAMA 714"),
    # methods
    (MIDRISE, "09 24 00", "Compressive strength of the drainage layer:", "ASTM D6364"),
    (MIDRISE, "09 24 00", "Drainage material:", "ASTM E2925"),
    (CONCRETE, "09 24 00", "Drainage efficiency:", "ASTM E2273"),
    (MIDRISE, "06 10 00", "Moisture content of the wood by hand-held meter", "ASTM D7438"),
    (MIDRISE, "07 50 00", "Procedure: agreed in writing", "ASTM D5957 is not intended for roofs"),
    (MIDRISE, "07 50 00", "Lengths that a cricket leaves dry:", "dam and flood them"),
    (CONCRETE, "07 27 00", "Pull-adhesion test on concrete and masonry", "ASTM D7234"),
    (MIDRISE, "07 27 00", "Pull-adhesion test on boards", "adapted from ASTM D4541"),
    (MIDRISE, "07 27 00", "Failure in the facer or the core of the board", "substrate failure"),
    (MIDRISE, "07 27 00", "Air leakage detection by the practice of ASTM E1186", "leak detection liquid"),
    # metals
    (MIDRISE, "07 71 00", "Aluminum sheet: ASTM B209", "alloy and temper"),
    (MIDRISE, "07 71 00", "Factory finish of exposed faces:", "AAMA 2605 or AAMA 620"),
    (CONCRETE, "07 71 00", "Stainless steel sheet: ASTM A240", "type 316"),
    (INSULATED, "07 71 00", "Metallic-coated steel sheet", "coating G90, AZ50, or AZ55"),
    # both legs of the coping, and its cleat
    (VENTED, "07 71 00", "Tested resistance of the interior face to load toward the roof", "test RE-3"),
    (VENTED, "07 71 00", "Tested pull-out of one fastener of the cleat:", "ASTM D1761"),
    # plaster
    (MIDRISE, "09 24 00", "Cement:", "ASTM C150, ASTM C595 Type IL, or ASTM C1157"),
    (MIDRISE, "09 24 00", "Lime: Type S,", "ASTM C206 or ASTM C207"),
    (VENTED, "09 24 00", "Weight of the lath:", "lb/yd²"),
    (MIDRISE, "09 24 00", "Zinc coating of expanded metal lath:", "ASTM A653"),
    (MIDRISE, "09 24 00", "Tie wire:", "ASTM A641"),
    (MIDRISE, "09 24 00", "Second reading where the first fails:", "further places"),
    (MIDRISE, "09 24 00", "Back of the barrier or of its substrate,", "where it is open to view"),
    (MIDRISE, "09 24 00", "Withdraw each lath fastener that misses its support", "Section 07 27 00"),
    # the parapet as a structure, and who inspects
    (MIDRISE, "01 40 00", "Deflection of the top of the parapet under 0.42", "not more than"),
    (INSULATED, "01 40 00", "Moment at the base of the parapet at parapet P-3", "strength level"),
    (MIDRISE, "06 10 00", "Inspection of anchors", "by the testing agency, observed by the Architect"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "number", "start", "words"), PRINTED, ids=lambda one: str(one)[:40])
def test_a_paragraph_is_printed(name: str, number: str, start: str, words: str) -> None:
    found = [text for text in paragraphs(of(name), number).values() if text.startswith(start)]
    assert found and all(words in text for text in found)


def test_a_test_that_is_passed_says_what_is_seen() -> None:
    for name in (MIDRISE, FLUID, CONCRETE, VENTED, INSULATED):
        for text in paragraphs(of(name)).values():
            assert not text.startswith("Pass:") or len(text.split()) > 3, text


def test_the_barrier_of_a_rated_parapet_lists_its_rating() -> None:
    assert below(of(MIDRISE), "07 27 00", "fire_ratings") == [
        "Parapet P-3: 1 h, the rating of the wall below it."
    ]
