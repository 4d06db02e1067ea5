"""The tables of a project: each column declared once, for the CSV files, the database and their page."""

from __future__ import annotations

from collections.abc import Mapping

from specgen.model.tables import DataTable, TableColumn, column, counted, text

FORMAT = 1  # of the tables; rises when a column changes its name or meaning, or is gone


def _quantity(prefix: str, what: str) -> tuple[TableColumn, ...]:
    """A quantity as a number beside its unit, and in SI; empty where the value is no quantity."""
    return (
        column(f"{prefix}_number", "number", f"{what}, in `{prefix}_unit`", empty=True),
        text(f"{prefix}_unit", f"Unit of `{prefix}_number` as it is written", empty=True),
        column(f"{prefix}_si", "number", f"{what}, in the SI base of `{prefix}_dimension`", "SI", empty=True),
        text(f"{prefix}_dimension", "What the quantity measures, as length or pressure", empty=True),
    )


_SOURCE = (
    text("source_document", "Document that is cited"),
    text("source_edition", "Edition of the document"),
    text("source_place", "Place in the document"),
    text(
        "source_status",
        "How it is known: C adopted model code, S published standard, P common practice, M from memory, or a word",
    ),
    text("source_status_words", "The status in words"),
    text("source_office", "Office that entered it; empty where it ships"),
)
_PARAPET = text("parapet", "Parapet", "parapets.parapet")
_SECTION = (
    text("section", "Section, as 07 71 00"),
    text("paragraph", "Number of the paragraph; empty where no section states it"),
)
_PLACE = (
    text("file", "File, by its name alone"),
    column("line", "integer", "Line in the file, from 1"),
)

