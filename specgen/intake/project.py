"""A project folder or file to a :class:`Project`; every problem of the file in one run."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from specgen.files.foreign import refused
from specgen.files.marks import InputError, Mark, refuse, suggestion
from specgen.files.names import PROJECT_FILE
from specgen.files.yaml_reader import MarkedList, MarkedMap
from specgen.intake.existing import LISTS, read_existing
from specgen.intake.formats import read_file, read_file_text
from specgen.intake.hourly import load_hourly
from specgen.intake.kindless import KINDLESS, apart, consistent
from specgen.intake.places import read_letters, read_places
from specgen.intake.project_weather import project_weather
from specgen.intake.records import RecordReader, laid_over, with_defaults
from specgen.intake.values import described
from specgen.model.project import PLACES, Component, Decision, Parapet, Project, Record, Transition
from specgen.practice.entries import Practice
from specgen.practice.shapes import shape
from specgen.units.months import months
from specgen.units.quantity import QuantityError
from specgen.wall.plausible import sifted

FILE_NAME = PROJECT_FILE
OWN = ("project", "site", "building", "quality", "trades", "contacts")
NEEDED = shape("project file").needed  # without the others a file is read
FIRST = "P-1"  # what a parapet is called that nobody has described yet
TOP_KEYS = tuple(shape("project file"))
TYPE_KEYS = tuple(shape("parapet"))
PARAPET_KEYS = (*TYPE_KEYS, *shape("parapet of a project"))
MONTHLY = (  # name, dimension, the field whose range of what can be holds for a month as well, whether it may be none
    ("temp_months", "temperature", ("site", "temp_install"), False),
    ("humidity_months", "ratio", ("building", "indoor_humidity"), False),
    ("rain_months", "length", ("site", "rain_event"), True),
)
MOST_PARAPETS = shape("project file")["parapets"].most
MOST_NAMED = 6  # parapets named in one message


def project_file(path: Path) -> Path:
    """The project file itself, given the file or its folder."""
    return path / FILE_NAME if path.is_dir() else path


def load_project(path: Path, practice: Practice, weather: Path | None = None) -> Project:
    """Read and check a project.

    Args:
        path: the project folder, or its YAML file.
        practice: holds the vocabulary the file is checked against.
        weather: a weather file in place of the one that the project names.

    Returns:
        The project, every parapet resolved with its type and its changes.

    Raises:
        InputError: carries every problem found.
    """
    file = project_file(path)
    if path.is_dir() and not file.exists():
        raise refused(file, f"the folder has no {FILE_NAME}", "start one: specgen new DIR")
    return _project_of(read_file(file, "project"), file, practice, weather)


def project_of(text: str, file: Path, practice: Practice, weather: Path | None = None) -> Project:
    """As :func:`load_project`, of what a project file holds or is about to hold.

    Args:
        text: of the file.
        file: where it is, or will be; what it names lies beside it.
        practice: holds the vocabulary the file is checked against.
        weather: a weather file in place of the one that the project names.

    Raises:
        InputError: carries every problem found.
    """
    return _project_of(read_file_text(text, file, "project"), file, practice, weather)


def _project_of(root: MarkedMap, file: Path, practice: Practice, weather: Path | None) -> Project:
    reader = ProjectReader(practice, root, str(file), weather)
    project = reader.read()
    try:
        kept = load_hourly(file.parent)
    except InputError as error:
        reader.problems += error.problems
    refuse(reader.problems)
    return replace(project, hourly=kept) if kept else project


class ProjectReader(RecordReader):
    """Reads one project file."""

    OPEN = (
        *("role", "project", "site", "building", "parapet", "transition", *PLACES.values()),
        *("existing", *LISTS.values(), "manufacturer letter"),
    )
    ANSWERS = (*OPEN, "waiver", "answer")
    KINDLESS = KINDLESS

    def __init__(self, practice: Practice, root: MarkedMap, path: str, weather: Path | None = None) -> None:
        super().__init__(practice)
        self.root = root
        self.path = path
        self.weather = weather
        self._types: dict[str, Parapet] = {}
        self._names: dict[str, Mark] = {}
        self._strange_types: dict[str, Mark] = {}  # where a type that does not exist is first named
        self._shared: dict[
            tuple[Mark, str, str], list[str]
        ] = {}  # a mistake of a type, and the parapets it is in

    def read(self) -> Project:
        """The project; problems are collected, not raised."""
        meant = self.strange_keys(self.root, TOP_KEYS)
        for key in NEEDED:
            if key not in self.root and key not in meant:
                self.problem(self.root.mark, f"`{key}` is missing", f"add `{key}:` and below it `name: …`")
        info, site, building, quality, trades, contacts = map(self._section, OWN)
        self._check_months(site)
        self._read_types()
        parapets = self._parapets()
        letters = read_letters(self, self._list(self.root, "maker_letters"), parapets)
        self._tell_shared()
        weather = project_weather(site, Path(self.path).parent, self.weather, self.problems)
        waivers, answers = self._decisions("waivers", "waiver"), self._decisions("answers", "answer")
        own = (info, site, building, parapets, self.path)
        return Project(*own, waivers, letters, weather, answers, quality, trades, contacts)

    def _section(self, name: str) -> Record:
        fields = self.vocabulary.records[name].fields
        needed = name in self.root and any(field.required for field in fields.values())
        if self.root.get(name) is None and not needed:  # not there, or nothing stands below it yet
            return with_defaults(Record(name, {}, {}, self.root.mark), fields)
        return with_defaults(self.record(self.root[name], self.root.values_at[name], name), fields)

    def _check_months(self, site: Record) -> None:
        """Twelve values a line, none of them one that cannot be of a month."""
        for name, dimension, (like, field), none in MONTHLY:
            text, possible = site.word(name), self.vocabulary.records[like].fields[field].possible
            try:
                found = months(text, dimension) if text is not None else ()
            except QuantityError as error:
                self.problem(site.at(name), f"`{name}`: {error.message}", error.fix)
                continue
            if none and found and not any(one.number for one in found):
                self.problem(
                    site.at(name), f"`{name}`: nothing in any month", "leave it out where it is not known"
                )
            found = tuple(one for one in found if not (none and one.number == 0.0))
            wrong = [one.text for one in found if possible is not None and not possible.holds(one)]
            if wrong:
                self.problem(site.at(name), f"`{name}`: `{wrong[0]}` cannot be", "correct it, or its unit")

    def _list(self, node: MarkedMap, key: str) -> list[tuple[Any, Mark]]:
        """The items of a list with their marks; a problem if it is no list."""
        if key not in node:
            return []
        items = node[key]
        if not isinstance(items, MarkedList):
            self.problem(
                node.values_at[key],
                f"`{key}`: {described(items)} stands where a list is wanted",
                f"write `{key}:` and below it lines that start with `-`",
            )
            return []
        return list(zip(items, items.items_at, strict=True))

    def _read_types(self) -> None:
        if "types" not in self.root:
            return
        types = self.root["types"]
        if not isinstance(types, MarkedMap):
            self.problem(
                self.root.values_at["types"],
                f"`types`: {described(types)} stands where named types are wanted",
                "write `types:`, below it a name with a colon, and below that its values",
            )
            return
        for name, node in types.items():
            self._types[name] = self._parapet_parts(node, types.values_at[name], name, TYPE_KEYS, False)

    def _parapet_parts(
        self, node: Any, mark: Mark, name: str, structural: tuple[str, ...], require: bool
    ) -> Parapet:
        record = self.record(node, mark, "parapet", structural, require)
        if not isinstance(node, MarkedMap):
            return Parapet("parapet", {}, {}, mark, name=name)
        build_up = self._components(node, "build_up", "build-up")
        top = self._components(node, "top", "top")
        joints = [self._transition(item, at) for item, at in self._list(node, "transitions")]
        places: dict[str, Any] = {
            key: read_places(self, self._list(node, key), what) for key, what in PLACES.items()
        }
        parapet = Parapet(
            "parapet",
            record.values,
            record.marks,
            mark,
            doubted=record.doubted,
            meant=record.meant,
            bounds=record.bounds,
            unknown=record.unknown,
            inapplicable=record.inapplicable,
            name=name,
            build_up=build_up,
            top=top,
            transitions=tuple(joint for joint in joints if joint),
            existing=read_existing(self, node, self._list) if "existing" in structural else None,
        )
        return replace(parapet, **places)

    def _components(self, node: MarkedMap, key: str, where: str) -> tuple[Component, ...]:
        parts = []
        for item, mark in self._list(node, key):
            part = self.component(item, mark)
            if part is None:
                continue
            if self.vocabulary.roles[part.role].where != where:
                other = "top" if key == "build_up" else "build_up"
                self.problem(mark, f"a {part.role} does not belong in `{key}`", f"move it to `{other}`")
            parts.append(part)
        return tuple(parts)

    def _transition(self, node: Any, mark: Mark) -> Transition | None:
        record = self.record(node, mark, "transition", tuple(shape("transition")))
        ends = node.get("between") if isinstance(node, MarkedMap) else None
        if (
            not isinstance(ends, MarkedList)
            or len(ends) != 2
            or not all(isinstance(end, str) for end in ends)
        ):
            where = node.values_at.get("between", mark) if isinstance(node, MarkedMap) else mark
            self.problem(
                where, "`between` does not name two components", "write `between: [barrier, weep screed]`"
            )
            return None
        if ends[0] == ends[1]:
            self.problem(
                node.values_at["between"],
                f"`between` names `{ends[0]}` twice",
                "name the two components that meet here",
            )
        marks = {**record.marks, "between": node.values_at["between"]}
        joint = Transition("transition", record.values, marks, mark, first=ends[0], second=ends[1])
        joint = replace(joint, doubted=record.doubted, meant=record.meant, unknown=record.unknown)
        return replace(joint, inapplicable=record.inapplicable)

    def _parapets(self) -> tuple[Parapet, ...]:
        parapets: list[Parapet] = []
        names = self._names
        if self.root.get("parapets") is None:  # not yet described, which is not the same as absent
            names[FIRST] = self.root.mark
            only = Parapet("parapet", {}, {}, self.root.mark, name=FIRST)
            return (with_defaults(only, self.vocabulary.records["parapet"].fields),)
        items = self._list(self.root, "parapets")
        if isinstance(self.root["parapets"], MarkedList) and not items:
            self.problem(
                self.root.values_at["parapets"], "`parapets` is empty", "describe at least one parapet"
            )
        if len(items) > MOST_PARAPETS:
            self.problem(
                self.root.values_at["parapets"],
                f"{len(items)} parapets, at most {MOST_PARAPETS}",
                "split the project file",
            )
            return ()
        for node, mark in items:
            if not isinstance(node, MarkedMap):
                self.problem(
                    mark,
                    f"{described(node)} stands where a parapet is wanted",
                    "write `- name: P-1` and below it its values",
                )
                continue
            parapet = self._parapet(node, mark)
            if parapet.name in names:
                first = names[parapet.name]
                self.problem(
                    mark,
                    f"parapet `{parapet.name}` is described twice",
                    f"give this one another name (first: line {first.line})",
                )
            names.setdefault(parapet.name, mark)
            parapets.append(parapet)
        return tuple(parapets)

    def _parapet(self, node: MarkedMap, mark: Mark) -> Parapet:
        name = node.get("name")
        if name is None or not str(name).strip():
            self.problem(node.values_at.get("name", mark), "a parapet needs a name", "add `name: P-1`")
        elif isinstance(name, bool) or not isinstance(name, str | int):
            self.problem(
                node.values_at["name"], f"`name` is {described(name)}, a text is wanted", "put it in quotes"
            )
        own = self._parapet_parts(node, mark, str(name), PARAPET_KEYS, False)
        base = self._base(node)
        if "type" in node and base is None:
            return own  # what the type would have given is not missing as well
        parapet = self._merged(own, base, node) if base else own
        parapet = apart(self._with_changes(parapet, node), self.problem)
        parapet = consistent(parapet, self.problem, self._share, self._unread, self._nameless)
        fields = self.vocabulary.records["parapet"].fields
        return with_defaults(parapet, fields)

    def _base(self, node: MarkedMap) -> Parapet | None:
        if "type" not in node:
            return None
        name = node["type"]
        if isinstance(name, str) and name in self._types:
            return self._types[name]
        fix = suggestion(str(name), self._types, "known types: " + (", ".join(self._types) or "none"))
        first = self._strange_types.setdefault(str(name), node.values_at["type"])
        self._share(first, f"no type `{name}` {{in}}", fix, str(node.get("name")))
        return None

    def _share(self, mark: Mark, message: str, fix: str, parapet: str) -> None:
        """Note a problem that several parapets may have in common; ``{in}`` in the message names them."""
        names = self._shared.setdefault((mark, message, fix), [])
        if parapet not in names:
            names.append(parapet)

    def _tell_shared(self) -> None:
        for (mark, message, fix), names in self._shared.items():
            named = [f"`{name}`" for name in names[:MOST_NAMED]]
            more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
            where = f"in parapet{'s' if len(names) > 1 else ''} {', '.join(named)}{more}"
            self.problem(mark, message.replace("{in}", where), fix)

    def _merged(self, own: Parapet, base: Parapet, node: MarkedMap) -> Parapet:
        kept = {name: why for name, why in base.meant.items() if name not in own.written}
        both = laid_over(base, own)
        merged = Parapet(
            "parapet",
            both.values,
            both.marks,
            own.mark,
            meant={**kept, **own.meant},
            unknown=both.unknown,
            inapplicable=both.inapplicable,
            name=own.name,
            build_up=own.build_up if "build_up" in node else base.build_up,
            top=own.top if "top" in node else base.top,
            transitions=own.transitions if "transitions" in node else base.transitions,
            existing=own.existing,
            **{key: getattr(own if key in node else base, key) for key in PLACES},
        )
        return sifted(merged, self.practice)

    def _with_changes(self, parapet: Parapet, node: MarkedMap) -> Parapet:
        if "changes" not in node:
            return parapet
        changes = node["changes"]
        if not isinstance(changes, MarkedMap):
            self.problem(
                node.values_at["changes"],
                f"`changes`: {described(changes)} stands where changes are wanted",
                "write a component's id with a colon, and below it the values that change",
            )
            return parapet
        ids = [part.id for part in parapet.components()]
        if not self._nameless:
            possible = {*ids, *self._unread}
            self.strange(changes, [key for key in changes if key not in possible], ids)

        def apply(part: Component) -> Component:
            if part.id not in changes:
                return part
            return self.changed(part, changes[part.id], changes.values_at[part.id])

        build_up = tuple(apply(part) for part in parapet.build_up)
        return replace(parapet, build_up=build_up, top=tuple(apply(part) for part in parapet.top))

    def _decisions(self, key: str, what: str) -> tuple[Decision, ...]:
        fields = self.vocabulary.records[what].fields
        found = []
        for node, mark in self._list(self.root, key):
            record = with_defaults(self.record(node, mark, what), fields)
            rule, parapet = record.word("rule") or "", record.word("parapet") or "all"
            if parapet not in ("all", *self._names):
                self.problem(record.at("parapet"), f"no parapet `{parapet}`", self._nearest_parapet(parapet))
            found.append(Decision(what, record.values, record.marks, mark, rule=rule, parapet=parapet))
        return tuple(found)

    def _nearest_parapet(self, name: str) -> str:
        return suggestion(name, self._names, f"write all, or one of: {', '.join(self._names)}")
