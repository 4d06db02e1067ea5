"""Messages of a project in SI name its limits in SI; as set in brackets, where the number in SI is stricter."""

from __future__ import annotations

import re
from pathlib import Path

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.model.finding import Finding
from specgen.practice.load import load_practice
from tests import plain_yaml
from tests.rules.cases import changed

INCHES = re.compile(r"\d in\b|\d ft\b|psf|degF|°F")
INCH_POUND = re.compile(
    r"\d ?(?:in|ft|mils?|psf|psi|lbf?|oz|perms?|gpm|mph|cfm|plf|ga)\b|deg ?F|°F|\d (?:in|ft)[.²/]|\bin/ft"
)
TEST_CONDITION = re.compile(r" (?:at|@) [^,;]*")  # named by a standard, printed as the standard names it
AS_SET = re.compile(r"(?<=\d) (mm|m|m²|°C|%|kPa|L/\(s·m²\)|ng/\(Pa·s·m²\)|kg/m²|N/mm) \([^()]+\)")
LIBRARY = Path("tests/stated/marine-library/project.yaml")
# One value too small or too low for each rule that names a practice value, written in SI.
BROKEN = {
    "attachment: fully adhered": "attachment: mechanically fastened",
    "height: 600 mm": "height: 300 mm",
    "fire_rated: no": "fire_rated: yes",
    "height: 12 m": "height: 14 m",
    "  nfpa_285: tested assembly named by the architect of record": "",
    "roof_slope: 2 %": "roof_slope: 0.5 %",
    "guard: by roof access plan": "guard: by parapet height\n  reroof_height: 450 mm",
    "service_temperature: 120 degC": "service_temperature: 40 degC",
    "thickness: 0.65 mm": "thickness: 0.3 mm",
    "control_joints: yes": "control_joints: no",
    "lap: 120 mm": "lap: 20 mm",
    "depth: 6 mm": "depth: 2 mm",
    "inner_leg: 80 mm": "inner_leg: 10 mm",
    "outer_leg: 80 mm": "outer_leg: 10 mm",
    "outer_drip: 40 mm": "outer_drip: 5 mm",
    "flange: 90 mm": "flange: 20 mm",
    "height: 560 mm": "height: 100 mm",
    "parapets:\n  - name: P-1": """parapets:
  - name: P-1
    scuppers:
      - {name: S-1, use: primary, position: 1 m, width: 150 mm, height: 50 mm, outlet_drip: 5 mm}
      - {name: S-2, use: overflow, position: 2 m, width: 150 mm, height: 50 mm, inlet_height: 10 mm,
         outlet_drip: 5 mm}""",
}
NAMED = {
    "SC01",
    "SC02",
    "SC05",
    "RT08",
    "RT14",
    "SF01",
    "SF02",
    "SF03",
    "CP14",
    "CP16",
    "CP05",
    "PL16",
    "WB10",
}


def in_inch_pounds(finding: Finding) -> list[str]:
    """What of a finding's words is in inch-pound units, test conditions aside."""
    words = [finding.message, finding.missing, finding.remedy, finding.reason, *finding.because]
    return [one for one in words if INCH_POUND.search(AS_SET.sub("", TEST_CONDITION.sub("", one)))]


def test_an_inch_would_be_found() -> None:
    assert INCH_POUND.search("asked for: at least 4 in")
    assert INCH_POUND.search("stands 160 °F")
    assert INCH_POUND.search(AS_SET.sub("", "at least 4 in (100 mm), 300 mm, 12 in"))
    assert not INCH_POUND.search(AS_SET.sub("", "at most 300 mm (12 in), at least 13 mm (1/2 in)"))
    assert not INCH_POUND.search("stands 45 mm in the wall, 60 °C")
    assert not INCH_POUND.search(TEST_CONDITION.sub("", "0.004 L/(s·m²) at 1.57 psf"))


def test_the_library_prints_si_alone() -> None:
    findings = assess(load_project(LIBRARY.parent, load_practice()), load_practice()).findings
    assert len(findings) > 100
    assert [found for one in findings for found in in_inch_pounds(one)] == []


def test_a_broken_library_prints_si_alone(tmp_path: Path) -> None:
    content = LIBRARY.read_text()
    for right, wrong in BROKEN.items():
        assert right in content, right
        content = content.replace(right, wrong)
    path = tmp_path / "project.yaml"
    path.write_text(content)
    findings = assess(load_project(path, load_practice()), load_practice()).findings
    assert {one.code for one in findings if one.counts} >= NAMED
    assert [f"{one.code}: {found}" for one in findings for found in in_inch_pounds(one)] == []


def findings(tmp_path: Path, **change: object) -> list[Finding]:
    """Findings of the base in SI, with its lengths as they stand."""
    content = changed(change)
    content["project"]["units"] = "SI"
    path = tmp_path / "project.yaml"
    path.write_text(plain_yaml.dump(content))
    return list(assess(load_project(path, load_practice()), load_practice()).findings)


def test_the_reach_of_the_inner_leg(tmp_path: Path) -> None:
    parts = {"base flashing": {"height": "500 mm"}, "coping": {"inner_leg": "75 mm"}}
    (finding,) = (one for one in findings(tmp_path, parts=parts) if one.code == "RT09" and one.counts)
    assert "more than 406 mm" in finding.message


def test_what_is_asked_for(tmp_path: Path) -> None:
    """The base is in inches: what stands behind `asked for` is not."""
    found = [one for one in findings(tmp_path) if "asked for" in one.message]
    assert len(found) > 20
    wrong = [
        one.message for one in found if INCHES.search(AS_SET.sub("", one.message.partition("asked for")[2]))
    ]
    assert wrong == []


def test_nominal_metric_values_pass(tmp_path: Path) -> None:
    parts = {
        "plaster": {"thickness": "22 mm"},
        "base flashing": {"height": "200 mm"},
        "coping": {"outer_drip": "25 mm", "inner_drip": "25 mm"},
    }
    laps = {"flashing / wrb": {"lap": "100 mm"}, "flashing / base flashing": {"lap": "100 mm"}}
    found = findings(tmp_path, parts=parts, laps=laps, parapet={"height": "300 mm"})
    assert {one.code for one in found if one.counts} & {"LP01", "PL05", "RT02", "CP03", "PA01"} == set()
