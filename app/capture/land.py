"""A record that a device sent, in one of its revisions, becomes one file in the inbox.

Sent again it changes nothing, whether its file still waits or was taken up long ago. A later
revision is a file of its own beside the earlier one; the door reads them in order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from app.access import Scope
from app.capture.checks import Fault, Known, Record, faults_of
from app.capture.forms import contract_of
from app.capture.keep import AlreadyKept, CannotKeep, NotRight, put
from app.capture.keys import is_uuid
from app.capture.packed import packed, rows_in, text_of
from app.capture.standing import file_name, revisions
from app.capture.writers import ask_class, ask_leave

LAST_REVISION = 99
# Feeds whose records have rows of their own: the feed of the rows, and what leads back from it.
PARTS = {"observation_sessions": ("observation_rows", "observation_id")}
# Who sent a record, and when it was typed, says nothing about whether it is the same record.
_OF_THE_SENDER = ("entered_at", "entered_by")


@dataclass(frozen=True)
class Sent:
    """One revision of a record: its feed, its key (a UUID), its cells, and rows where it has any.

    None for `rows` leaves the rows of the earlier revision as they are.
    """

    feed: str
    key: str
    revision: int
    record: Record
    rows: tuple[Record, ...] | None = None


def land(scope: Scope, workspace: Path, sent: Sent, known: Known) -> bool:
    """Write one revision; True when it is new, False when it (or a later one) stood already.

    `Refused`, `NotRight` and `CannotKeep` as for `capture.keep`; `AlreadyKept` when this revision
    stands with other content.
    """
    ask_leave(scope, sent.feed)
    ask_class(scope, sent.record.get("class_id", ""))
    if found := _faults(sent, known):
        raise NotRight(found)
    try:
        return _write(workspace, sent)
    except OSError as fault:
        raise CannotKeep(fault.strerror or "the disk refused it") from fault


def _write(workspace: Path, sent: Sent) -> bool:
    standing = revisions(workspace, sent.feed, sent.key)
    rows = _rows(sent, [standing[one] for one in sorted(standing) if one < sent.revision])
    if sent.revision in standing:
        return _is_same(standing[sent.revision], sent, rows)
    if any(one > sent.revision for one in standing):
        return False
    suffix = ".csv" if rows is None else ".zip"
    file = workspace / "inbox" / file_name(sent.feed, sent.key, sent.revision, suffix)
    try:
        put(file, _content(sent, rows))
    except FileExistsError:
        return _is_same(file, sent, rows)
    return True


def _content(sent: Sent, rows: Sequence[Record] | None) -> bytes:
    text = text_of(contract_of(sent.feed), [sent.record])
    if rows is None:
        return text.encode("utf-8")
    feed = PARTS[sent.feed][0]
    return packed({sent.feed: text, feed: text_of(contract_of(feed), rows)})


def _rows(sent: Sent, before: Sequence[Path]) -> list[Record] | None:
    """The rows to write: those sent, and the earlier ones that are no more, as withdrawn.

    A record that is withdrawn takes its rows along by itself: they lead to nothing any more.
    """
    if sent.feed not in PARTS or sent.record.get("voided") == "true":
        return None
    feed, link = PARTS[sent.feed]
    number = next(name for name in contract_of(feed).primary_key if name != link)
    told = (rows_in(path, feed) for path in reversed(before))
    earlier = next((rows for rows in told if rows), [])
    given = sent.rows
    if given is None:
        given = tuple(row for row in earlier if row.get("voided") != "true")
    own = [{**row, link: sent.key} for row in given]
    present = {row.get(number) for row in own}
    gone = [{**row, "voided": "true"} for row in earlier if row.get(number) not in present]
    return [*own, *gone] or None


def _is_same(path: Path, sent: Sent, rows: Sequence[Record] | None) -> bool:
    """False (nothing new) when a file says what was sent; else `AlreadyKept`."""
    kept = rows_in(path, sent.feed)
    if kept is None and not path.exists():
        return False
    names = [one.name for one in contract_of(sent.feed).fields if one.name not in _OF_THE_SENDER]
    if kept is None or len(kept) != 1 or not _alike(kept[0], sent.record, names):
        raise AlreadyKept(sent.key)
    if rows is not None:
        feed = PARTS[sent.feed][0]
        there = rows_in(path, feed) or []
        columns = contract_of(feed).field_names
        pairs = zip(there, rows, strict=False)
        if len(there) != len(rows) or not all(_alike(*pair, columns) for pair in pairs):
            raise AlreadyKept(sent.key)
    return False


def _alike(one: Record, other: Record, names: Sequence[str]) -> bool:
    return all(one.get(name, "") == other.get(name, "") for name in names)


def _faults(sent: Sent, known: Known) -> tuple[Fault, ...]:
    found = list(faults_of(contract_of(sent.feed), sent.record, known))
    if not is_uuid(sent.key):
        found.append(Fault("key", "not_a_uuid"))
    if not 1 <= sent.revision <= LAST_REVISION:
        found.append(Fault("revision", "too_large", str(LAST_REVISION)))
    if sent.rows and sent.feed not in PARTS:
        found.append(Fault("rows", "unknown_column"))
    elif sent.rows:
        feed, link = PARTS[sent.feed]
        contract = contract_of(feed)
        for row in sent.rows:
            found += faults_of(contract, {**row, link: sent.key}, {})
    return tuple(dict.fromkeys(found))
