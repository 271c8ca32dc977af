"""Words of the data steward's desk: what became of a file, of a build, of a decision."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from app.text.dates import moment
from app.text.numbers import counted, number
from app.text.words import FEED, spoken

Row = Mapping[str, object]

DOING = {
    "load": "Files are being checked and loaded",
    "build": "All figures are being made anew",
    "back": "Another build is being put on show",
    "release": "Rows are being let in",
}
_DONE = {
    "load": "Done: every file was looked at.",
    "build": "Done: the new build is on show.",
    "back": "Done: the build you chose is on show.",
}
_STOPPED = {
    "load": "Stopped. Files that were finished are kept; the others wait in the inbox.",
    "build": "Stopped. The build before is still on show.",
    "back": "Stopped. The build before is still on show.",
    "release": "Stopped. No row was let in, or all of them: see what waits below.",
}
_SAFE = {
    "load": "What was received before is as it was. The files wait in the inbox.",
    "build": "The build before is still on show.",
    "back": "The build before is still on show.",
    "release": "No row was let in.",
}
_DIARY = {
    "load": "loading",
    "build": "building",
    "back": "showing another build",
    "release": "letting rows in",
}
SHEET_NOTE = (
    "A correction sheet holds the rows as they were sent, names included: keep it where the files "
    "are kept. Correct its rows and bring the sheet in again; nothing else has to be changed in it."
)
WAITING_NOTE = (
    "These files were kept and are not loaded yet, or were refused when they were. Loading one "
    "again changes nothing that is known already. A file put away stays in a folder of the inbox."
)
ASIDE_NOTE = (
    "Every reason of every row, also of rows that were decided or corrected since. Rows let in or "
    "brought in again after this build was made are not in it yet."
)
BACK_NOTE = (
    "Nothing is lost by going back: the newer build stays in this list and can be shown again. As "
    "many builds are kept as the school’s settings say."
)
_LONGEST_ABOUT = 80
_MARKS = {"taken": "filled", "part": "few", "known": "hollow", "refused": "rest"}


def drop_note(most: int) -> str:
    """What may be dropped, and how large."""
    return (
        f"Spreadsheets, CSV files, calendars and zipped sets, several at once, up to {most} MB "
        "each. What kind of data a file holds is told from its name or its columns. Larger files "
        "are loaded on the school’s computer: roundelay load"
    )


def load_label(count: int) -> str:
    """The button under the drop: it says how many files have arrived."""
    return f"Check and load {counted(count, 'file')}" if count else "Check and load"


def doing(kind: str, label: str, done: int, total: int) -> str:
    """What is being done right now, and how far it is where that is known."""
    far = f" ({number(done)} of {number(total)})" if total else ""
    now = f": {label}" if label else ""
    return f"{DOING[kind]}{now}{far}."


def ended(kind: str, outcome: str, released: int = 0) -> str:
    """How a piece of work ended, and what is safe."""
    if outcome == "done" and kind == "release":
        were = "was" if released == 1 else "were"
        return f"Done: {counted(released, 'row')} {were} let in."
    if outcome == "done":
        return _DONE[kind]
    if outcome == "stopped":
        return _STOPPED[kind]
    if outcome == "late":
        return f"It took longer than it may and was stopped. {_SAFE[kind]}"
    if outcome == "busy":
        return f"Another command is at work, so this one did not begin. {_SAFE[kind]}"
    return f"This was not done. {_SAFE[kind]}"


def warning(text: str) -> str:
    """What a build asks a person to look at."""
    return f"Please look: {text}"


def trouble(told: Row) -> str:
    """Why, and what to do, in the command's own words."""
    where = f" ({told['where']})" if told["where"] else ""
    parts = (
        f"{told['what']}{where}",
        f"Why: {told['rule']}." if told["rule"] else "",
        f"What to do: {told['remedy']}." if told["remedy"] else "",
    )
    return " ".join(part.replace("..", ".") for part in parts if part)


def someone_first(kind: str, who: str, since: object) -> str:
    """Told to the second of two who pressed at once."""
    return (
        f"Another command is at work: {_DIARY[kind]}, begun by {who} at {moment(since)} UTC. "
        "Nothing else was started; wait until it has ended."
    )


def standing(told: Row) -> str:
    """`taken`, `part`, `known` or `refused`: what became of a file as a whole."""
    if told["status"] == "refused":
        return "refused"
    if told["quarantined"]:
        return "part"
    return "known" if told["status"] == "already_known" or not told["accepted"] else "taken"


def mark(told: Row) -> str:
    """The shape that stands before a file's name."""
    return _MARKS[standing(told)]


