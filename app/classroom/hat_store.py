"""The hats of a workspace in one small file: a message is one change, on the disk when answered."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import astuple
from pathlib import Path

from app.classroom.hat_values import Child, Device, Hat, News
from app.sqlite_file import SqliteFile

FILE = "classroom.sqlite"
_LAYOUT = Path(__file__).with_name("hat.sql")
# Draws older than this are told neither for numbers within a day nor for taking them back.
_KEPT_DAYS = 14


class HatStore:
    """The file of a workspace's hats, shared by the server's threads."""

    def __init__(self, path: Path) -> None:
        self._file = SqliteFile(path, _LAYOUT, "full", 10)

    @contextmanager
    def change(self, class_id: str) -> Iterator[ClassHat]:
        """One class's hat to read and write: all of it or nothing, one at a time."""
        with self._file.together() as connection:
            yield ClassHat(connection, class_id)

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()


class ClassHat:
    """The rows of one class within a change."""

    def __init__(self, connection: sqlite3.Connection, class_id: str) -> None:
        self._connection = connection
        self._class_id = class_id

    def read(self) -> Hat | None:
        """The hat as it stands; None when the class has not used one."""
        found = self._rows("select round, lent_to, lent_at from hat where class_id = ?")
        if not found:
            return None
        children = self._rows(
            "select pupil_id, holder, had_turn, away_on, comes_first, is_marked from hat_child "
            "where class_id = ? order by pupil_id"
        )
        devices = self._rows(
            "select device, message, heard, wants, seen_at, state from hat_device "
            "where class_id = ? order by device"
        )
        round_number, lent_to, lent_at = found[0]
        return Hat(
            round_number,
            {
                row[0]: Child(row[0], row[1], bool(row[2]), row[3], bool(row[4]), bool(row[5]))
                for row in children
            },
            {
                row[0]: Device(row[0], row[1], row[2], bool(row[3]), row[4], row[5])
                for row in devices
            },
            lent_to,
            lent_at,
        )

    def write(self, hat: Hat, before: Hat | None) -> None:
        """Write what differs from the hat that was read."""
        self._run(
            "insert or replace into hat values (?, ?, ?, ?)",
            (hat.round, hat.lent_to, hat.lent_at),
        )
        self._write("hat_child", "pupil_id", hat.children, before.children if before else {})
        self._write("hat_device", "device", hat.devices, before.devices if before else {})

    def note(self, device: str, news: tuple[News, ...]) -> None:
        """Keep what was drawn and taken back, for the numbers within a day."""
        for one in news:
            if one.what == "drawn":
                self._run(
                    "insert or ignore into hat_draw values (?, ?, ?, ?, ?, ?, 0)",
                    (one.draw_id, device, one.day, one.sequence, one.clock),
                )
            elif one.what == "undone":
                self._connection.execute(
                    "update hat_draw set is_undone = 1 where class_id = ? and draw_id = ?",
                    (self._class_id, one.draw_id),
                )

    def top(self, day: str) -> tuple[int, int]:
        """The highest number that was drawn on a day, and the latest clock of any draw."""
        number = self._rows(
            "select coalesce(max(sequence_number), 0) from hat_draw "
            "where class_id = ? and drawn_on = ? and is_undone = 0",
            day,
        )
        clock = self._rows("select coalesce(max(clock), 0) from hat_draw where class_id = ?")
        return number[0][0], clock[0][0]

    def tidy(self, day: str) -> None:
        """Forget what was drawn long before a day."""
        self._connection.execute(
            "delete from hat_draw where class_id = ? and drawn_on < date(?, ?)",
            (self._class_id, day, f"-{_KEPT_DAYS} days"),
        )

    def _write(
        self, table: str, key: str, now: Mapping[str, Child | Device], before: Mapping[str, object]
    ) -> None:
        for name in before.keys() - now.keys():
            self._connection.execute(
                f"delete from {table} where class_id = ? and {key} = ?", (self._class_id, name)
            )
        for name, one in now.items():
            if before.get(name) != one:
                marks = ", ".join("?" * (1 + len(astuple(one))))
                self._run(f"insert or replace into {table} values ({marks})", astuple(one))

    def _rows(self, statement: str, *values: object) -> list[tuple]:  # type: ignore[type-arg]
        return self._connection.execute(statement, (self._class_id, *values)).fetchall()

    def _run(self, statement: str, values: tuple[object, ...]) -> None:
        self._connection.execute(statement, (self._class_id, *values))
