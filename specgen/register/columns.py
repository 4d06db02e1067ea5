"""The columns of a register's sheets, and which of them people fill."""

from __future__ import annotations

from specgen.model.sheet import Column
from specgen.model.submission import Recommendation

REGISTER, HISTORY, CONFLICTS, SCHEDULE = "Register", "History", "Conflicts", "Schedule"
ID, ROUND, REMARKS, STATE, ITEM = "id", "round", "remarks", "state", "item"
FIRST_ROUND = "R0"
DECISIONS = tuple(one.value for one in Recommendation)

COLUMNS = (
    Column(STATE, "State", 12),
    Column("section", "Section", 9),
    Column("paragraph", "Paragraph", 10),
    Column(ITEM, "Item", 34),
    Column("type", "Type", 12),
    Column("trade", "Trade", 17),
    Column("where", "Where", 10),
    Column("before", "Before placing of", 16),
    Column("submit", "Submit by", 11, "date"),
    Column("needed", "Returned by", 11, "date"),
    Column("agreed", "Date agreed", 11, "date", filled=True),
    Column(ROUND, "Round", 7, filled=True),
    Column("submittal", "Submittal no.", 13, filled=True),
    Column("received", "Received", 11, "date", filled=True),
    Column("returned", "Returned", 11, "date", filled=True),
    Column("result", "Result", 19, filled=True, choices=DECISIONS),
    Column("by", "Reviewed by", 14, filled=True),
    Column(REMARKS, "Remarks", 36, filled=True),
    Column(ID, "Row id", 30),
)
TITLES = {column.key: column.title for column in COLUMNS}
DATES = tuple(column.key for column in COLUMNS if column.is_ == "date")
FILLED = tuple(column.key for column in COLUMNS if column.filled)
OF_A_ROUND = ("submittal", "received", "returned", "result", "by")
OF_A_ROW = tuple(one.key for one in COLUMNS if one.key not in (*OF_A_ROUND, ROUND, STATE, ID))
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
