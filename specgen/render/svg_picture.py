"""The picture of a wall inside a page: each part a link to its fields, the control layers to be laid over.

Three planes lie one over the other. The ink is painted as on a sheet, materials first. Over it lie wide invisible places
to press, thin parts above thick ones, for the pointer alone. On top stand the keys: the links that the keyboard and a
screen reader meet, from outside to inside and over the top; each lights up what it names.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from specgen.drawing.lettering import printable
from specgen.drawing.picture import WIDE, Picture, PicturePart
from specgen.drawing.picture_press import breadths, outlines
from specgen.drawing.shapes import Area, Bubble, Stroke
from specgen.model.finding import Finding
from specgen.model.folded import OPEN_WORDS
from specgen.render.svg_inline import Svg, framed, grouped, quoted
from specgen.render.svg_items import class_name, escape, num, path_data, svg_mark
from specgen.units.counted import many

KEY_SIZE = 1.06  # lettering of a key by its radius


@dataclass(frozen=True)
class PartMark:
    """What stands against a part: how many findings, and the word of the worst (``Finding.word``)."""

    count: int
    word: str = ""

    @property
    def words(self) -> str:
        """In words.

        >>> PartMark(1).words, PartMark(2, "risk").words
        ('1 finding', '2 findings, the worst: risk')
        """
        return many(self.count, "finding") + (f", the worst: {self.word}" if self.word else "")


NO_MARKS: Mapping[str, PartMark] = {}


def marks_of(findings: Iterable[Finding], parapet: str) -> Mapping[str, PartMark]:
    """What stands against each part of a parapet: the findings that somebody must act on.

    Args:
        findings: of the project.
        parapet: name of the parapet.
    """
    words: dict[str, list[str]] = {}
    for one in findings:
        if one.counts and one.parapet == parapet and one.layer:
            words.setdefault(one.layer, []).append(one.word)
    return {part: PartMark(len(found), min(found, key=OPEN_WORDS.index)) for part, found in words.items()}


def picture_svg(
    drawing: Picture, link: Callable[[str], str], chosen: str = "", marks: Mapping[str, PartMark] = NO_MARKS
) -> Svg:
    """The picture of a wall as one ``svg`` element.

    Args:
        drawing: the picture.
        link: the address of a part's fields, by the part's id.
        chosen: id of the part whose fields are open.
        marks: what stands against parts, by their ids.

    Returns:
        The same text for the same input; what a project wrote is escaped.
    """
    height, broad = drawing.size[1], breadths(drawing)
    picked = next((one for one in drawing.parts if one.id == chosen), None)
    ink = _ink(drawing)
    marked = {name: mark for name, mark in marks.items() if mark.count > 0}
    groups = [
        *ink[False],
        *([grouped("picked", _lit(picked, height))] if picked else []),
        *ink[True],
        *_overlays(drawing),
        grouped(
            "places",
            (
                _place(part, link(part.id), height, broad[part.id], marked.get(part.id))
                for part in _thick_first(drawing)
            ),
        ),
        grouped(
            "keys",
            (
                _key(part, link(part.id), height, part.id == chosen, marked.get(part.id))
                for part in drawing.parts
            ),
        ),
    ]
    return framed(drawing, "drawing picture", "group", groups)


@lru_cache(maxsize=64)  # a page draws a wall again that has not changed: its marks alone are others
def _ink(drawing: Picture) -> Mapping[bool, tuple[str, ...]]:
    """What is seen of the wall, as on a sheet: its layers under the breaks, and, by True, from the breaks on."""
    height = drawing.size[1]
    every = [*drawing.rest, *(item for part in drawing.parts for item in part.shapes)]
    found: dict[bool, list[str]] = {False: [], True: []}
    over = False
    for layer in drawing.layers:
        over = over or layer.name == "break"
        marks = [svg_mark(item, height) for item in every if item.layer == layer.name]
        if marks:
            found[over].append(grouped(f"layer {class_name(layer.name)}", marks))
    return {each: tuple(groups) for each, groups in found.items()}


@lru_cache(maxsize=64)
def _overlays(drawing: Picture) -> tuple[str, ...]:
    """The paths of the control layers and their open points, each hidden until its layer is asked for."""
    height = drawing.size[1]
    found = []
    for way in drawing.ways:
        if way.items:
            found.append(
                grouped(
                    f"way way-{way.layer}", [_title(way.words), *(svg_mark(i, height) for i in way.items)]
                )
            )
    for point in drawing.open_points:
        if point.items:
            layers = " ".join(f"way-{layer}" for layer in point.layers)
            found.append(
                grouped(f"way {layers}", [_title(point.words), *(svg_mark(i, height) for i in point.items)])
            )
    return tuple(found)


def _title(words: str) -> str:
    return f"<title>{escape(printable(words))}</title>"


def _thick_first(drawing: Picture) -> list[PicturePart]:
    """The parts that are pressed as areas before those pressed as lines."""
    return sorted(drawing.parts, key=lambda part: not any(isinstance(one, Area) for one in outlines(part)))


def _lit(part: PicturePart, height: float) -> Iterator[str]:
    """What lights up of a part."""
    filled, lined = _data(part, height)
    if filled:
        yield f'<path class="lit-area" d="{filled}"/>'
    if lined:
        yield f'<path class="lit-line" d="{lined}"/>'


@lru_cache(maxsize=512)
def _data(part: PicturePart, height: float) -> tuple[str, str]:
    """The paths of a part's areas and of its lines."""
    pressed = outlines(part)
    areas = [path_data(one.outline, height, True) for one in pressed if isinstance(one, Area)]
    lines = [path_data(one.points, height, one.closed) for one in pressed if isinstance(one, Stroke)]
    return "".join(areas), "".join(lines)