PROJECT = DataTable(
    "project",
    "The project, in one row",
    ("number",),
    (
        text("number", "Number of the project"),
        text("name", "Name of the project"),
        text("title", "Title as papers print it"),
        text("state", "State of the issue"),
        column("issued", "date", "Day of the issue", empty=True),
        text("climate_zone", "Climate zone of the site"),
        text("building_use", "Use of the building"),
        text("units", "Language of units of the printed texts"),
    ),
)
PARAPETS = DataTable(
    "parapets",
    "The parapets, in the order of the file",
    ("parapet",),
    (text("parapet", "Name of the parapet"), counted("the file")),
)
COMPONENTS = DataTable(
    "components",
    "What each parapet is made of",
    ("parapet", "component"),
    (
        _PARAPET,
        text("component", "Id of the component"),
        counted("the parapet"),
        text("role", "What it does in the wall, as barrier"),
        text("role_title", "The role in words"),
        text("kind", "Generic kind; empty where nobody has stated it"),
        text("trade", "Trade that does the work"),
        *_PLACE,
    ),
)
REQUIREMENTS = DataTable(
    "requirements",
    "Every requirement: one attribute of one role with its limit, reason, and source",
    ("requirement",),
    (
        text("requirement", "Id of the requirement"),
        text("name", "Entry of the catalogue; several requirements share it where parapets differ"),
        text("role", "Role that it is asked of"),
        text("attribute", "Key of the value that is held against it"),
        text("title", "The attribute in words"),
        text("comparison", "How a value is held against the limit, as at least"),
        text("limit_text", "The limit as the sections print it"),
        *_quantity("limit", "The limit"),
        text("method", "Test method; empty where none applies"),
        text("condition", "Condition of the test; empty where none applies"),
        text("reason", "Why it is asked for"),
        text("stage", "Held against the product or the installation"),
        text("evidence", "Document that proves it"),
        *_SECTION,
        text("origin", "What set the limit: choice, practice, or calculation"),
        text("origin_key", "Place in the project file, practice key, or result of a calculation"),
        *_SOURCE,
        text("because", "Calculation that asks for it, where its limit is a practice value"),
        column("everywhere", "flag", "It holds at every parapet that has the role"),
        column("identity", "flag", "A product that fails it is another kind of product"),
    ),
)
REQUIREMENT_PLACES = DataTable(
    "requirement_places",
    "Where each requirement holds",
    ("requirement", "parapet", "layer"),
    (
        text("requirement", "The requirement", "requirements.requirement"),
        _PARAPET,
        text("layer", "Id of the layer, where it spares others of its role; empty where it holds for all"),
    ),
)
WEIGHED = DataTable(
    "weighed",
    "Limits and results that were weighed for a requirement, where a calculation stands beside a rule",
    ("requirement", "parapet", "position"),
    (
        text("requirement", "The requirement", "requirements.requirement"),
        _PARAPET,
        counted("the weighing"),
        text("what", "Rule of thumb, standard, code, calculation, or stated value"),
        text("origin_key", "Practice key, place in the file, or result of a calculation"),
        text("statement", "What it asks for, as at most 12 in"),
        text("governs", "Which of them governs, as a sentence without its full stop"),
        *_SOURCE,
    ),
)
CHECKLIST = DataTable(
    "checklist",
    "The submittal checklist: one row a requirement or document",
    ("row_id",),
    (
        text("row_id", "Row id, the same from issue to issue"),
        column("position", "integer", "Number of the row, from 1"),
        *_SECTION,
        text("item", "What is submitted or shown"),
        text("type", "Action, informational, or closeout"),
        text("required", "What is required, in words"),
        text("method", "Test method; empty where none applies"),
        text("evidence", "Evidence wanted"),
        text("trade", "Trade that submits it"),
        text("where_text", "Parapets where it holds, or all"),
        text(
            "requirement", "The requirement; empty where it is a document", "requirements.requirement", True
        ),
    ),
)
REGISTER = DataTable(
    "register",
    "The submittal register: what is due, by when, and what became of it",
    ("row_id",),
    (
        text("row_id", "Row id, the same from issue to issue"),
        counted("the register"),
        text("state", "State of the submittal"),
        text("waiting_for", "Who is waited for; empty where nobody is"),
        column("days_in_review", "integer", "Working days since it was received", "working days", empty=True),
        column("days_late", "integer", "Working days late", "working days", empty=True),
        *_SECTION,
        text("item", "What is submitted"),
        text("type", "Action, informational, or closeout"),
        text("trade", "Trade that submits it"),
        text("where_text", "Parapets where it holds, or all"),
        text("before_placing", "Part whose placing waits for it"),
        column("submit_by", "date", "Day by which it must be submitted", empty=True),
        column("returned_by", "date", "Day by which it must be returned", empty=True),
        column("agreed", "date", "Day that was agreed", empty=True),
        text("round", "Round of the submittal"),
        text("submittal", "Number of the submittal"),
        column("received", "date", "Day on which it was received", empty=True),
        column("returned", "date", "Day on which it was returned", empty=True),
        text("recommended", "Result that the review recommends"),
        column("open_comments", "integer", "Comments of the review that are open", empty=True),
        text("result", "Result that a person entered"),
        text("reviewed_by", "Who reviewed it"),
        text("remarks", "Remarks"),
    ),
)
REGISTER_ROUNDS = DataTable(
    "register_rounds",
    "Closed rounds of the register",
    ("position",),
    (
        counted("the history"),
        text("row_id", "Row id in the register"),
        text("item", "What was submitted"),
        text("round", "Round of the submittal"),
        text("submittal", "Number of the submittal"),
        column("received", "date", "Day on which it was received", empty=True),
        column("returned", "date", "Day on which it was returned", empty=True),
        text("result", "Result that a person entered"),
        text("reviewed_by", "Who reviewed it"),
    ),
)
FINDINGS = DataTable(
    "findings",
    "What each rule found at each place, also where it is met",
    ("finding",),
    (
        counted("the assessment", "finding"),
        text("code", "Code of the rule"),
        text("name", "Name of the rule"),
        text("severity", "How bad it is where it fails: defect, risk, query"),
        text(
            "outcome", "What was found: pass, specified, fail, unknown, not applicable, not covered, waived"
        ),
        column("shown", "flag", "A reader sees it: someone must act on it, or has answered it"),
        text("parapet", "Parapet; empty where it is about the whole project", "parapets.parapet", True),
        text("layer", "Id of the component; empty where it is about the whole parapet"),
        text("message", "What was found, as a sentence"),
        text("title", "What is right at the place"),
        text("reason", "Why the rule asks for it"),
        text("remedy", "What to do about it"),
        text("attribute", "Key of the value that is held against the limit"),
        text("missing", "Key of the value that nobody has stated"),
        text("requirement", "Requirement that the place is held against", "requirements.requirement", True),
        text("waiver", "Who waived it and why"),
        text("answer", "Answer of a named person"),
        *_PLACE,
    ),
)
FINDING_SOURCES = DataTable(
    "finding_sources",
    "The sources on which a finding rests",
    ("finding", "position"),
    (
        column("finding", "integer", "The finding", of="findings.finding"),
        counted("its list"),
        *_SOURCE,
    ),
)
CALCULATIONS = DataTable(
    "calculations",
    "One subject at one parapet",
    ("parapet", "subject"),
    (
        _PARAPET,
        text("subject", "Subject, as coping wind"),
        text("title", "The subject in words"),
        column("done", "flag", "There is a result"),
        text("validity", "Where the formulas hold"),
    ),
)
_OF_CALCULATION = (
    _PARAPET,
    text("subject", "Subject of the calculation"),
    column("position", "integer", "Place on the sheet, from 1"),
)
CALCULATION_LINES = DataTable(
    "calculation_lines",
    "Inputs, steps, and results of the calculations",
    ("parapet", "subject", "position"),
    (
        *_OF_CALCULATION,
        text("part", "Input, step, or result"),
        text("name", "Name of the result; empty for an input or a step"),
        text("symbol", "Symbol in the formula"),
        text("title", "The value in words"),
        text("value_text", "The value as the sheet prints it"),
        *_quantity("value", "The value"),
        text("formula", "Formula, with the number of its equation in the source"),
        text("source", "Source with its status, or the place in the project file"),
    ),
    refers=((("parapet", "subject"), "calculations"),),
)
CALCULATION_NOTES = DataTable(
    "calculation_notes",
    "What a calculation lacks and leaves out, and its sources",
    ("parapet", "subject", "position"),
    (*_OF_CALCULATION, text("sort", "Missing, leaves out, or source"), text("words", "The words")),
    refers=((("parapet", "subject"), "calculations"),),
)
SUBMITTALS = DataTable(
    "submittals",
    "The submittals that lie beside the project",
    ("file",),
    (
        text("file", "Submittal file, by its name alone"),
        text("submittal", "Number of the submittal"),
        text("round", "Round of the submittal"),
        column("received", "date", "Day on which it was received", empty=True),
        column("returned", "date", "Day on which it was returned", empty=True),
    ),
)
PRODUCTS = DataTable(
    "products",
    "The submitted products, with the recommendation that follows; a person decides",
    ("file", "product"),
    (
        text("file", "Submittal file", "submittals.file"),
        counted("the file", "product"),
        text("role", "Role that it is for"),
        text("name", "Name of the product"),
        text("maker", "Who makes it; empty where the submittal does not say"),
        text("kind", "Generic kind"),
        text("where_text", "Parapets it is to go to, or all"),
        text("recommendation", "Result that is recommended"),
        text("why", "Why, with the codes of rules"),
    ),
)
VERDICTS = DataTable(
    "verdicts",
    "Each requirement of its role against each submitted product",
    ("file", "product", "position"),
    (
        text("file", "Submittal file", "submittals.file"),
        column("product", "integer", "Product, by its place in the file"),
        counted("the review"),
        text("requirement", "The requirement", "requirements.requirement"),
        text("limit_text", "The limit as the sections print it"),
        text("result", "Result of the comparison, as meets"),
        text("submitted", "The value as the submitter wrote it"),
        text("reason", "Why"),
        text("cure", "What would cure it"),
        text("margin", "How far the value lies from the limit"),
        text("evidence", "Document, page, and words"),
        *_SECTION,
    ),
    refers=((("file", "product"), "products"),),
)
ACCEPTED = DataTable(
    "accepted",
    "Papers that were accepted on the project",
    ("position",),
    (
        counted("the record"),
        text("paper", "Submittal or substitution"),
        text("file", "File of the paper, from the project folder"),
        column("accepted", "date", "Day of the acceptance"),
        text("accepted_by", "Who accepted it"),
        text("result", "Result under which it was accepted"),
        text("note", "Note of the person"),
    ),
)
TABLES = (
    *(PROJECT, PARAPETS, COMPONENTS, REQUIREMENTS, REQUIREMENT_PLACES, WEIGHED, CHECKLIST),
    *(REGISTER, REGISTER_ROUNDS, FINDINGS, FINDING_SOURCES),
    *(CALCULATIONS, CALCULATION_LINES, CALCULATION_NOTES),
    *(SUBMITTALS, PRODUCTS, VERDICTS, ACCEPTED),
)
BY_NAME: Mapping[str, DataTable] = {one.name: one for one in TABLES}