def verdict(told: Row) -> str:
    """What became of the rows of one file, in one sentence."""
    kind = spoken(told["feed"], FEED) if told["feed"] else ""
    named = f"**{told['file_name']}**" + (f" ({kind})" if kind else "")
    if told["status"] == "refused":
        return f"{named}: refused as a whole. Nothing of it was kept; it waits in the inbox."
    received = whole(told, "received")
    if standing(told) == "known":
        return f"{named}: nothing new. All {counted(received, 'row')} were here already."
    said = f"{named}: {number(whole(told, 'accepted'))} of {counted(received, 'row')} taken in"
    if known := whole(told, "known"):
        said += f", {number(known)} known already"
    if aside := whole(told, "quarantined"):
        said += f", {number(aside)} set aside"
    return f"{said}."


def finding(told: Row) -> str:
    """Where a rule was met, what is wrong, and what to do."""
    line = f"line {told['line']}" if told["line"] else ""
    column = f"column {told['column']}" if told["column"] else ""
    place = ", ".join(part for part in (line, column) if part)
    times = whole(told, "count")
    often = f" ({number(times)} times; this is the first)" if times > 1 else ""
    start = f"{first_up(place)}{often}: " if place else ""
    heading = {"refuse": "Refused", "quarantine": "Set aside", "warn": "Please look"}
    return (
        f"{heading.get(str(told['verdict']), 'Noted')}. {start}{told['message']} "
        f"What to do: {told['remedy']} (rule: {told['rule']})"
    )


def more_findings(hidden: int) -> str:
    """Said when only the first findings of a file are shown."""
    return f"… and {counted(hidden, 'more kind')} of finding." if hidden else ""


def totals(verdicts: Sequence[Row]) -> str:
    """All files together, once they are through."""
    if not verdicts:
        return ""
    taken = sum(whole(one, "accepted") for one in verdicts)
    aside = sum(whole(one, "quarantined") for one in verdicts)
    refused = sum(one["status"] == "refused" for one in verdicts)
    said = f"**{first_up(counted(taken, 'row'))}** taken in from {counted(len(verdicts), 'file')}"
    said += f"; {counted(aside, 'row')} set aside" if aside else "; nothing set aside"
    return f"{said}; {counted(refused, 'file')} refused." if refused else f"{said}, none refused."


def waiting(name: str, size: int, since: object, was_refused: bool) -> str:
    """A file that lies in the inbox."""
    why = "refused last time" if was_refused else "not loaded yet"
    return f"**{name}** · {_size(size)} · since {moment(since)} UTC · {why}"


def _size(size: int) -> str:
    if size < 1024:
        return counted(size, "byte")
    if size < 1024 * 1024:
        return f"{number(round(size / 1024))} kB"
    return f"{number(round(size / 1024 / 1024))} MB"


def new_since(names: Sequence[str], let_in: int, is_known: bool) -> str:
    """Which files, and how many rows let in, are not in the numbers yet."""
    if not is_known:
        return "What came in since this build cannot be told while a command is at work."
    if not names and not let_in:
        return "Everything that was taken in is in this build."
    rows = f"**{counted(let_in, 'row')}** that {'was' if let_in == 1 else 'were'} let in"
    if not names:
        return f"{rows} {'is' if let_in == 1 else 'are'} not in these numbers yet."
    shown = ", ".join(names[:6]) + (f" and {len(names) - 6} more" if len(names) > 6 else "")
    are = "is" if len(names) == 1 and not let_in else "are"
    also = f" and {rows}" if let_in else ""
    return f"**{counted(len(names), 'file')}**{also} {are} not in these numbers yet: {shown}."


def build_line(built_at: object, as_of: object, is_shown: bool) -> str:
    """One build in a list."""
    shown = " · **on show**" if is_shown else ""
    return f"Made {moment(built_at)} UTC · knows of days up to {_plain_day(as_of)}{shown}"


def build_name(built_at: object) -> str:
    """How a build is called on a button."""
    return f"{moment(built_at)} UTC"


def sure_of_build(when: str) -> str:
    """Asked before another build is shown."""
    return f"Show the build of {when} instead? Every reader will see its figures at once."


def _plain_day(value: object) -> str:
    return moment(value).partition(",")[0]


def diary_line(at: object, who: str, what: str, about: str) -> str:
    """One line of what was done at the desk."""
    kind, _, came = what.partition(": ")
    shown = about if len(about) <= _LONGEST_ABOUT else f"{about[:_LONGEST_ABOUT].rstrip(', .')} …"
    return f"{moment(at)} UTC · {who} · {_DIARY.get(kind, kind)}: {came} · {shown}"


def first_up(text: str) -> str:
    """The text with a capital."""
    return text[:1].upper() + text[1:]


def whole(told: Row, name: str) -> int:
    """A count of a row; 0 for anything else."""
    value = told[name]
    return value if isinstance(value, int) else 0