def _words(part: PicturePart, mark: PartMark | None) -> str:
    """What the link of a part is called."""
    words = f"{part.number} {part.words}" + ("" if part.shapes else ", not in this cut")
    return words + (f": {mark.words}" if mark else "")


def _place(part: PicturePart, address: str, height: float, broad: float, mark: PartMark | None) -> str:
    """Where a pointer presses a part, and what stands against it; the keyboard meets its key instead."""
    filled, lined = _data(part, height)
    lines = [
        f'<a class="place" href="{quoted(address)}" data-part="{quoted(part.id)}" tabindex="-1" aria-hidden="true">',
        _title(_words(part, mark)),
        *([f'<path class="area" d="{filled}"/>'] if filled else []),
        *([f'<path class="line" stroke-width="{num(broad)}" d="{lined}"/>'] if lined else []),
        *(_flag(mark, part.key, height) if mark else ()),
        "</a>",
    ]
    return "\n".join(lines)


def _key(part: PicturePart, address: str, height: float, chosen: bool, mark: PartMark | None) -> str:
    """The link of a part: its key with its leader, and what lights up."""
    now = ' aria-current="true"' if chosen else ""
    words = _words(part, mark)
    lines = [
        f'<a class="part" href="{quoted(address)}" data-part="{quoted(part.id)}" aria-label="{quoted(printable(words))}"'
        f"{now}>",
        _title(words),
        grouped("lit", _lit(part, height)),
        *_bubble(part.key, height),
        "</a>",
    ]
    return "\n".join(lines)


def _bubble(key: Bubble, height: float) -> Iterator[str]:
    (x, y), (ax, ay), r = key.at, key.anchor, key.radius
    size = KEY_SIZE * r
    at = f'cx="{num(x)}" cy="{num(height - y)}"'
    if key.anchor != key.at:
        yield f'<path class="leader" d="{path_data((key.at, key.anchor), height)}"/>'
        yield f'<circle class="end" cx="{num(ax)}" cy="{num(height - ay)}" r="0.7"/>'
    yield f'<circle class="ring" {at} r="{num(r + 0.9)}"/>'
    yield f'<circle class="key" {at} r="{num(r)}"/>'
    yield f'<text class="number" x="{num(x)}" y="{num(height - y + 0.36 * size)}">{escape(key.key)}</text>'


def _flag(mark: PartMark, key: Bubble, height: float) -> Iterator[str]:
    """A mark beside a key, away from the wall: a square for a defect, a diamond for a risk, a circle else."""
    (x, y), r = key.at, 2.5
    x += (1.0 if x > WIDE / 2.0 else -1.0) * (key.radius + r + 0.2)
    y = height - y
    classes = f"flag {class_name(mark.word)}" if mark.word else "flag"
    match mark.word:
        case "defect":
            yield f'<path class="{classes}" d="M{num(x - r)} {num(y - r)}h{2 * r}v{2 * r}h-{2 * r}Z"/>'
        case "risk":
            wide = r + 0.5
            yield f'<path class="{classes}" d="M{num(x - wide)} {num(y)}l{wide} -{wide} {wide} {wide} -{wide} {wide}Z"/>'
        case _:
            yield f'<circle class="{classes}" cx="{num(x)}" cy="{num(y)}" r="{r}"/>'
    yield f'<text class="{classes} count" x="{num(x)}" y="{num(y + 1.1)}">{min(mark.count, 99)}</text>'
