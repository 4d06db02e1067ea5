"""The columns of a register's sheets, and which of them people fill."""

from __future__ import annotations

from specgen.model.sheet import Column
from specgen.model.submission import Recommendation

REGISTER, HISTORY, CONFLICTS, SCHEDULE = "Register", "History", "Conflicts", "Schedule"
ID, ROUND, REMARKS, STATE, ITEM = "id", "round", "remarks", "state", "item"
DECISIONS = tuple(one.value for one in Recommendation)
ASKED = "asked for"
REVIEWED = ("recommended", "open_comments")  # made anew from the reviews
STANDING = ("waiting", "days", "late")  # made anew on each run, for the day of the run

COLUMNS = (
    Column(STATE, "State", 12),
    Column("waiting", "Waiting for", 12),
    Column("days", "Days in review", 6, "count"),
    Column("late", "Days late", 5, "count", alarm=True),
    Column("section", "Section", 8),
    Column("paragraph", "Paragraph", 8),
    Column(ITEM, "Item", 27),
    Column("type", "Type", 10),
    Column("trade", "Trade", 12),
    Column("where", "Where", 7),
    Column("before", "Before placing of", 10),
    Column("submit", "Submit by", 10, "date"),
    Column("needed", "Returned by", 10, "date"),
    Column("agreed", "Date agreed", 10, "date", filled=True),
    Column(ROUND, "Round", 6, "count", filled=True),
    Column("submittal", "Submittal no.", 11, filled=True),
    Column("received", "Received", 10, "date", filled=True),
    Column("returned", "Returned", 10, "date", filled=True),
    Column("recommended", "Recommended", 14),
    Column("open_comments", "Open comments", 8, "count"),
    Column("result", "Result", 14, filled=True, choices=DECISIONS),
    Column("by", "Reviewed by", 9, filled=True),
    Column(REMARKS, "Remarks", 24, filled=True),
    Column(ID, "Row id", 30, printed=False),
)
TITLES = {column.key: column.title for column in COLUMNS}
DATES = tuple(column.key for column in COLUMNS if column.is_ == "date")
FILLED = tuple(column.key for column in COLUMNS if column.filled)
OF_A_ROUND = ("submittal", "received", "returned", "result", "by")
OF_A_ROW = tuple(
    one.key for one in COLUMNS if one.key not in (*OF_A_ROUND, ROUND, STATE, ID, *STANDING, *REVIEWED)
)
COMPUTED = tuple(key for key in OF_A_ROW if key not in FILLED)
HISTORY_COLUMNS = tuple(one for one in COLUMNS if one.key in (ITEM, ROUND, *OF_A_ROUND, ID))
CONFLICT_COLUMNS = (
    Column(ID, "Row id", 30),
    Column("column", "Column", 16),
    Column("was", "Before", 24),
    Column("kept", "Kept", 24),
    Column("other", "Other copy", 24),
)
SCHEDULE_COLUMNS = (Column("what", "What", 44), Column("value", "Value", 40))
