"""One record becomes one file in the inbox: whole or not at all, once however often it is sent.

The file is written beside, flushed, given its name in one step, and the folder is flushed. It
never takes the place of another one, so a file that the door is just reading cannot change.
"""

from __future__ import annotations

from contextlib import suppress
from errno import ENOTDIR
from pathlib import Path
from uuid import uuid4

from app import durable
from app.access import Scope
from app.capture.checks import Fault, Known, Record, faults_of
from app.capture.forms import contract_of
from app.capture.keys import is_uuid
from app.capture.packed import columns_of, rows_in, text_of
from app.capture.writers import ask_class, ask_leave
from ingest.contracts import Contract

# When a record was written down says nothing about whether it is the same record.
_OF_THE_MOMENT = ("entered_at",)


class NotRight(Exception):  # noqa: N818 - an answer to the person at the form
    """The record is not as its contract asks; nothing was written. `faults` says where."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("; ".join(f"{one.field}: {one.rule}" for one in faults))
        self.faults = faults


class CannotKeep(Exception):  # noqa: N818 - what happened, in words
    """The inbox does not take the file (full, or not ours to write); nothing was written."""


class AlreadyKept(Exception):  # noqa: N818 - an answer, not a mistake
    """Another record is kept under this key already; that one stands."""


def new_key() -> str:
    """A key for a record that nobody has used before."""
    return str(uuid4())


def keep(scope: Scope, workspace: Path, feed: str, record: Record, known: Known) -> Path:
    """Write a record into the inbox of a workspace; the file that now holds it.

    The record's key is a UUID. Sent again it changes nothing; with other content `AlreadyKept`.
    `Refused` for whoever may not write this feed, `NotRight` with what its contract finds,
    `CannotKeep` when the disk does not take it. The door reads the file like any other.
    """
    ask_leave(scope, feed)
    ask_class(scope, record.get("class_id", ""))
    contract = contract_of(feed)
    found = faults_of(contract, record, known)
    key = str(record.get(contract.primary_key[0], ""))
    if not is_uuid(key):
        found = (*found, Fault(contract.primary_key[0], "not_a_uuid"))
    if found:
        raise NotRight(found)
    file = workspace / "inbox" / f"{feed}-{key}.csv"
    try:
        put(file, text_of(contract, [record]).encode("utf-8"))
    except FileExistsError:
        if not _holds(file, contract, record):
            raise AlreadyKept(key) from None
    except OSError as fault:
        raise CannotKeep(fault.strerror or "the disk refused it") from fault
    return file


def read(path: Path, feed: str = "") -> dict[str, str] | None:
    """The record in a file of ours; None when the file has gone or is none of ours.

    `feed` names the table of the record where its file holds several.
    """
    rows = rows_in(path, feed)
    return rows[0] if rows is not None and len(rows) == 1 else None


def _holds(path: Path, contract: Contract, record: Record) -> bool:
    """Whether a file says the same; one that has just been taken up by the door said it too."""
    kept = read(path)
    names = [name for name in columns_of(contract, [record]) if name not in _OF_THE_MOMENT]
    if kept is None:
        return not path.exists()
    return all(kept.get(name, "") == record.get(name, "") for name in names)


def put(file: Path, content: bytes) -> None:
    """Write a new file of the inbox: whole or not at all, never in the place of another one.

    `FileExistsError` when the name is taken, another `OSError` when the disk does not take it.
    """
    if not file.parent.is_dir():
        _make(file.parent)
    part = durable.beside(file.parent)
    try:
        durable.write(part, content)
        durable.name(part, file)
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    durable.flush_folder(file.parent)


def _make(folder: Path) -> None:
    try:
        folder.mkdir(exist_ok=True)
    except FileExistsError as fault:
        raise NotADirectoryError(ENOTDIR, "the inbox is not a folder", str(folder)) from fault
