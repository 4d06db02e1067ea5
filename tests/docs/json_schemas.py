"""``docs/json``: the JSON Schema of every output, made from the records that are printed and written.

``python -m tests.docs.json_schemas`` writes the folder anew. What was kept of the keys under the number of the format
(``tests/docs/json_formats``) grows with new keys; where a key went or changed, it stops until the number has risen.
"""

from __future__ import annotations

import importlib
import json
import sys
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from specgen.audit.lines import ProjectHead, ProjectRecord
from specgen.commands.common import FAULT, UNUSABLE
from specgen.commands.unusable import Trouble
from specgen.files.json_text import json_text
from specgen.files.writing import Written
from specgen.intake.json_schema_parts import DRAFT
from specgen.model.plain import FORMAT_NUMBER
from tests import plain_yaml
from tests.docs.json_types import Definitions, Schema

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "docs" / "json"
PAGE = FOLDER / "README.md"
WORDS = Path(__file__).with_name("json_keys.yaml")
KEPT = Path(__file__).with_name("json_formats")
WITHOUT = ("key", "inputs")  # of a project of an audit: these stand in its state alone


RAISE = (
    "These keys of JSON outputs are gone or have another shape. Raise FORMAT_NUMBER in specgen/model/plain.py, say in"
    " CHANGELOG.md what changed and name the number (`format: N`), and run `make docs`."
)
INTRODUCTION = """# JSON outputs

Written by `python -m tests.docs.json_schemas`.

What a command prints with `--format json`, and the JSON files that commands write, have a JSON Schema (2020-12) each.
Every document bears `format`, now {number}. The number rises when a key changes its name, its shape or its meaning, or is
gone; a key that is added does not raise it, so let a reader pass over keys that it does not know. All keys are always
there: what is not known is `null` or empty. The lists stand in the order in which the command prints them.

A command that cannot do its work prints a document with `status` and `errors` in place of its record; each schema holds
both. A quantity has `value` in the SI base of its `dimension`, `number` in `unit`, and `text`. A day is `YYYY-MM-DD`.

## Commands
"""
REST = """`audit.json`, which `specgen audit` writes, is what the command prints without `files`. SARIF 2.1.0, which
`check --format sarif` prints, has a schema of its own. What the program keeps for itself (`manifest.json`, `issue.json`,
`letter-numbers.json`, `audit-state.jsonl`, the steps of the page) has none: read the files above instead."""
COMMANDS = "specgen.commands."
PRINTED: Mapping[str, tuple[str, ...]] = {
    "check": (COMMANDS + "check.Checked", "specgen.model.question.OpenQuestions"),
    "compare": ("specgen.work.compared.Compared",),
    "calc": (COMMANDS + "calc.Calculated", COMMANDS + "calc.Subjects", COMMANDS + "calc.TrialRun"),
    "hourly": (COMMANDS + "hourly.HourlyRun",),
    "layers": (COMMANDS + "layers.Layers",),
    "sequence": (COMMANDS + "sequence.Sequences",),
    "propose": (COMMANDS + "propose.ProposalRun",),
    "write": (COMMANDS + "write.IssueRun", COMMANDS + "write.Refused"),
    "read": (COMMANDS + "read.SheetsRead",),
    "package": (COMMANDS + "package.Package",),
    "review": (COMMANDS + "review.ReviewRun",),
    "substitute": (COMMANDS + "substitute.SubstitutionRun",),
    "letters": (COMMANDS + "letters.Letters",),
    "register": (COMMANDS + "register.RegisterRun",),
    "accept": (COMMANDS + "accept.Accepted",),
    "comment": (COMMANDS + "comment.Comments",),
    "audit": (COMMANDS + "audit_print.AuditHead",),
    "upgrade": (COMMANDS + "upgrade.Upgraded", COMMANDS + "upgrade_issue.IssueDifference"),
    "rules": (COMMANDS + "rules.Catalogue", "specgen.rules.catalogue.RulePage"),
    "template": (COMMANDS + "template.TemplateRead",),
}
WRITTEN: Mapping[str, tuple[str, str, str]] = {  # file, who writes it, its record
    "trace": ("trace.json", "write", "specgen.render.outputs.Trace"),
    "submittal-checklist": ("submittal-checklist.json", "write", "specgen.sections.checklist.Checklist"),
    "addendum": ("addendum-*.json", "write", "specgen.sections.addendum.Addendum"),
    "review-data": ("review-*.json", "review", "specgen.model.submission.SubmittalReview"),
    "substitution-data": ("substitution-*.json", "substitute", "specgen.review.substitution.Substitution"),
    "hourly-moisture": ("hourly-moisture.json", "hourly", "specgen.intake.hourly.Kept"),
    "register-state": (
        "submittal-register-states/*.json",
        "register",
        "specgen.register.states.StateRecord",
    ),
}


@cache
def words() -> Mapping[str, Any]:
    """What keys mean that their source says nothing of."""
    found: Mapping[str, Any] = plain_yaml.load(WORDS.read_text("utf-8"))
    return found


@cache
def made() -> tuple[Mapping[str, Schema], Definitions]:
    """All schemas by name; and all definitions together, with the words that were taken."""
    every = Definitions(words())
    found = {}
    for name in (*PRINTED, *WRITTEN):
        own = Definitions(words())
        found[name] = _printed(name, own) if name in PRINTED else _written(name, own)
        found[name]["$defs"] = dict(sorted(own.made.items()))
        for record, schema in own.made.items():
            if shape(every.made.setdefault(record, schema)) != shape(schema):
                raise TypeError(f"{record} has two shapes")
        every.used |= own.used
        every.undescribed += own.undescribed
    return found, every


