"""One change to a project file, addressed by a path of names: ``types/street parapet/build_up/barrier/family``.

A step into a list names the item: a component by its id or else its role, a lap by its two ends
(``top flashing + barrier``), any other record by its name or else its place in the list. ``+`` adds an item at the
end, and makes the list where there is none.
"""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import yaml

REMOVE = "remove"
STATE_NONE = "state none"  # of a component: it is taken out, and the file says that there is none
LISTS_OF_PARTS = ("build_up", "top")

Node = dict[str, Any] | list[Any]


def name_of(item: Any, number: int) -> str:
    """What a path calls an item of a list.

    >>> name_of({"between": ["top flashing", "barrier"]}, 0), name_of({"role": "barrier", "id": "wrb"}, 1)
    ('top flashing + barrier', 'wrb')
    """
    if isinstance(item, dict):
        if "between" in item:
            return " + ".join(map(str, item["between"]))
        for key in ("id", "role", "name"):
            if key in item:
                return str(item[key])
    return str(number)


def paths_at(text: str) -> dict[tuple[int, int], str]:
    """The path of names to whatever stands at a line and column of a file, both counted from 1.

    >>> paths_at("top: [{role: coping, outer_drip: 1 in}]")[1, 34]
    'top/coping/outer_drip'
    """
    loader = yaml.CSafeLoader(text)
    root = loader.get_single_node()
    found: dict[tuple[int, int], str] = {}

    def walk(node: yaml.Node, path: str) -> None:
        found.setdefault((node.start_mark.line + 1, node.start_mark.column + 1), path)
        below = f"{path}/" if path else ""
        if isinstance(node, yaml.MappingNode):
            for key, value in node.value:
                found.setdefault((key.start_mark.line + 1, key.start_mark.column + 1), f"{below}{key.value}")
                walk(value, f"{below}{key.value}")
        elif isinstance(node, yaml.SequenceNode):
            for number, one in enumerate(node.value):
                walk(one, f"{below}{name_of(loader.construct_document(one), number)}")

    walk(root, "")
    return found


def child(node: Node, step: str) -> Any:
    """The value below a node.

    Raises:
        KeyError: nothing of this name is there.
    """
    if isinstance(node, dict):
        return node[step]
    return node[_number(node, step)]


def _number(items: list[Any], step: str) -> int:
    for number, item in enumerate(items):
        if name_of(item, number) == step:
            return number
    raise KeyError(step)


def changed(document: Node, path: str, value: Any, before: str = "") -> Node:
    """A copy of a document with one change.

    Args:
        document: the project file as it was read.
        path: where the change is made.
        value: the new value; ``"remove"`` takes the key or the item out, ``"state none"`` a component, with a line
            that there is none of its role. What names a component that is taken
            out goes with it: its laps, its tape at a lap, the changes of a parapet.
        before: moves the item in front of the named one of the same list; the value does not count.

    Raises:
        KeyError: the path leads nowhere.
    """
    document = deepcopy(document)
    *way, last = path.split("/")
    node: Any = document
    for number, step in enumerate(way):
        if isinstance(node, dict) and step not in node and number == len(way) - 1:
            node[step] = [] if last == "+" else {}
        above, node = node, child(node, step)
    if before:
        item = node.pop(_number(node, last))
        node.insert(_number(node, before), item)
    elif value in (REMOVE, STATE_NONE):
        item = child(node, last)
        _remove(document, above if way else document, node, last)
        if value == STATE_NONE:
            node.append({"role": item["role"], "kind": "none"})
    elif last == "+":
        node.append(deepcopy(value))
    elif isinstance(node, list):
        node[_number(node, last)] = deepcopy(value)
    else:
        node[last] = deepcopy(value)
    return document


def _remove(document: Any, above: Any, node: Any, last: str) -> None:
    if isinstance(node, dict):
        del node[last]
        return
    item = node.pop(_number(node, last))
    if isinstance(above, dict) and any(above.get(key) is node for key in LISTS_OF_PARTS):
        _forget(document, name_of(item, 0), above)


def _forget(document: Any, part: str, owner: dict[str, Any]) -> None:
    """Take out what names a component that is gone."""
    using = [one for one in document["parapets"] if document.get("types", {}).get(one.get("type")) is owner]
    for parapet in [owner, *using]:
        laps = parapet.get("transitions", [])
        laps[:] = [lap for lap in laps if part not in lap["between"]]
        for lap in laps:
            if lap.get("tape") == part:
                del lap["tape"]
        if "penetrations" in parapet:
            parapet["penetrations"] = [one for one in parapet["penetrations"] if one["through"] != part]
        parapet.get("changes", {}).pop(part, None)
