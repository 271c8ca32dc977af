"""Tables as files to take away: the words that go with them, and the cells made safe and exact.

Pure: tables in, bytes out. Nothing here fetches, and nothing here knows who is asking.
"""

from app.files.about import About
from app.files.csv_file import csv_file
from app.files.shelf import SHELF, Offered, offered
from app.files.xlsx_file import xlsx_file
from app.files.zip_file import Part, zip_file

__all__ = [
    "SHELF",
    "About",
    "Offered",
    "Part",
    "csv_file",
    "offered",
    "xlsx_file",
    "zip_file",
]
