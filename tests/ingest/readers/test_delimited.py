"""Plain text files: what they are, and what is wrong with their form."""

from __future__ import annotations

from pathlib import Path

import pytest

from ingest.readers import ReadOptions, Table, read
from tests.ingest import door


def read_one(folder: Path, content: bytes, name: str = "evenings.csv") -> Table:
    path = folder / name
    path.write_bytes(content)
    [table] = read(path, folder, ReadOptions(contracts=door.CONTRACTS))
    return table


def text(*rows: str) -> bytes:
    return door.evenings(*rows).encode()


def rules(table: Table) -> list[tuple[str, str | None]]:
    return [(one.rule, one.column) for one in table.findings]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_the_delimiter_is_told_from_the_header(tmp_path: Path, delimiter: str) -> None:
    table = read_one(tmp_path, text(door.evening()).replace(b",", delimiter.encode()))

    assert (table.feed, table.delimiter, table.findings) == ("evenings", delimiter, ())


@pytest.mark.parametrize(
    ("name", "feed"),
    [
        ("Evenings (3).csv", "evenings"),
        ("2026-05 evenings final.csv", "evenings"),
        ("export.csv", "evenings"),
    ],
)
def test_the_feed_is_told_by_the_name_or_else_by_the_header(
    tmp_path: Path, name: str, feed: str
) -> None:
    assert read_one(tmp_path, text(door.evening()), name).feed == feed


def test_a_byte_order_mark_and_windows_line_ends_are_tolerated(tmp_path: Path) -> None:
    content = b"\xef\xbb\xbf" + text(door.evening()).replace(b"\n", b"\r\n")
    table = read_one(tmp_path, content)

    assert table.header[0] == "evening_id"
    assert table.findings == ()


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (b"", [("empty_file", None)]),
        (b"\xef\xbb\xbf\r\n", [("empty_file", None)]),
        (text(), [("empty_file", None)]),
        (text("a\0b"), [("nul_byte", None)]),
        (text(door.evening()).decode().encode("utf-16"), [("wrong_encoding", None)]),
        (text(door.evening(note="caf")).replace(b"caf", b"caf\xe9"), [("wrong_encoding", None)]),
        (text(door.evening()).replace(b",", b"|"), [("wrong_delimiter", None)]),
        (b"what,is\n1,2\n", [("unknown_feed", None)]),
    ],
)
def test_a_file_that_is_no_table_of_ours_is_refused(
    tmp_path: Path, content: bytes, expected: list[tuple[str, str | None]]
) -> None:
    name = "other.csv" if b"what" in content else "evenings.csv"
    table = read_one(tmp_path, content, name)

    assert rules(table) == expected
    assert table.is_refused


def test_missing_unknown_and_doubled_columns_are_each_named(tmp_path: Path) -> None:
    header = door.HEADER.replace("minutes", "Minutes").replace("grade", "kind")
    table = read_one(tmp_path, f"{header}\n{door.evening()}\n".encode())

    assert rules(table) == [
        ("duplicate_column", "kind"),
        ("missing_column", "minutes"),
        ("missing_column", "grade"),
        ("unknown_column", "Minutes"),
    ]
    assert "Did you mean minutes?" in table.findings[-1].message


def test_columns_may_stand_in_any_order_and_voided_may_be_left_out(tmp_path: Path) -> None:
    header = ",".join(reversed(door.HEADER.split(",")[:-1]))
    table = read_one(tmp_path, f"{header}\nx\n".encode())

    assert table.findings == ()


def test_a_file_that_is_not_there_is_a_finding_and_no_crash(tmp_path: Path) -> None:
    [table] = read(tmp_path / "gone.csv", tmp_path, ReadOptions(contracts=door.CONTRACTS))

    assert rules(table) == [("unreadable_file", None)]


def test_bad_letters_far_down_the_file_are_found_when_the_rows_are_read(
    world: Path, tmp_path: Path
) -> None:
    rows = [door.evening(evening_id=f"e{n}", note="n" * 20) for n in range(2000)]
    path = tmp_path / "evenings.csv"
    path.write_bytes(text(*rows, door.evening(note="XX")).replace(b"XX", b"\xe9\xe8"))
    [report] = door.load(world, path)

    assert report.status == "refused"
    assert [(one.rule, one.line) for one in report.findings] == [("wrong_encoding", 2002)]
    assert report.received == report.refused == 2001
