"""The tables of a project: each column declared once, for the CSV files, the database and their page."""

from __future__ import annotations

from collections.abc import Mapping

from specgen.model.tables import ColumnKind, DataTable, TableColumn

FORMAT = 1  # of the tables; rises when a column changes its name or meaning, or is gone


def _text(name: str, meaning: str, of: str = "", empty: bool = False) -> TableColumn:
    return TableColumn(name, "text", meaning, of=of, empty=empty)


def _one(name: str, kind: ColumnKind, meaning: str, unit: str = "", empty: bool = False) -> TableColumn:
    return TableColumn(name, kind, meaning, unit, empty=empty)


def _quantity(prefix: str, what: str) -> tuple[TableColumn, ...]:
    """A quantity as a number beside its unit, and in SI; empty where the value is no quantity."""
    return (
        _one(f"{prefix}_number", "number", f"{what}, in `{prefix}_unit`", empty=True),
        _text(f"{prefix}_unit", f"Unit of `{prefix}_number` as it is written", empty=True),
        _one(f"{prefix}_si", "number", f"{what}, in the SI base of `{prefix}_dimension`", "SI", empty=True),
        _text(f"{prefix}_dimension", "What the quantity measures, as length or pressure", empty=True),
    )


_SOURCE = (
    _text("source_document", "Document that is cited"),
    _text("source_edition", "Edition of the document"),
    _text("source_place", "Place in the document"),
    _text(
        "source_status",
        "How it is known: C adopted model code, S published standard, P common practice, M from memory, or a word",
    ),
    _text("source_status_words", "The status in words"),
    _text("source_office", "Office that entered it; empty where it ships"),
)
_PARAPET = _text("parapet", "Parapet", "parapets.parapet")
_SECTION = (
    _text("section", "Section, as 07 71 00"),
    _text("paragraph", "Number of the paragraph; empty where no section states it"),
)
_PLACE = (
    _text("file", "File, by its name alone"),
    _one("line", "integer", "Line in the file, from 1"),
)

