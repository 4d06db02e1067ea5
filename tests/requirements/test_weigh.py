"""Rule of thumb and calculation on one matter: each pair, what each says, and which governs."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from specgen.assessment import assess
from specgen.design.run import subjects
from specgen.model.finding import Finding
from specgen.model.project import Project
from specgen.model.requirement import Requirement, Weighing
from specgen.practice.load import load_practice
from specgen.requirements.catalogue_file import Beside, load_catalogue
from specgen.requirements.judge import holds
from specgen.requirements.weigh import merged, of_rule
from specgen.units.quantity import Quantity
from specgen.wall.place import Place
from tests.design.projects import FULL, changed_project

PRACTICE = load_practice()
RAIN = (
    "  elevation: 0 ft\n",
    "  elevation: 0 ft\n  rain_event: 1 in\n  rain_event_time: 1 h\n  rain_event_wind: 20 mph\n"
    "  terrain: suburban\n  rain_exposure: moderate\n",
)
SOURCED = "    condensate_limit_source: the architect\n"
THICK = (
    "    height: 4 ft\n",
    "    height: 4 ft\n    thickness: 13 in\n    condensate_limit: 0.5 g/m2\n" + SOURCED,
)
Derived = Callable[..., tuple[dict[str, Requirement], tuple[Finding, ...]]]


@pytest.fixture
def derived(tmp_path: Path) -> Derived:
    """Requirements by name, and findings, of the full project after text in its file has been replaced."""

    def make(*changes: tuple[str, str]) -> tuple[dict[str, Requirement], tuple[Finding, ...]]:
        project: Project = changed_project(tmp_path, RAIN, THICK, *changes, file=FULL)
        found = assess(project, PRACTICE)
        return {one.name: one for one in found.requirements.by_id.values()}, found.findings

    return make


def weighing_of(requirement: Requirement) -> str:
    found = requirement.weighing_at("P-1")
    assert found is not None
    return str(found)


def test_every_result_that_the_catalogue_names_is_one_of_a_calculation() -> None:
    known = {f"{name}.{result}" for name, module in subjects().items() for result in module.SETS}
    for entry in load_catalogue():
        named = [origin.partition(" ")[2] for origin in entry.origins if origin.startswith("calculation ")]
        assert {*named, *(one.result for one in entry.beside)} <= known, entry.name


@pytest.mark.parametrize(
    ("name", "rule", "calculation", "governs"),
    [
        (
            "coping.thickness",
            "table coping_thickness: at least",
            "coping wind.resistance_face: ",
            "the greater",
        ),
        ("coping.resistance_face", "", "coping wind.resistance_face: at least", "the calculation governs"),
        ("coping.joint_gap", "", "coping movement.joint_gap: at least", "the calculation governs"),
        (
            "coping.piece_length",
            "rule of thumb coping.piece_length: at most 10 ft",
            "coping movement.longest_piece: at most",
            "the rule of thumb governs: no other is stricter",
        ),
        (
            "coping.outer_drip",
            "coping.drip: at least 1 in",
            "driving rain.over_drip_peak: water",
            "the rule governs",
        ),
        ("coping.outer_leg", "coping.leg_8m", "coping geometry.outer_lap: the outer face", "shop drawing"),
        (
            "turnup.height",
            "turnup.height: at least 8 in",
            "scuppers.water_depth: depth of water",
            "the rule sets",
        ),
        (
            "plaster.panel_area",
            "standard plaster.panel_area",
            "plaster panels.largest_area: ",
            "the stricter",
        ),
        (
            "plaster.panel_length",
            "standard plaster.panel_length",
            "plaster panels.largest_side: ",
            "the stricter",
        ),
        (
            "plaster.panel_ratio",
            "standard plaster.panel_ratio",
            "plaster panels.largest_ratio: ",
            "the stricter",
        ),
        (
            "drainage.depth",
            "code drainage.depth: at least 3/16 in",
            "gap drainage.smallest_gap: at least",
            "the project's own value governs",
        ),
        (
            "cleat.fastener_spacing",
            "cleat.fastener_spacing: at most 12 in",
            "cleat fasteners.largest_spacing: at most",
            "the rule of thumb governs",
        ),
        ("lath.fastener_spacing", "at most 7 in", "lath fasteners.largest_spacing: at most", "governs"),
        (
            "drainage.vapor_permeance",
            "code vapor.class_1: at most 0.1 perm",
            "vapor drive.greatest_permeance: at most",
            "the calculation governs: it is made for this wall",
        ),
    ],
)
def test_a_pair_says_both_and_which_governs(
    name: str, rule: str, calculation: str, governs: str, derived: Derived
) -> None:
    printed = weighing_of(derived()[0][name])
    assert rule in printed
    assert f"calculation {calculation}" in printed
    assert governs in printed.rpartition("; ")[2]


def test_the_stricter_calculation_governs(derived: Derived) -> None:
    """A weak fastener: 20 lbf in pull and 300 lbf in shear are used 2.6 times at 12 in: 4.6 in, rounded down to 4 in."""
    requirements, findings = derived(("pull_out: 200 lbf", "pull_out: 20 lbf"))
    spacing = requirements["cleat.fastener_spacing"]
    assert spacing.origin.key == "cleat fasteners.largest_spacing"
    assert isinstance(spacing.limit.value, Quantity) and spacing.limit.value.text == "4 in"
    assert weighing_of(spacing).endswith("the calculation governs: no other is stricter")
    (finding,) = (one for one in findings if one.requirement == spacing.id)
    assert finding.because[-1] == weighing_of(spacing)


def test_a_looser_calculation_governs_only_where_the_catalogue_says_so(derived: Derived) -> None:
    layer = derived()[0]["drainage.vapor_permeance"]
    assert layer.origin.key == "vapor drive.greatest_permeance"
    assert holds(layer.limit.value, layer.limit)
    without = derived(("    condensate_limit: 0.5 g/m2\n", ""), (SOURCED, ""))[0]["drainage.vapor_permeance"]
    assert without.origin.key == "vapor.class_1"
    assert weighing_of(without).endswith("no limit stated; the code governs, the calculation gives no limit")
    # A limit that nobody stands for opens no layer beyond class I.
    unsourced = derived((SOURCED, ""))[0]["drainage.vapor_permeance"]
    assert unsourced.origin.key == "vapor.class_1"


def test_a_calculation_without_a_result_names_what_it_lacks(derived: Derived) -> None:
    printed = weighing_of(derived((", pull_out: 200 lbf", ""))[0]["cleat.fastener_spacing"])
    assert "no result, missing cleat.pull_out" in printed
    assert printed.endswith("the rule of thumb governs, the calculation gives no limit")


@pytest.mark.parametrize(
    ("code", "change", "rule", "calculation", "governs"),
    [
        (
            "SC01",
            (),
            "scupper.opening: at least 4 in",
            "scuppers.primary_head: head",
            "the greater governs",
        ),
        (
            "SC03",
            (),
            "scupper.overflow_area: at least 3",
            "scuppers.spare",
            "the calculation governs",
        ),
        ("CL03", (), "climate.severe_rain", "driving rain.wall_index", "the stated exposure governs"),
        (
            "VD01",
            ("kind: dimpled sheet", "kind: mesh"),
            "vapor.inward_drive: the plaster is taken as soaked",
            "plaster reservoir.fills",
            "the rule of thumb governs",
        ),
        (
            "DL09",
            ("    thickness: 13 in\n", "    thickness: 13 in\n    ventilated_drying: yes\n"),
            "drainage.ventilation_depth: at least 3/8 in",
            "gap ventilation.removed",
            "the rule of thumb governs",
        ),
        ("CP13", (), "table compatibility: allowed", "galvanic: indices 0.30 V", "in ordinary outdoor air"),
    ],
)
def test_a_finding_on_no_requirement_says_both(
    code: str, change: tuple[str, ...], rule: str, calculation: str, governs: str, derived: Derived
) -> None:
    changes = [(change[0], change[1])] if change else []
    _, findings = derived(*changes)
    printed = [fact for one in findings if one.code == code for fact in one.because if "calculation " in fact]
    assert printed, [one.because for one in findings if one.code == code]
    assert rule in printed[0]
    assert f"calculation {calculation}" in printed[0]
    assert governs in printed[0].rpartition("; ")[2]


def test_parapets_that_say_the_same_share_one_weighing() -> None:
    one, same, other = (
        Weighing((name,), (), governs) for name, governs in (("P-1", "a"), ("P-2", "a"), ("P-3", "b"))
    )
    found = merged((one, None, same, other))
    assert [weighing.parapets for weighing in found] == [("P-1", "P-2"), ("P-3",)]


def test_a_finding_without_its_calculation_says_neither(place: Callable[..., Place]) -> None:
    beside = Beside("scuppers.primary_head", "head", "the greater governs")
    at = place({"coping": "kind: formed metal"})
    assert of_rule(at, "scupper.opening", "at least 4 in", beside) == ()
