"""What the drawings show: the same words in each form, sizes against what is asked for, and where a part stands."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import cos, fsum, pi, radians, sin

from specgen.agreement.issue import (
    SECTION,
    AskedRow,
    Issue,
    parapets_in,
    quote,
    roles_of,
    tables_with,
    where_key,
)
from specgen.agreement.page import DrawnSheet, DrawnSize, Page, PrintedWord
from specgen.agreement.sheets import notes_of
from specgen.agreement.statement import ANYWHERE, Contradiction, Statement
from specgen.agreement.values import Printed, agree, kept_as_printed, meets, printed_values
from specgen.practice.load import load_practice
from specgen.units.quantity import from_si

_LETTERS = frozenset("WAVH")  # on the lines of layers that a page may leave out
_HEAD = re.compile(r", (?:thickness|height) ([^:;,(]+)(?! \(assumed)(?=[:;]| \w+ |$)")
_LAP = re.compile(r", lap ([^,;:(]+?)(?: at least| not more| \(|$| bridging| as )")
_SIZE_WORDS = re.compile(r"\b(?:thickness|height|depth)\b")
_SAYS_SO = ("as described", "asks for")
_FAILS = re.compile(rf"([^,;:]+) as described; {SECTION}, [\w.]+ asks for ([^;]+)")
_FROM_ROOF = ("base flashing ", "parapet ")
_ABOVE_ROOF = re.compile(r"\babove (?:the|a) finished (?:surface of the )?roof\b(?! below)")
_LISTED = re.compile(r" (?:Parts|How it is made): ")
_STEP = re.compile(
    rf"(.+?): ({SECTION}), ([\d.A-Za-z]+?)(?: before it, .+)?"
)  # a paragraph that a detail quotes
_AT = re.compile(r"^At parapets? [^:]+: | at parapets? [^:]+(?=:)")
_NEXT_PART = re.compile(r"; (?=\d+ (?!\d\d ))")
_BEND = re.compile(r"(outer|inner) (hem|drip|edge): at (.+), turned ([\d.]+)°")
_ROUNDED = (
    0.005  # m, of a sum of six positions that are each printed to a sixteenth of an inch or a millimeter
)
_SAME_PLACE = 1e-6  # in the unit of the drawing, between two ends that are one point


def forms(issue: Issue) -> Iterator[Contradiction]:
    """One sheet in several files prints the same words in each."""
    seen: dict[str, list[tuple[Page, DrawnSheet]]] = defaultdict(list)
    for page in issue.pages:
        for sheet in page.sheets:
            seen[sheet.place].append((page, sheet))
    for place, found in seen.items():
        found.sort(key=lambda one: not one[0].file.endswith(".svg"))
        page, sheet = found[0]
        mine = _bag(sheet)
        for other, drawn in found[1:]:
            theirs = _bag(drawn)
            lost, new = " ".join((mine - theirs).elements()), " ".join((theirs - mine).elements())
            if lost or new:
                one = quote(page, place, place, lost or "no such words")
                yield Contradiction("value", place, one, quote(other, place, place, new or "no such words"))


def _bag(sheet: DrawnSheet) -> Counter[str]:
    return Counter(word for one in sheet.words for word in one.text.split() if word not in _LETTERS)


def described_twice(issue: Issue) -> Iterator[Contradiction]:
    """What a sheet says of its parts for those who cannot see it, against its notes."""
    for page in issue.pages:
        for sheet in page.sheets if page.file.endswith((".svg", ".html")) else ():
            notes = dict(notes_of(sheet))
            listed = _LISTED.split(sheet.about, maxsplit=1)
            for item in _NEXT_PART.split(listed[-1].removesuffix(".")) if len(listed) > 1 else ():
                key, _, words = item.partition(" ")
                if words and not notes.get(key, "").startswith(words):
                    place = f"{sheet.place}, note {key}"
                    one = quote(page, f"{sheet.place}, description", place, words)
                    yield Contradiction(
                        "value", place, one, quote(page, place, place, notes.get(key, "no note"))
                    )


def steps_quoted(issue: Issue) -> Iterator[Contradiction]:
    """The steps of a detail against the paragraphs that they quote."""
    for page in issue.pages:
        for sheet in page.sheets if page.file.endswith((".svg", ".html")) else ():
            if " How it is made: " not in sheet.about:
                continue
            for key, text in notes_of(sheet):
                step = _STEP.fullmatch(text) if key else None
                found = issue.paragraphs.get((step[2], step[3]), ()) if step else ()
                if step and found and _AT.sub("", found[0].value).rstrip(".:") != step[1]:
                    place = f"{sheet.place}, note {key}"
                    yield Contradiction(
                        "value", f"{step[2]}, {step[3]}", found[0], quote(page, place, "", step[1])
                    )


def _svg_sheets(issue: Issue, title: str) -> Iterator[tuple[Page, DrawnSheet]]:
    for page in issue.pages:
        if page.file.endswith(".svg"):
            yield from ((page, sheet) for sheet in page.sheets if sheet.title == title)


def _sizes(issue: Issue) -> Iterator[tuple[Page, DrawnSheet]]:
    for page in issue.pages:
        yield from ((page, sheet) for sheet in page.sheets if sheet.sizes)


def _rows_for(issue: Issue, item: str, parapet: str) -> list[AskedRow]:
    return [row for row in issue.rows if row.item.casefold() == item and _is_at(row, parapet)]


def failing_sizes(issue: Issue) -> Iterator[Contradiction]:
    """Sizes on a sheet that miss what is asked for, where the sheet does not say so at the size."""
    yield from _misses_that_read_as_met(issue)
    for page, sheet in _svg_sheets(issue, "Section"):
        for key, text in notes_of(sheet):
            sizes = [*_HEAD.findall(text), *_LAP.findall(text)]
            for size in sizes if key and not any(words in text for words in _SAYS_SO) else ():
                yield from _failing(page, f"{sheet.place}, note {key}", text, size)
    for page, sheet in _sizes(issue):
        for item, size in _drips(sheet):
            for row in _rows_for(issue, item, sheet.parapet):
                yield from _held(page, f"{sheet.place}, dimension", size, row)
        for words, item in (
            ("base flashing", "roof membrane base flashing: height above the finished roof"),
            ("lap", "flashing membrane across the parapet top: lap over the roof membrane base flashing"),
        ):
            for one in sheet.sizes:
                if one.text.startswith(f"{words} "):
                    for row in _rows_for(issue, item, sheet.parapet):
                        yield from _held(page, f"{sheet.place}, dimension", one.text, row)


def _misses_that_read_as_met(issue: Issue) -> Iterator[Contradiction]:
    """A size that a sheet says fails, printed so that it reads as if it met what the sheet says is asked for."""
    for page in issue.pages:
        for sheet in page.sheets:
            for text in (*(words for _, words in notes_of(sheet)), *(one.text for one in sheet.sizes)):
                for found in _FAILS.finditer(text):
                    mine, limit = (list(printed_values(words)) for words in found.groups())
                    if mine and limit and kept_as_printed(mine[-1], limit[0]):
                        one, two = (quote(page, sheet.place, sheet.place, words) for words in found.groups())
                        yield Contradiction("size", sheet.place, two, one)


def _failing(page: Page, place: str, text: str, size: str) -> Iterator[Contradiction]:
    """The size in a note against the limits printed in the same note."""
    mine = next(printed_values(size), None)
    for limit in printed_values(text) if mine else ():
        assert mine is not None
        before = text[: limit.start].rpartition(": ")[2]
        sized = not before.strip() or _SIZE_WORDS.search(before) or ", lap " in before
        if limit.sign != "=" and sized and meets(mine, limit) is False:
            one, two = quote(page, place, place, size, text), quote(page, place, place, limit.text)
            yield Contradiction("size", place, two, one)


def _held(page: Page, place: str, size: str, row: AskedRow) -> Iterator[Contradiction]:
    if any(words in size for words in _SAYS_SO):
        return
    mine, limit = next(printed_values(size), None), next(printed_values(row.required), None)
    if mine and limit and meets(mine, limit) is False:
        yield Contradiction("size", row.item, row.statement, quote(page, place, place, size))


def _across(sheet: DrawnSheet) -> DrawnSize | None:
    """The dimension over the whole thickness: the longest level one."""
    level = [one for one in sheet.sizes if not one.upright]
    return max(level, key=lambda one: abs(one.second[0] - one.first[0]), default=None)


def _drips(sheet: DrawnSheet) -> Iterator[tuple[str, str]]:
    """The level dimensions that end where the thickness begins: how far the drips stand off the faces."""
    whole = _across(sheet) if sheet.title == "Section" else None
    if whole is None:
        return
    left, right = sorted((whole.first[0], whole.second[0]))
    for one in sheet.sizes:
        low, high = sorted((one.first[0], one.second[0]))
        if not one.upright and one is not whole:
            if abs(high - left) < _SAME_PLACE:
                yield "coping: drip projection clear of the outer face", one.text
            elif abs(low - right) < _SAME_PLACE:
                yield "coping: drip projection clear of the roof-side face", one.text


def stated(issue: Issue) -> Iterator[tuple[str, str, Statement]]:
    """What the report says a part is at a parapet: ``part: attribute``, the parapet, and the value."""
    titles = {row.attribute for row in issue.rows if row.attribute}
    titles |= {"height of the outer face of the coping", "depth", "thickness"}
    ordered = sorted(titles, key=len, reverse=True)
    for page, table in tables_with(issue, "Part", "Stated values"):
        for row in table.records():
            part = row["Part"].partition(" (")[0]
            for words in row["Stated values"].split("; "):
                title = next((one for one in ordered if words.startswith(f"{one} ")), None)
                if title is None:
                    continue
                for parapet in parapets_in(table.heading):
                    place = f"{table.heading}, {row['Part']}"
                    value = words.removeprefix(f"{title} ")
                    yield f"{part}: {title}".casefold(), parapet, quote(page, place, words, value, words)


def drawn_against_stated(issue: Issue) -> Iterator[Contradiction]:
    """A size on a section against the same size in the report; one that is marked assumed is not compared."""
    held: dict[tuple[str, str], list[Statement]] = defaultdict(list)
    for item, parapet, one in stated(issue):
        held[item, parapet].append(one)
    for page, sheet in _sizes(issue):
        if sheet.title != "Section":
            continue
        shown = [*_drips(sheet), *_named_sizes(sheet)]
        for item, text in shown:
            mine = next(printed_values(text), None)
            for one in held.get((item, sheet.parapet), ()) if "assumed" not in text else ():
                if not _same_size(mine, one.value):
                    yield Contradiction("value", item, one, quote(page, sheet.place, item, text))


def _same_size(mine: Printed | None, words: str) -> bool:
    theirs = next(printed_values(words), None)
    if mine is None or theirs is None:
        return True
    return mine.quantity.dimension != theirs.quantity.dimension or agree(
        replace(mine, sign=theirs.sign), theirs
    )


def _named_sizes(sheet: DrawnSheet) -> Iterator[tuple[str, str]]:
    """The upright dimensions that tell what they measure: by their words, or by where they stand."""
    for one in sheet.sizes:
        if one.text.startswith("base flashing "):
            yield "roof membrane base flashing: height above the finished roof", one.text
    whole = _across(sheet)
    upright = [
        one
        for one in sheet.sizes
        if one.upright and whole and max(one.first[0], one.second[0]) < min(whole.first[0], whole.second[0])
    ]
    if upright:
        face = min(upright, key=lambda one: one.first[0])
        yield "coping: height of the outer face of the coping", face.text


def places(issue: Issue) -> Iterator[Contradiction]:
    """A part drawn below the roof that a section sets above it, and not above a roof that lies below the part."""
    roles = roles_of(issue)
    for _, sheet in _sizes(issue):
        roof = [min(s.first[1], s.second[1]) for s in sheet.sizes if s.text.startswith(_FROM_ROOF)]
        low = {
            roles.get(part, part): (page, part)
            for part, (page, key) in _keyed_parts(issue, sheet.parapet).items()
            if roof and sheet.title == "Section" and key.y < min(roof)
        }
        for row in issue.rows:
            page, part = low.get(roles.get(row.part, row.part), (None, ""))
            if page is None or not _is_at(row, sheet.parapet):
                continue
            for one in issue.paragraphs.get((row.section, row.paragraph), ())[:1]:
                if _ABOVE_ROOF.search(one.text):
                    shown = quote(page, sheet.place, part, "", f"{part} is drawn below the roof")
                    yield Contradiction("place", part, one, shown)


def _is_at(row: AskedRow, parapet: str) -> bool:
    return row.where in ANYWHERE or parapet in where_key(row.where).split(", ")


def _keys(issue: Issue, parapet: str) -> dict[str, tuple[Page, str]]:
    return {
        key: (page, text)
        for page, sheet in _svg_sheets(issue, "Section")
        if sheet.parapet == parapet
        for key, text in notes_of(sheet)
        if key
    }


def sides(issue: Issue) -> Iterator[Contradiction]:
    """Where a part is drawn, outside or inside of the framing, against its place in the report's list of parts."""
    roles = load_practice().vocabulary.roles
    for page, table in tables_with(issue, "Part", "Stated values"):
        for parapet in parapets_in(table.heading):
            at = _keyed_parts(issue, parapet)
            rows = [_named(row["Part"]) for row in table.records()]
            title = roles["framing"].title
            if title not in rows or title not in at:
                continue
            top = {role.title for role in roles.values() if role.where == "top"}
            for n, part in enumerate(rows):
                sheet, key = at.get(part, at[title])
                outside = n < rows.index(title)
                across = key.x - at[title][1].x
                if part != title and part not in top and (across > 0.0 if outside else across < 0.0):
                    listed = "outside" if outside else "inside"
                    in_table = quote(page, table.heading, part, listed, f"{part}: {listed} of the framing")
                    side = "inside" if outside else "outside"
                    shown = quote(
                        sheet, f"section, parapet {parapet}", part, side, f"{part} is drawn {side} of it"
                    )
                    yield Contradiction("place", part, in_table, shown)