PROJECT = DataTable(
    "project",
    "The project, in one row",
    ("number",),
    (
        _text("number", "Number of the project"),
        _text("name", "Name of the project"),
        _text("title", "Title as papers print it"),
        _text("state", "State of the issue"),
        _one("issued", "date", "Day of the issue", empty=True),
        _text("climate_zone", "Climate zone of the site"),
        _text("building_use", "Use of the building"),
        _text("units", "Language of units of the printed texts"),
    ),
)
PARAPETS = DataTable(
    "parapets",
    "The parapets, in the order of the file",
    ("parapet",),
    (_text("parapet", "Name of the parapet"), _one("position", "integer", "Place in the file, from 1")),
)
COMPONENTS = DataTable(
    "components",
    "What each parapet is made of",
    ("parapet", "component"),
    (
        _PARAPET,
        _text("component", "Id of the component"),
        _one("position", "integer", "Place in the parapet, from 1"),
        _text("role", "What it does in the wall, as barrier"),
        _text("role_title", "The role in words"),
        _text("kind", "Generic kind; empty where nobody has stated it"),
        _text("trade", "Trade that does the work"),
        *_PLACE,
    ),
)
REQUIREMENTS = DataTable(
    "requirements",
    "Every requirement: one attribute of one role with its limit, reason, and source",
    ("requirement",),
    (
        _text("requirement", "Id of the requirement"),
        _text("name", "Entry of the catalogue; several requirements share it where parapets differ"),
        _text("role", "Role that it is asked of"),
        _text("attribute", "Key of the value that is held against it"),
        _text("title", "The attribute in words"),
        _text("comparison", "How a value is held against the limit, as at least"),
        _text("limit_text", "The limit as the sections print it"),
        *_quantity("limit", "The limit"),
        _text("method", "Test method; empty where none applies"),
        _text("condition", "Condition of the test; empty where none applies"),
        _text("reason", "Why it is asked for"),
        _text("stage", "Held against the product or the installation"),
        _text("evidence", "Document that proves it"),
        *_SECTION,
        _text("origin", "What set the limit: choice, practice, or calculation"),
        _text("origin_key", "Place in the project file, practice key, or result of a calculation"),
        *_SOURCE,
        _text("because", "Calculation that asks for it, where its limit is a practice value"),
        _one("everywhere", "flag", "It holds at every parapet that has the role"),
        _one("identity", "flag", "A product that fails it is another kind of product"),
    ),
)
REQUIREMENT_PLACES = DataTable(
    "requirement_places",
    "Where each requirement holds",
    ("requirement", "parapet", "layer"),
    (
        _text("requirement", "The requirement", "requirements.requirement"),
        _PARAPET,
        _text("layer", "Id of the layer, where it spares others of its role; empty where it holds for all"),
    ),
)
WEIGHED = DataTable(
    "weighed",
    "Limits and results that were weighed for a requirement, where a calculation stands beside a rule",
    ("requirement", "parapet", "position"),
    (
        _text("requirement", "The requirement", "requirements.requirement"),
        _PARAPET,
        _one("position", "integer", "Place in the weighing, from 1"),
        _text("what", "Rule of thumb, standard, code, calculation, or stated value"),
        _text("origin_key", "Practice key, place in the file, or result of a calculation"),
        _text("statement", "What it asks for, as at most 12 in"),
        _text("governs", "Which of them governs, as a sentence without its full stop"),
        *_SOURCE,
    ),
)
CHECKLIST = DataTable(
    "checklist",
    "The submittal checklist: one row a requirement or document",
    ("row_id",),
    (
        _text("row_id", "Row id, the same from issue to issue"),
        _one("position", "integer", "Number of the row, from 1"),
        *_SECTION,
        _text("item", "What is submitted or shown"),
        _text("type", "Action, informational, or closeout"),
        _text("required", "What is required, in words"),
        _text("method", "Test method; empty where none applies"),
        _text("evidence", "Evidence wanted"),
        _text("trade", "Trade that submits it"),
        _text("where_text", "Parapets where it holds, or all"),
        _text(
            "requirement", "The requirement; empty where it is a document", "requirements.requirement", True
        ),
    ),
)
REGISTER = DataTable(
    "register",
    "The submittal register: what is due, by when, and what became of it",
    ("row_id",),
    (
        _text("row_id", "Row id, the same from issue to issue"),
        _one("position", "integer", "Place in the register, from 1"),
        _text("state", "State of the submittal"),
        _text("waiting_for", "Who is waited for; empty where nobody is"),
        _one("days_in_review", "integer", "Working days since it was received", "working days", True),
        _one("days_late", "integer", "Working days late", "working days", True),
        *_SECTION,
        _text("item", "What is submitted"),
        _text("type", "Action, informational, or closeout"),
        _text("trade", "Trade that submits it"),
        _text("where_text", "Parapets where it holds, or all"),
        _text("before_placing", "Part whose placing waits for it"),
        _one("submit_by", "date", "Day by which it must be submitted", empty=True),
        _one("returned_by", "date", "Day by which it must be returned", empty=True),
        _one("agreed", "date", "Day that was agreed", empty=True),
        _text("round", "Round of the submittal"),
        _text("submittal", "Number of the submittal"),
        _one("received", "date", "Day on which it was received", empty=True),
        _one("returned", "date", "Day on which it was returned", empty=True),
        _text("recommended", "Result that the review recommends"),
        _one("open_comments", "integer", "Comments of the review that are open", empty=True),
        _text("result", "Result that a person entered"),
        _text("reviewed_by", "Who reviewed it"),
        _text("remarks", "Remarks"),
    ),
)
REGISTER_ROUNDS = DataTable(
    "register_rounds",
    "Closed rounds of the register",
    ("position",),
    (
        _one("position", "integer", "Place in the history, from 1"),
        _text("row_id", "Row id in the register"),
        _text("item", "What was submitted"),
        _text("round", "Round of the submittal"),
        _text("submittal", "Number of the submittal"),
        _one("received", "date", "Day on which it was received", empty=True),
        _one("returned", "date", "Day on which it was returned", empty=True),
        _text("result", "Result that a person entered"),
        _text("reviewed_by", "Who reviewed it"),
    ),
)
FINDINGS = DataTable(
    "findings",
    "What each rule found at each place, also where it is met",
    ("finding",),
    (
        _one("finding", "integer", "Place in the assessment, from 1"),
        _text("code", "Code of the rule"),
        _text("name", "Name of the rule"),
        _text("severity", "How bad it is where it fails: defect, risk, query"),
        _text(
            "outcome", "What was found: pass, specified, fail, unknown, not applicable, not covered, waived"
        ),
        _one("shown", "flag", "A reader sees it: someone must act on it, or has answered it"),
        _text("parapet", "Parapet; empty where it is about the whole project", "parapets.parapet", True),
        _text("layer", "Id of the component; empty where it is about the whole parapet"),
        _text("message", "What was found, as a sentence"),
        _text("title", "What is right at the place"),
        _text("reason", "Why the rule asks for it"),
        _text("remedy", "What to do about it"),
        _text("attribute", "Key of the value that is held against the limit"),
        _text("missing", "Key of the value that nobody has stated"),
        _text("requirement", "Requirement that the place is held against", "requirements.requirement", True),
        _text("waiver", "Who waived it and why"),
        _text("answer", "Answer of a named person"),
        *_PLACE,
    ),
)
FINDING_SOURCES = DataTable(
    "finding_sources",
    "The sources on which a finding rests",
    ("finding", "position"),
    (
        TableColumn("finding", "integer", "The finding", of="findings.finding"),
        _one("position", "integer", "Place in its list, from 1"),
        *_SOURCE,
    ),
)
CALCULATIONS = DataTable(
    "calculations",
    "One subject at one parapet",
    ("parapet", "subject"),
    (
        _PARAPET,
        _text("subject", "Subject, as coping wind"),
        _text("title", "The subject in words"),
        _one("done", "flag", "There is a result"),
        _text("validity", "Where the formulas hold"),
    ),
)
_OF_CALCULATION = (
    _PARAPET,
    _text("subject", "Subject of the calculation"),
    _one("position", "integer", "Place on the sheet, from 1"),
)
CALCULATION_LINES = DataTable(
    "calculation_lines",
    "Inputs, steps, and results of the calculations",
    ("parapet", "subject", "position"),
    (
        *_OF_CALCULATION,
        _text("part", "Input, step, or result"),
        _text("name", "Name of the result; empty for an input or a step"),
        _text("symbol", "Symbol in the formula"),
        _text("title", "The value in words"),
        _text("value_text", "The value as the sheet prints it"),
        *_quantity("value", "The value"),
        _text("formula", "Formula, with the number of its equation in the source"),
        _text("source", "Source with its status, or the place in the project file"),
    ),
    refers=((("parapet", "subject"), "calculations"),),
)
CALCULATION_NOTES = DataTable(
    "calculation_notes",
    "What a calculation lacks and leaves out, and its sources",
    ("parapet", "subject", "position"),
    (*_OF_CALCULATION, _text("sort", "Missing, leaves out, or source"), _text("words", "The words")),
    refers=((("parapet", "subject"), "calculations"),),
)
SUBMITTALS = DataTable(
    "submittals",
    "The submittals that lie beside the project",
    ("file",),
    (
        _text("file", "Submittal file, by its name alone"),
        _text("submittal", "Number of the submittal"),
        _text("round", "Round of the submittal"),
        _one("received", "date", "Day on which it was received", empty=True),
        _one("returned", "date", "Day on which it was returned", empty=True),
    ),
)
PRODUCTS = DataTable(
    "products",
    "The submitted products, with the recommendation that follows; a person decides",
    ("file", "product"),
    (
        _text("file", "Submittal file", "submittals.file"),
        _one("product", "integer", "Place in the file, from 1"),
        _text("role", "Role that it is for"),
        _text("name", "Name of the product"),
        _text("maker", "Who makes it; empty where the submittal does not say"),
        _text("kind", "Generic kind"),
        _text("where_text", "Parapets it is to go to, or all"),
        _text("recommendation", "Result that is recommended"),
        _text("why", "Why, with the codes of rules"),
    ),
)
VERDICTS = DataTable(
    "verdicts",
    "Each requirement of its role against each submitted product",
    ("file", "product", "position"),
    (
        _text("file", "Submittal file", "submittals.file"),
        _one("product", "integer", "Product, by its place in the file"),
        _one("position", "integer", "Place in the review, from 1"),
        _text("requirement", "The requirement", "requirements.requirement"),
        _text("limit_text", "The limit as the sections print it"),
        _text("result", "Result of the comparison, as meets"),
        _text("submitted", "The value as the submitter wrote it"),
        _text("reason", "Why"),
        _text("cure", "What would cure it"),
        _text("margin", "How far the value lies from the limit"),
        _text("evidence", "Document, page, and words"),
        *_SECTION,
    ),
    refers=((("file", "product"), "products"),),
)
ACCEPTED = DataTable(
    "accepted",
    "Papers that were accepted on the project",
    ("position",),
    (
        _one("position", "integer", "Place in the record, from 1"),
        _text("paper", "Submittal or substitution"),
        _text("file", "File of the paper, from the project folder"),
        _one("accepted", "date", "Day of the acceptance"),
        _text("accepted_by", "Who accepted it"),
        _text("result", "Result under which it was accepted"),
        _text("note", "Note of the person"),
    ),
)
TABLES = (
    *(PROJECT, PARAPETS, COMPONENTS, REQUIREMENTS, REQUIREMENT_PLACES, WEIGHED, CHECKLIST),
    *(REGISTER, REGISTER_ROUNDS, FINDINGS, FINDING_SOURCES),
    *(CALCULATIONS, CALCULATION_LINES, CALCULATION_NOTES),
    *(SUBMITTALS, PRODUCTS, VERDICTS, ACCEPTED),
)
BY_NAME: Mapping[str, DataTable] = {one.name: one for one in TABLES}