def _class(name: str) -> type:
    module, _, record = name.rpartition(".")
    found: type = getattr(importlib.import_module(module), record)
    return found


def _printed(name: str, own: Definitions) -> Schema:
    every = []
    for record in map(_class, PRINTED[name]):
        schema = own.record(record)
        if name == "audit":
            further = _behind_the_head(own)
            schema["properties"] |= further
            schema["required"].append("projects")
        every.append({"title": record.__name__, **_with_head(schema, name)})
    every.append({"title": "Failure", **_with_head(_failure(own), name)})
    return {**_head(name, f"What `specgen {name} --format json` prints"), "oneOf": every}


def _written(name: str, own: Definitions) -> Schema:
    file, command, record = WRITTEN[name]
    schema = own.record(_class(record))
    if "format" not in schema["properties"]:
        schema = _with_head(schema)
    return {**schema, **_head(name, f"The file `{file}`, which `specgen {command}` writes")}


def _head(name: str, what: str) -> Schema:
    return {
        "$schema": DRAFT,
        "$id": f"urn:specgen:json:{FORMAT_NUMBER}:{name}",
        "title": what,
        "description": f"{what}.",
    }


def _with_head(schema: Schema, name: str = "") -> Schema:
    head = {"format": {"description": words()["common"]["format"], "const": FORMAT_NUMBER}}
    if name:
        head["command"] = {"description": "The command.", "const": name}
    return {
        **schema,
        "properties": {**head, **schema["properties"]},
        "required": [*head, *schema["required"]],
    }


def _failure(own: Definitions) -> Schema:
    errors = {"type": "array", "items": own.of(Trouble), "minItems": 1}
    properties = {
        "status": {"description": "The exit status.", "enum": [UNUSABLE, FAULT]},
        "errors": {"description": "The reasons, in the order of the files.", **errors},
    }
    return {
        "description": "Why the command did not do its work.",
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _behind_the_head(own: Definitions) -> dict[str, Schema]:
    """The projects of an audit, and what the run did in its folder."""
    head, record = own.record(ProjectHead), own.record(ProjectRecord)
    always = {key: one for key, one in head["properties"].items() if key not in WITHOUT}
    own.made["ProjectLine"] = {
        **head,
        "properties": {**always, **record["properties"]},
        "required": list(always),
        "dependentRequired": {"designed": record["required"]},
    }
    items = {"type": "array", "items": {"$ref": "#/$defs/ProjectLine"}}
    printed = "What the run did in its folder; printed, and not in the file `audit.json`."
    return {
        "projects": {"description": "The projects, in the order of their paths.", **items},
        "files": {"description": printed, **own.of(Written)},
    }


def shape(schema: Any) -> Any:
    """A schema without its words and its number.

    >>> shape({"properties": {"format": {"const": 2, "description": "The number."}}})
    {'properties': {'format': {}}}
    """
    if isinstance(schema, dict):
        return {
            key: shape(one)
            for key, one in schema.items()
            if key != "const" and (key not in ("description", "title") or isinstance(one, dict))
        }
    return [shape(one) for one in schema] if isinstance(schema, list) else schema


def lines() -> tuple[str, ...]:
    """Every key of every record with its shape: what the number of the format stands for."""
    schemas, every = made()
    records = dict(every.made)
    for name, schema in schemas.items():
        for one in schema.get("oneOf", [{**schema, "title": "file"}]):
            records[f"{name} {one['title']}"] = one
    found = []
    for record, schema in records.items():
        for key, one in schema.get("properties", {}).items():
            wanted = "" if key in schema["required"] else " optional"
            found.append(
                f"{record}.{key}{wanted} {json.dumps(shape(one), sort_keys=True, ensure_ascii=False)}"
            )
    return tuple(sorted(found))


def kept_at(number: int) -> Path:
    """The file of the keys that stand under a number of the format."""
    return KEPT / f"{number}.txt"


def gone(number: int) -> list[str]:
    """Keys of a number of the format that are gone or have another shape now."""
    path = kept_at(number)
    return sorted(set(path.read_text("utf-8").splitlines()) - set(lines())) if path.exists() else []


def page() -> str:
    """The page that tells which schema is whose."""
    out = [INTRODUCTION.format(number=FORMAT_NUMBER), "| command | schema | records |", "|---|---|---|"]
    for name, records in PRINTED.items():
        titles = ", ".join(f"`{one.rpartition('.')[2]}`" for one in records)
        out.append(f"| `specgen {name} --format json` | [{name}.json]({name}.json) | {titles} |")
    out += ["", "## Files", "", "| file | written by | schema |", "|---|---|---|"]
    for name, (file, command, _) in WRITTEN.items():
        out.append(f"| `{file}` | `specgen {command}` | [{name}.json]({name}.json) |")
    return "\n".join([*out, "", REST]) + "\n"


def files() -> dict[Path, str]:
    """Every file of the folder with its text."""
    found = {PAGE: page()}
    for name, schema in made()[0].items():
        found[FOLDER / f"{name}.json"] = json_text(schema) + "\n"
    return found


def main() -> None:
    """Write the folder, and keep the keys of the number."""
    lost = gone(FORMAT_NUMBER)
    if lost:
        sys.exit("\n".join([*lost, RAISE]))
    FOLDER.mkdir(exist_ok=True)
    for path, text in files().items():
        path.write_text(text, "utf-8", newline="\n")
    KEPT.mkdir(exist_ok=True)
    kept_at(FORMAT_NUMBER).write_text("\n".join(lines()) + "\n", "utf-8", newline="\n")


if __name__ == "__main__":
    main()
