"""The data steward's desk: files in, rows let in, builds made and gone back to.

The only room of the dashboard that starts other processes. What changes data is the same command
that a person types; the desk keeps what was uploaded, starts the command, listens and can stop it.
Everything here asks for a `Desk`, and only a data steward's visit is given one.
"""

from app.desk.builds import Build, builds
from app.desk.desks import Desk, desk_for
from app.desk.diary import Line, latest
from app.desk.heard import Finding, Heard, Trouble, Verdict
from app.desk.inbox import LARGEST_MB, NotKept, keep, put_away, waiting
from app.desk.news import Held, News, news
from app.desk.orders import MOST_LINES, go_back, let_in, load, make_build
from app.desk.sheets import sheet, sheets
from app.desk.work import Work, Working, current, start, stop

__all__ = [
    "LARGEST_MB",
    "MOST_LINES",
    "Build",
    "Desk",
    "Finding",
    "Heard",
    "Held",
    "Line",
    "News",
    "NotKept",
    "Trouble",
    "Verdict",
    "Work",
    "Working",
    "builds",
    "current",
    "desk_for",
    "go_back",
    "keep",
    "latest",
    "let_in",
    "load",
    "make_build",
    "news",
    "put_away",
    "sheet",
    "sheets",
    "start",
    "stop",
    "waiting",
]
