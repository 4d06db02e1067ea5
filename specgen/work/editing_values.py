"""One value of a project file in its four ways: stated, left to the sections, unknown, not applicable."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from specgen.files.marks import InputError
from specgen.files.yaml_places import Path
from specgen.files.yaml_reader import read_yaml_text
from specgen.files.yaml_scalars import as_written, plain_value
from specgen.intake.records import REASONS
from specgen.intake.schema import NOT_APPLICABLE, is_placeholder, may_be_open
from specgen.intake.start import scalar
from specgen.intake.values import UNKNOWN, UnusableValueError, convert
from specgen.model.project import Project
from specgen.practice.entries import Field, Practice
from specgen.units.quantity import QuantityError, parse
from specgen.work.editing_file import KIND, Address, AddressSpot, Edited, ProjectText

WAYS = ("stated", "specified", "unknown", "inapplicable")
SCOPES = ("", "type", "own")
MEANT = "meant"
_NOT_QUANTITIES = ("text", "word", "words", "family", "families", "yes or no", "date", "count")


@dataclass(frozen=True)
class ValueStanding:
    """How a value stands: its way, the words (a value, or the reason why it does not apply), and where they are written.

    ``scope``: "type" where the type states it, "own" where the parapet does (its own key, its own list, or its
    changes); "" where nothing is written. ``parapets``: those that read the same words. ``meant``: the reason of a
    value that is not expected.
    """

    way: str
    words: str
    scope: str
    parapets: tuple[str, ...]
    meant: str = ""


def stated_at(text: str, project: Project, practice: Practice, address: Address) -> ValueStanding:
    """How a value stands in the file, and whether its type, its own list or its changes state it.

    Raises:
        InputError: the address leads nowhere.
    """
    file = ProjectText(text, project, practice)
    spot = file.spot(address)
    path = _states(file, spot, address.key)
    if path is None:
        return ValueStanding("specified", "", "", _readers(file, spot, spot.base or spot.over or ()))
    node, key = file.node(path), address.key
    typed = spot.typed and path == spot.base
    readers = _readers(file, spot, path)
    meant = str((node.get(MEANT) or {}).get(key, "")) if isinstance(node.get(MEANT), dict) else ""
    if key not in node:
        return ValueStanding(
            "inapplicable", str(node[NOT_APPLICABLE][key]), "type" if typed else "own", readers
        )
    words = file.written((*path, key))
    way = "unknown" if words == UNKNOWN else "stated"
    return ValueStanding(way, words, "type" if typed else "own", readers, meant)


def set_way(
    text: str,
    project: Project,
    practice: Practice,
    address: Address,
    way: str,
    words: str = "",
    scope: str = "",
) -> Edited:
    """A value stated, left to the sections, said to be unknown, or not to apply; what stood for another way goes.

    Args:
        text: of the project file.
        project: as it was read from the text.
        practice: of the project's office.
        address: of the value.
        way: ``stated``, ``specified``, ``unknown`` or ``inapplicable``.
        words: the value in any unit, or the reason why it does not apply.
        scope: ``type``: at all parapets of the type; ``own``: at this parapet alone; "": where it stands.

    Raises:
        InputError: the value cannot stand there; nothing is changed.
    """
    file = ProjectText(text, project, practice)
    before = stated_at(text, project, practice, address)
    spot = spot_of(file, address, scope)
    if address.key == KIND and spot.record in practice.vocabulary.roles:
        raise file.refusal(
            spot.base or (), "a kind takes other values along", "change the kind of the component"
        )
    field = field_of(file, spot, address.key)
    target = target_of(file, spot, address.key, scope)
    refuse_way(file, spot, field, way, target)
    source = source_words(file, field, words, target) if way == "stated" else UNKNOWN
    write_way(
        file, target, field.name, way, source if way != "inapplicable" else _reason(file, words, target)
    )
    if target == spot.base and spot.over is not None and _says(file.node(spot.over), field.name):
        clear(file, spot.over, field.name)  # it would hide what the type says now
    if way == "specified" and target == spot.over and spot.base and _says(file.node(spot.base), field.name):
        fix = "leave it to the sections at the type, or state it here"
        raise file.refusal(spot.base, f"the type {spot.type_name} says something of `{field.name}`", fix)
    after = stated_at(file.text, project, practice, address)
    return Edited(
        file.text, f"{spot.where(target)}, {field.title}: {_in_words(before)} -> {_in_words(after)}"
    )


def as_the_type(text: str, project: Project, practice: Practice, address: Address) -> Edited:
    """What a parapet states over its type goes: the type holds here again.

    Raises:
        InputError: the parapet states nothing over a type there.
    """
    file = ProjectText(text, project, practice)
    before = stated_at(text, project, practice, address)
    spot = file.spot(address)
    field = field_of(file, spot, address.key)
    if not spot.typed or spot.over is None or not _says(file.node(spot.over), address.key):
        raise file.refusal(
            spot.over or spot.base or (), "nothing is stated over a type here", "change the value itself"
        )
    clear(file, spot.over, address.key)
    after = stated_at(file.text, project, practice, address)
    now = f"{_in_words(after)}, as {spot.type_name} has it"
    return Edited(file.text, f"{spot.where(spot.over)}, {field.title}: {_in_words(before)} -> {now}")


def set_meant(
    text: str, project: Project, practice: Practice, address: Address, reason: str, scope: str = ""
) -> Edited:
    """The reason why a value is meant that is not expected; an empty reason takes it out.

    Raises:
        InputError: no value stands there, or the reason says nothing.
    """
    return _reasoned(text, project, practice, address, MEANT, reason, scope)


def set_because(
    text: str, project: Project, practice: Practice, address: Address, reason: str, scope: str = ""
) -> Edited:
    """The reason why a value of a component is stricter than anything asks for; an empty reason takes it out.

    Raises:
        InputError: no value stands there, or the reason says nothing.
    """
    return _reasoned(text, project, practice, address, "because", reason, scope)


def _reasoned(
    text: str, project: Project, practice: Practice, address: Address, key: str, reason: str, scope: str
) -> Edited:
    file = ProjectText(text, project, practice)
    spot = spot_of(file, address, scope)
    field = field_of(file, spot, address.key)
    target = _states(file, spot, address.key) if not scope else target_of(file, spot, address.key, scope)
    if target is None or address.key not in file.node(target):
        raise file.refusal(target or spot.base or (), f"`{address.key}` is not stated here", "state it first")
    path = (*target, key, address.key)
    if reason.strip():
        file.set(path, as_written(_reason(file, reason, target)))
    elif file.at(path) is not None:
        file.remove(path)
    now = reason.strip() or "no reason any more"
    return Edited(file.text, f"{spot.where(target)}, {field.title}: {key}, {now}")


def spot_of(file: ProjectText, address: Address, scope: str) -> AddressSpot:
    """Where an address leads; a lap or a place of the type is copied with its list where the parapet alone is meant.

    Raises:
        InputError: nothing of that name stands in the file.
    """
    spot = file.spot(address)
    if scope == "own" and spot.typed and spot.over is None and spot.base is not None:
        file.own_list(file.parapet(address.parapet), str(spot.base[-2]))
        return file.spot(address)
    return spot


def field_of(file: ProjectText, spot: AddressSpot, key: str) -> Field:
    """The definition of a value.

    Raises:
        InputError: a record of this kind has no such value.
    """
    if key in spot.fields:
        return spot.fields[key]
    known = ", ".join(spot.fields)
    raise file.refusal(spot.base or spot.over or (), f"no `{key}` in {spot.record}", f"known here: {known}")


def target_of(file: ProjectText, spot: AddressSpot, key: str, scope: str) -> Path:
    """The map that is to hold a value.

    Raises:
        InputError: the parapet has no type.
    """
    if scope not in SCOPES:
        raise file.refusal((), f"no scope `{scope}`", "write type, own, or nothing")
    if scope == "type":
        if not spot.typed or spot.base is None:
            raise file.refusal(spot.base or spot.over or (), "this is not of a type", "change it here alone")
        return spot.base
    if scope == "own" and spot.typed:
        if spot.over is None:
            raise file.refusal(
                spot.base or (), "this stands in the list of the type", "change it at the type"
            )
        return spot.over
    stands = _states(file, spot, key)
    if stands is not None:
        return stands
    found = spot.over if spot.base is None or not spot.title else spot.base
    assert found is not None
    return found


def refuse_way(file: ProjectText, spot: AddressSpot, field: Field, way: str, target: Path) -> None:
    """Hold that a value may stand in a way.

    Raises:
        InputError: it may not.
    """
    if way not in WAYS:
        raise file.refusal(target, f"no way `{way}`", f"write one of: {', '.join(WAYS)}")
    if way == "stated":
        return
    if field.required or (way == "inapplicable" and field.to_issue):
        raise file.refusal(target, f"`{field.name}` applies to every project", "state it")
    if way == "specified":
        return
    if not file.open(spot) or (way == "unknown" and not may_be_open(field)):
        raise file.refusal(target, f"`{field.name}` cannot be left so", "state it, or leave it out")


def source_words(file: ProjectText, field: Field, words: str, target: Path) -> str:
    """A value as it was typed, as it stands in the file.

    Raises:
        InputError: it is not one of the field.
    """
    source = as_typed(field, words)
    try:
        written = read_yaml_text(f"v: {source}", file.file, want=dict)["v"]
        convert(field, written, file.practice.vocabulary)
        if words.strip() == UNKNOWN and field.type == "text":
            raise UnusableValueError(f"`{field.name}`: `{UNKNOWN}` is no value", "say that it is unknown")
    except UnusableValueError as error:
        raise file.refusal(target, error.message, error.fix) from None
    except InputError as error:
        problem = error.problems[0]
        raise file.refusal(target, problem.message, problem.fix) from None
    return source


def as_typed(field: Field, words: str) -> str:
    """A number without a unit stands without quotes, as people write it."""
    folded = " ".join(words.split())
    if field.type not in _NOT_QUANTITIES:
        try:
            if isinstance(plain_value(folded), int | float) and not isinstance(plain_value(folded), bool):
                return folded
        except ValueError:
            pass
    return scalar(folded, field.type)


def write_way(file: ProjectText, target: Path, key: str, way: str, source: str) -> None:
    """Write a value, `unknown`, or a reason, and take out what stood for another way.

    Args:
        file: in hand.
        target: the map that holds it.
        key: of the value.
        way: as in ``WAYS``.
        source: the words of the file; a reason as it was typed.
    """
    if way == "inapplicable":
        clear(file, target, key)
        file.set((*target, NOT_APPLICABLE, key), as_written(source))
        return
    if way == "specified":
        clear(file, target, key)
        return
    _clear_reason(file, target, NOT_APPLICABLE, key)
    if way == "unknown":
        _clear_reason(file, target, MEANT, key)
    file.set((*target, key), source)


def clear(file: ProjectText, target: Path, key: str) -> None:
    """Take out whatever a map says of a value; the reason why none less will do stays."""
    for reasons in (NOT_APPLICABLE, MEANT):
        _clear_reason(file, target, reasons, key)
    if key in file.node(target):
        file.remove((*target, key))


def _clear_reason(file: ProjectText, target: Path, reasons: str, key: str) -> None:
    if file.at((*target, reasons, key)) is not None:
        file.remove((*target, reasons, key))


def _reason(file: ProjectText, words: str, target: Path) -> str:
    folded = " ".join(words.split())
    if not folded or is_placeholder(folded) or _is_quantity(folded):
        raise file.refusal(target, "a reason is wanted", "say in words why")
    return folded


def _is_quantity(words: str) -> bool:
    try:
        parse(words)
    except QuantityError:
        return False
    return True


def _states(file: ProjectText, spot: AddressSpot, key: str) -> Path | None:
    """The map that says something of a value: what lies over first."""
    paths = (path for path in (spot.over, spot.base) if path is not None)
    return next((path for path in paths if _says(file.node(path), key)), None)


def _says(node: Any, key: str) -> bool:
    apart = node.get(NOT_APPLICABLE)
    return key in node or (isinstance(apart, dict) and key in apart)


def _readers(file: ProjectText, spot: AddressSpot, path: Path) -> tuple[str, ...]:
    if spot.typed and path == spot.base:
        return file.sharing(spot.type_name)
    return (spot.parapet,) if spot.parapet else ()


def _in_words(one: ValueStanding) -> str:
    match one.way:
        case "specified":
            return "left to the sections"
        case "inapplicable":
            return f"does not apply, {one.words}"
        case _:
            return one.words


def stated_keys(node: Any) -> Iterator[str]:
    """The values that a map states, without what tells of them or orders them."""
    return (key for key in node if key not in (*REASONS, "role", "id", KIND))
