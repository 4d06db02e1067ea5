"""What the benchmarks run: generated inputs, our way and the reference's way."""

from __future__ import annotations

import io
import zipfile
from functools import lru_cache
from pathlib import Path
from xml.sax.saxutils import escape

import pint
import yaml

from specgen.files.carried import carried
from specgen.files.yaml_reader import read_yaml
from specgen.model.document import Document, Para, Properties, Style, text
from specgen.render.word import word_bytes
from specgen.units.quantity import parse

DEMO = Path(__file__).parent.parent / "tests" / "stated" / "mixed-humid-midrise" / "project.yaml"
SECTIONS, PARAGRAPHS = 12, 120
EIGHT = (
    ("slope_toward: roof", "slope_toward: outer face"),
    ("coats: 3", "coats: 2"),
    ("cure_before_load: 14 days", "cure_before_load: 3 days"),
    ("coping_clearance: 1/2 in", "coping_clearance: 1/8 in"),
    ("fasteners_through: no", "fasteners_through: yes"),
    ("pull_adhesion: 40 psi", "pull_adhesion: 5 psi"),
    ("outer_drip: 1 in", "outer_drip: 1/4 in"),
)


def project_file(folder: Path, lines: int) -> Path:
    """A project of about so many lines: every parapet described in full, no types."""
    head, parapet = _parts()
    number = -(-(lines - head.count("\n")) // parapet.format(0).count("\n"))
    return _project(folder / f"project-{lines}.yaml", number)


def project_of(folder: Path, parapets: int) -> Path:
    """A project of so many parapets, each described in full, their heights unlike each other."""
    return _project(folder / f"parapets-{parapets}.yaml", parapets)


def _parts() -> tuple[str, str]:
    source = DEMO.read_text(encoding="utf-8")
    body = (
        source[source.index("    height: 42 in") : source.index("\nparapets:")]
        .replace("{", "{{")
        .replace("}", "}}")
    )
    return source[: source.index("types:")], f"  - name: P-{{0}}\n    orientation: south\n{body}"


def _project(path: Path, parapets: int) -> Path:
    head, parapet = _parts()
    text = "".join(
        parapet.format(number).replace("height: 42 in", f"height: {36 + number % 12} in", 1)
        for number in range(1, parapets + 1)
    )
    path.write_text(f"{head}parapets:\n{text}", encoding="utf-8")
    return path


def layers_of(folder: Path, count: int) -> Path:
    """The demo with so many more layers of barrier in each wall, each with an id of its own."""
    at = "      - role: barrier\n"
    more = "".join(
        f"      - {{role: barrier, id: sheet {number}, kind: building paper, service_temperature: 240 degF}}\n"
        for number in range(1, count + 1)
    )
    path = folder / f"layers-{count}.yaml"
    path.write_text(DEMO.read_text("utf-8").replace(at, more + at, 1), "utf-8")
    return path


def one_word(folder: Path) -> Path:
    """The demo with one word changed."""
    return _changed(folder / "one-word.yaml", ("slope_toward: roof", "slope_toward: outer face"))


def eight_findings(folder: Path) -> Path:
    """The demo of three parapets with eight findings, each at all three."""
    return _changed(folder / "eight.yaml", *EIGHT)


def _changed(path: Path, *changes: tuple[str, str]) -> Path:
    text = DEMO.read_text(encoding="utf-8")
    for old, new in changes:
        if old not in text:
            raise ValueError(f"{old!r} is not in the demo")
        text = text.replace(old, new, 1)
    path.write_text(text, encoding="utf-8")
    return path


def read_ours(path: Path) -> object:
    """Read with marks."""
    return read_yaml(path)


def read_reference(path: Path) -> object:
    """Read without marks."""
    with path.open(encoding="utf-8") as file:
        return yaml.load(file, yaml.CSafeLoader)


def _words(section: int, index: int) -> str:
    return f"Paragraph {index} of section {section}: lap the upper sheet over the lower & roll the lap."


@lru_cache(maxsize=1)
def _documents() -> tuple[Document, ...]:
    out = []
    for section in range(SECTIONS):
        blocks = [Para(Style.PART, text("GENERAL")), Para(Style.ARTICLE, text("INSTALLATION"))]
        styles = (Style.PARAGRAPH, Style.SUBPARAGRAPH)
        blocks += [Para(styles[index % 4 > 0], text(_words(section, index))) for index in range(PARAGRAPHS)]
        properties = Properties("Section", "Section", "0000 Project", "2026-01-01", "Draft")
        out.append(Document(properties, "0000", "Draft", "Project", f"07 00 {section:02}", tuple(blocks)))
    return tuple(out)


def word_ours() -> int:
    """Twelve files by the Word writer."""
    return sum(len(word_bytes(document)) for document in _documents())


_BODY = (
    '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>'
    '<w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:body>{}</w:body></w:document>'
)


@lru_cache(maxsize=1)
def _static_parts() -> dict[str, bytes]:
    """The parts that every Word file needs beside its text: styles, numbering, settings, relations."""
    folder = carried("templates") / "word"
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    parts = {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}
    parts.pop("word/document.xml")
    return parts


def word_floor() -> int:
    """The same paragraphs as XML strings in a zip, with the static parts a Word file needs: no checks, no header."""
    total = 0
    for document in _documents():
        body = "".join(
            f'<w:p><w:pPr><w:pStyle w:val="x"/></w:pPr><w:r><w:t xml:space="preserve">{escape(para.text)}</w:t>'
            "</w:r></w:p>"
            for para in document.paragraphs()
        )
        buffer = io.BytesIO()
        with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr("word/document.xml", _BODY.format(body))
            for name, data in _static_parts().items():
                archive.writestr(name, data)
        total += len(buffer.getvalue())
    return total


_TEXTS = tuple(f"{number / 7:.4f} {unit}" for number in range(1, 251) for unit in ("in", "mm", "psf", "kPa"))


def quantities_ours() -> float:
    """Parse without the help of the cache."""
    parse_uncached = getattr(parse, "__wrapped__", parse)
    return sum(parse_uncached(words).value for words in _TEXTS)


@lru_cache(maxsize=1)
def _registry() -> pint.UnitRegistry:
    registry = pint.UnitRegistry()
    registry.define("psf = pound_force / foot ** 2")
    return registry


def quantities_pint() -> float:
    """Parse and convert to the SI base with pint."""
    return sum(_registry()(words).to_base_units().magnitude for words in _TEXTS)
