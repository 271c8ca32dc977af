"""Held rows and the word of the person who lets them in."""

from dataclasses import dataclass
from datetime import datetime

import duckdb


@dataclass(frozen=True)
class HeldFile:
    """A file of which rows are held that a person may let in."""

    file_hash: str
    feed: str
    file_name: str
    file_number: int


@dataclass(frozen=True)
class Choice:
    """Which held rows are meant: all of them, or those of a file, a feed, a rule, certain lines."""

    file_name: str | None = None
    feed: str | None = None
    rule: str | None = None
    lines: tuple[int, ...] = ()


def choose_held(con: duckdb.DuckDBPyConnection, choice: Choice) -> tuple[list[HeldFile], int]:
    """Put the chosen rows that may be released into temp table `chosen`; their files, and how many
    chosen rows only a correction can let in."""
    con.execute(
        """
        create or replace temp table chosen as
        select rowid as held_row, file_hash, feed, file_name, line_number, row_json, can_release
        from ledger.quarantine
        where status = 'held'
            and ($file_name is null or file_name = $file_name)
            and ($feed is null or feed = $feed)
            and ($rule is null or list_contains(rule_names, $rule))
            and (len($lines) = 0 or list_contains($lines, line_number))
        """,
        {
            "file_name": choice.file_name,
            "feed": choice.feed,
            "rule": choice.rule,
            "lines": list(choice.lines),
        },
    )
    row = con.execute("select count(*) from chosen where not can_release").fetchone()
    files = con.execute(
        """
        select chosen.file_hash, chosen.feed, chosen.file_name, max(files.file_number)
        from chosen
        inner join ledger.files as files on chosen.file_hash = files.file_hash
            and chosen.feed = files.feed and chosen.file_name = files.file_name
        where chosen.can_release
        group by all
        order by max(files.file_number)
        """
    ).fetchall()
    return [HeldFile(*one) for one in files], int(row[0]) if row else 0


def mark_released(con: duckdb.DuckDBPyConnection, held: HeldFile, at: datetime, by: str) -> None:
    """Close the chosen rows of one file, with who decided and when."""
    con.execute(
        """
        update ledger.quarantine
        set status = 'released', decided_at = $at, decided_by = $by
        where rowid in (
            select held_row from chosen
            where can_release and file_hash = $file_hash and feed = $feed
                and file_name = $file_name
        )
        """,
        {
            "at": at,
            "by": by,
            "file_hash": held.file_hash,
            "feed": held.feed,
            "file_name": held.file_name,
        },
    )


def mark_waiting(con: duckdb.DuckDBPyConnection) -> None:
    """Hold the rows of temp table `waits_anew` for what they wait for today."""
    con.execute(
        "update ledger.quarantine as held set rule_names = waits_anew.rule_names, "
        "can_release = waits_anew.can_release from waits_anew "
        "where held.rowid = waits_anew.held_row"
    )
