"""What is to be spliced into a YAML text for one change: in lines that go by indentation, and in brackets."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.files.marks import InputError, InputProblem
from specgen.files.yaml_nodes import BREAK, Splicing, YamlEntry, YamlNode, YamlText
from specgen.files.yaml_reader import read_yaml_text
from specgen.files.yaml_scalars import as_written, text_as_written

STEP = 2  # columns that what stands below a key is indented by


@dataclass(frozen=True)
class YamlWords:
    """What shall stand in a file: its lines, and what they mean.

    ``block``: they are a map or a list that goes by indentation, or a text over several lines.
    """

    lines: tuple[str, ...]
    data: object
    block: bool

    def indented(self, column: int, line_break: str) -> str:
        """The lines with all but the first indented."""
        first, *rest = self.lines
        return line_break.join([first, *(f"{' ' * column}{line}" if line else "" for line in rest)])

    @property
    def in_brackets(self) -> str:
        """What stands for them where only brackets can."""
        return as_written(self.data) if self.block else " ".join(line.strip() for line in self.lines)


def words_of(words: str, name: str) -> YamlWords:
    """Source text that somebody wants in a file.

    Raises:
        InputError: it cannot be read.
    """
    lines = tuple(BREAK.split(words.strip("\n\r")))
    # Below an item of a list a block stands as well as one value.
    held = read_yaml_text(
        "- " + "\n".join([lines[0], *(f"  {line}" if line else "" for line in lines[1:])]), name
    )
    (data,) = held if isinstance(held, list) and len(held) == 1 else (None,)
    block = isinstance(data, dict | list) and lines[0][:1] not in ("{", "[", "&")
    return YamlWords(lines, data, block or lines[0][:1] in ("|", ">"))


def key_with(key: str, words: YamlWords, column: int, source: YamlText) -> str:
    """A key of a block map that begins at a column, with its value."""
    name = text_as_written(key)
    if words.block and not isinstance(words.data, str):
        inner = column + STEP
        return f"{name}:{source.line_break}{' ' * inner}{words.indented(inner, source.line_break)}"
    return f"{name}: {words.indented(column + STEP, source.line_break)}"


def replaced(source: YamlText, entry: YamlEntry, in_flow: bool, words: YamlWords) -> list[Splicing]:
    """Another value of a key or an item. Comments inside a former collection go above it, each on its line."""
    value, text = entry.value, source.text
    stop = value.end  # a text that keeps the blank lines behind it ends with them
    while stop > value.start and BREAK.match(text, stop - 1):
        stop -= 1
    before = source.sign(":", entry.key.end, value.start) if entry.key else -1
    edits: list[Splicing] = []
    if BREAK.search(text, value.start, stop) or value.block:
        start = before + 1 if entry.key and value.block and before >= 0 else value.start
        edits += hoisted(source, entry.at, [one for _, one in source.comments(start, stop)])
    else:
        start = value.start
    lead = " " if text[start - 1 : start] in (":", "-") else ""
    if entry.key and before < 0:
        lead = ": "
    if in_flow:
        follow = " " if text[stop : stop + 1] == "#" else ""
        return [*edits, (start, stop, f"{lead}{words.in_brackets}{follow}")]
    column = source.column(entry.at)
    if not entry.key or not words.block or isinstance(words.data, str):
        now = words.indented(column + STEP, source.line_break)
        return [*edits, (start, stop, lead + now)]
    inner = column + STEP
    now = f"{' ' * inner}{words.indented(inner, source.line_break)}"
    return [*edits, (_without_space(source, start), stop, ""), line_after(source, stop, now)]


def _without_space(source: YamlText, at: int) -> int:
    while source.text[at - 1 : at] == " ":
        at -= 1
    return at


def line_after(source: YamlText, at: int, line: str) -> Splicing:
    """One more line behind the line of a character."""
    end = source.behind(at)
    if end == len(source.text) and not BREAK.match(
        source.text, end - 1
    ):  # the last one, without a line break
        return end, end, source.line_break + line
    return end, end, line + source.line_break


def hoisted(source: YamlText, at: int, comments: list[str]) -> list[Splicing]:
    """Comments on lines of their own above the line of a character."""
    if not comments:
        return []
    line, indent = source.free_line(at), source.indent(source.free_line(at))
    return [(line, line, "".join(f"{indent}{one}{source.line_break}" for one in comments))]


def with_key(source: YamlText, holder: YamlNode, key: str, words: YamlWords) -> tuple[int, list[Splicing]]:
    """One more key of a map that has some, and at which place it stands: in a block, before what has lines of its own."""
    last = holder.entries[-1]
    if holder.flow:
        now = f", {text_as_written(key)}: {words.in_brackets}"
        follow = " " if source.text[last.end : last.end + 1] == "#" else ""
        return len(holder.entries), [(last.end, last.end, now + follow)]
    at = next((place for place, one in enumerate(holder.entries) if one.value.block), len(holder.entries))
    if at == 0 or words.block:
        at = len(holder.entries)
    column = source.column(holder.entries[0].at)
    now = " " * column + key_with(key, words, column, source)
    return at, [line_after(source, holder.entries[at - 1].end, now)]


def into_empty(
    source: YamlText, holder: YamlNode, entry: YamlEntry | None, in_flow: bool, now: YamlWords, item: bool
) -> list[Splicing]:
    """The first key or item of what holds nothing yet: empty brackets, or a key without a value."""
    text = source.text
    if holder.kind == "scalar":
        if in_flow or entry is None or entry.key is None:
            return (
                replaced(source, entry, in_flow, now) if entry else [(holder.start, holder.end, now.lines[0])]
            )
        block = YamlWords(tuple(as_lines(now)), now.data, True)
        return replaced(source, entry, in_flow, block)
    if item and not in_flow and entry is not None and entry.key is not None and isinstance(now.data, list):
        first = now.data[0] if now.data else None
        if isinstance(first, dict):
            return replaced(source, entry, in_flow, YamlWords(tuple(as_lines(now)), now.data, True))
    opening = text.index("{" if holder.kind == "map" else "[", holder.start) + 1
    inside = now.in_brackets[1:-1]
    follow = " " if text[opening : opening + 1] == "#" else ""
    stop = holder.end - 1 if not text[opening : holder.end - 1].strip() else opening
    return [(opening, stop, inside + follow)]


def as_lines(words: YamlWords) -> list[str]:
    """A map or a list of one entry in lines that go by indentation."""
    if words.block:
        return list(words.lines)
    if isinstance(words.data, dict):
        return [f"{text_as_written(key)}: {as_written(value)}" for key, value in words.data.items()]
    assert isinstance(words.data, list)
    return [f"- {as_written(value)}" for value in words.data]


def without(source: YamlText, holder: YamlNode, number: int) -> list[Splicing]:
    """A key or an item less, of several. The comments beside it stay, each on its line."""
    return _flow_without(source, holder, number) if holder.flow else _block_without(source, holder, number)


def _block_without(source: YamlText, holder: YamlNode, number: int) -> list[Splicing]:
    entry = holder.entries[number]
    if source.leads(entry.at):
        start, stop = source.line_start(entry.at), source.behind(entry.end)
        kept = [one for _, one in source.comments(entry.at, stop)]
        lines = "".join(f"{source.indent(entry.at)}{one}{source.line_break}" for one in kept)
        if stop == len(source.text) and not BREAK.match(source.text, stop - 1):  # no line break at the end
            if kept:
                lines = lines.removesuffix(source.line_break)
            else:
                start = source.line_end(start - 1) if start else start
        return [(start, stop, lines)]
    if number + 1 == len(holder.entries) or number > 0:
        refuse_here(source, entry.at)
    following = holder.entries[number + 1]
    if source.leads(following.at) or holder.kind == "map":
        kept = [one for _, one in source.comments(entry.at, following.at)]
        return [*hoisted(source, entry.at, kept), (entry.at, following.at, "")]
    refuse_here(source, entry.at)
    return []


def _flow_without(source: YamlText, holder: YamlNode, number: int) -> list[Splicing]:
    entries, text = holder.entries, source.text
    entry = entries[number]
    before = entries[number - 1] if number else None
    following = entries[number + 1] if number + 1 < len(entries) else None
    beside = before and source.line_start(before.end) == source.line_start(entry.at)
    if before and (beside or not following):
        start, stop = before.end, entry.end
    else:
        assert following is not None
        start, stop = entry.at, following.at
    kept = [one for _, one in source.comments(start, stop)]
    if not kept:
        return [(start, stop, "")]
    indent = source.indent(entry.at) or " " * STEP
    lines = "".join(f"{indent}{one}{source.line_break}" for one in kept)
    if source.leads(start):
        return [(source.line_start(start), stop, lines + indent)]
    start = _without_space(source, start)
    rest = source.line_end(stop)
    if not text[stop:rest].strip() and rest < len(text):  # nothing follows in the line: its break is there
        return [(start, stop, source.line_break + lines.removesuffix(source.line_break))]
    return [(start, stop, f"{source.line_break}{lines}{indent}")]


def with_item(source: YamlText, holder: YamlNode, index: int, words: YamlWords) -> list[Splicing]:
    """One more item of a list that has some."""
    entries = holder.entries
    if holder.flow:
        if index < len(entries):
            at = entries[index].at
            return [(at, at, f"{words.in_brackets}, ")]
        end = entries[-1].end
        follow = " " if source.text[end : end + 1] == "#" else ""
        return [(end, end, f", {words.in_brackets}{follow}")]
    column = source.column(entries[0].at)
    now = f"- {words.indented(column + STEP, source.line_break)}"
    if index:
        return [line_after(source, entries[index - 1].end, " " * column + now)]
    at = entries[0].at
    if not source.leads(at):
        return [(at, at, f"{now}{source.line_break}{' ' * column}")]
    start = region_start(source, holder)
    return [(start, start, " " * column + now + source.line_break)]


def region_start(source: YamlText, holder: YamlNode) -> int:
    """Where the lines of a block list begin: with the comments above its first item that stand below the key."""
    start = source.line_start(holder.entries[0].at)
    while start:
        line = source.line_start(start - 1)
        words = source.text[line:start].strip()
        if not words.startswith("#") or len(source.indent(line)) < source.column(holder.entries[0].at):
            return start
        start = line
    return source.line_start(holder.entries[0].at)  # the head of the file is not the first item's


def moved(source: YamlText, holder: YamlNode, index: int, to: int) -> list[Splicing]:
    """The items of a list in another order; in a block each takes the comments above it along."""
    order = list(range(len(holder.entries)))
    order.insert(to, order.pop(index))
    if holder.flow:
        spans = [(one.at, one.end) for one in holder.entries]
        return [
            (*spans[place], source.text[slice(*spans[old])])
            for place, old in enumerate(order)
            if place != old
        ]
    if not source.leads(holder.entries[0].at):
        refuse_here(source, holder.start)
    ends = [source.behind(one.end) for one in holder.entries]
    starts = [region_start(source, holder), *ends[:-1]]
    chunks = [source.text[start:end] for start, end in zip(starts, ends, strict=True)]
    whole = BREAK.search(chunks[-1][-1:]) is not None
    if not whole:
        chunks[-1] += source.line_break
    now = "".join(chunks[old] for old in order)
    low, high = sorted((index, to))
    if whole:
        return [(starts[low], ends[high], "".join(chunks[old] for old in order[low : high + 1]))]
    return [(starts[0], ends[-1], now.removesuffix(source.line_break))]


def refuse_here(source: YamlText, at: int) -> None:
    """The change cannot be made by splicing."""
    fix = "change it in the text file"
    raise InputError(
        [InputProblem(source.mark(at), "this cannot be changed without touching its neighbors", fix)]
    )