def _named(part: str) -> str:
    """The name a drawing gives a part: its own where it has one, else the title of its role."""
    title, _, own = part.removesuffix(")").partition(" (")
    return own or title


def _keyed_parts(issue: Issue, parapet: str) -> dict[str, tuple[Page, PrintedWord]]:
    names = {key: text.partition(",")[0] for key, (_, text) in _keys(issue, parapet).items()}
    return {
        names[one.text]: (page, one)
        for page, sheet in _sizes(issue)
        if sheet.title == "Section" and sheet.parapet == parapet
        for one in sheet.keyed
        if one.text in names
    }


def folded(issue: Issue) -> Iterator[Contradiction]:
    """A blank, folded by its list of bends, against the drips and the thickness on the section of its parapet."""
    for page, sheet in _svg_sheets(issue, "Coping blank"):
        bends = {}
        for _, text in notes_of(sheet):
            found = _BEND.fullmatch(text)
            at = next(printed_values(found[3]), None) if found else None
            if found and at:
                bends[found[1], found[2]] = at.quantity.value, radians(float(found[4]))
        for other, section in _sizes(issue):
            whole = _across(section) if section.parapet == sheet.parapet else None
            drips = [_meters(text) for _, text in _drips(section)]
            if section.title != "Section" or whole is None or len(bends) != 6 or len(drips) != 2:
                continue
            printed_m = fsum(drips) + _meters(whole.text)
            made = _folded_width(bends)
            if abs(made - printed_m) > _ROUNDED:
                text = f"{whole.text} and drips of {', '.join(words for _, words in _drips(section))}"
                one = quote(other, section.place, sheet.place, text)
                width = from_si(round(made, 4), "length", "mm").text
                two = quote(
                    page, sheet.place, sheet.place, width, f"the bends fold to {width} over the drips"
                )
                yield Contradiction("value", f"width of the coping at {sheet.parapet}", one, two)


