"""How much of a file from outside is read."""

from __future__ import annotations

MOST_FILES = 20
MOST_BYTES = 50_000_000
MOST_PAGES = 200
MOST_CHARACTERS = 30_000  # of one page
MOST_CHARACTERS_IN_ALL = 600_000
MOST_RULINGS = 4_000  # of one page
MOST_ROWS = 5_000  # of a table file
MOST_COLUMNS = 60
MOST_BLANK = 500  # empty rows between two that hold something
LONGEST_CELL = 500
MOST_UNPACKED = 60_000_000  # bytes of a workbook's parts
MOST_PARTS = 2_000
SECONDS = 60.0  # for one file
MEMORY = 2_000_000_000  # bytes of address space of the process that opens a file
MOST_SIDE = 14_400.0  # of a page [pt], the largest that PDF allows without a scale of its own
MOST_PIXELS = 4_000_000  # of one picture
MOST_RECOGNIZED = 6  # pages of a file by character recognition
RECOGNIZE_SECONDS = 20.0  # for one of them
