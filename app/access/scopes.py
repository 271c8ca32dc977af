"""What one reader may read of one snapshot, and the one way to read it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import duckdb
import pandas as pd

from app.access import connections
from app.access.problems import Broken, Refused
from app.access.readers import Reader
from app.access.snapshots import Snapshot

_MADE_HERE = object()


@dataclass(frozen=True)
class Scope:
    """A reader's shelves of one build: shelf name to file. Only `scope_for` can make one."""

    build_id: str
    reader: Reader
    files: tuple[tuple[str, str], ...]
    maker: object = None

    def __post_init__(self) -> None:
        if self.maker is not _MADE_HERE:
            raise Refused("A reader's scope is given out by the door only.")
        object.__setattr__(self, "maker", None)

    def file_of(self, shelf: str) -> str:
        """The file of a shelf; `Refused` when it is not this reader's."""
        files = dict(self.files)
        if shelf not in files:
            raise Refused("This page belongs to other readers.")
        return files[shelf]


def scope_for(snapshot: Snapshot, reader: Reader) -> Scope:
    """The scope of a reader in a snapshot; `Refused` when her class is not in it."""
    connections.close_all_but(snapshot.folder)
    shelves = snapshot.shelves_of(reader.role, reader.shelves)
    files = tuple((shelf, _file(snapshot, reader, shelf)) for shelf in shelves)
    return Scope(snapshot.build_id, reader, files, _MADE_HERE)


def _file(snapshot: Snapshot, reader: Reader, shelf: str) -> str:
    if shelf != "room":
        return str(Path(snapshot.folder) / f"{shelf}.duckdb")
    file = snapshot.room_file(reader.class_id or "")
    if file is None:
        raise Refused("There is no class of that name in the current build.")
    return file


def fetch(scope: Scope, shelf: str, query: str, values: Sequence[object] = ()) -> pd.DataFrame:
    """The rows of a query on one shelf; values are bound, never pasted into the text."""
    with connections.cursor(scope.file_of(shelf)) as cursor:
        try:
            return cursor.execute(query, list(values)).df()
        except duckdb.Error as problem:
            raise Broken(
                "The current build does not fit this version of the dashboard. "
                "Building again usually puts it right."
            ) from problem


def shelf_of_class(scope: Scope, class_id: str) -> str:
    """The shelf on which this reader finds one class; `Refused` when she may not see it."""
    if not may_open_class(scope, class_id):
        raise Refused("This page belongs to another room.")
    return "room" if scope.reader.role == "teacher" else "support"


def may_open_class(scope: Scope, class_id: str) -> bool:
    """A teacher may open her own class; the support team any; nobody else a single one."""
    if scope.reader.role == "teacher":
        return class_id == scope.reader.class_id
    return scope.reader.role == "support"


def demo_readers(snapshot: Snapshot) -> tuple[Reader, ...]:
    """Everyone a visitor to the invented school may look as; nobody in a real school."""
    if not snapshot.is_demo:
        return ()
    plain = tuple(Reader(role) for role in ("principal", "support", "steward"))
    return (*plain, *(Reader("teacher", class_id) for class_id, _ in snapshot.rooms))