def _meters(text: str) -> float:
    return next((one.quantity.value for one in printed_values(text)), 0.0)


def _folded_width(bends: Mapping[tuple[str, str], tuple[float, float]]) -> float:
    """How far a folded coping reaches from drip to drip, measured level."""
    top = bends["inner", "edge"][0] - bends["outer", "edge"][0]
    fall = bends["outer", "edge"][1] - pi / 2.0
    out = [
        abs(bends[side, "drip"][0] - bends[side, "hem"][0]) * sin(bends[side, "drip"][1])
        for side in ("outer", "inner")
    ]
    return top * cos(fall) + fsum(out)


def blanks(issue: Issue) -> Iterator[Statement]:
    """The blank of a coping: its girth and the length of a piece, in each place of its sheet and in the report."""
    for page, sheet in _svg_sheets(issue, "Coping blank"):
        texts = [sheet.about, *(one.text for one in sheet.words), *(text for _, text in notes_of(sheet))]
        for text in texts:
            for found in re.finditer(r"\b[Gg]irth ((?:\d+ ft )?[\d /]+ in|[\d.]+ m?m)\b", text):
                yield quote(page, sheet.place, f"girth of the coping at {sheet.parapet}", found[1], text[:80])
            for found in re.finditer(r"pieces? ([\d][\d /a-z.]*?) long", text):
                yield quote(page, sheet.place, f"piece of the coping at {sheet.parapet}", found[1], text[:80])


def materials(issue: Issue) -> Iterator[Contradiction]:
    """A metal and a finish that it does not take, in one requirement."""
    for (section, number), found in issue.paragraphs.items():
        for one in found[:1]:
            text = one.text.casefold()
            if re.search(r"\bstainless steel, (?!.*\bor\b).*galvaniz", text):
                row = next(iter(issue.rows_at(section, number)), None)
                plain = row.statement if row else replace(one, text="stainless steel")
                yield Contradiction("value", f"{section}, {number}", plain, one)
