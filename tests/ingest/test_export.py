"""A table leaves the workspace whole, with its cautions, and nothing a spreadsheet would run."""

from __future__ import annotations

import csv
import json
from contextlib import closing
from pathlib import Path

import duckdb
import pyarrow.parquet as parquet
import pytest
from openpyxl import load_workbook

from ingest import export, snapshot
from ingest.errors import UsageProblem
from ingest.snapshot import Snapshot
from tests.ingest.worlds import land, make_build, make_workspace

DANGEROUS = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "=cmd|' /C calc'!A0")


@pytest.fixture
def current(tmp_path: Path) -> Snapshot:
    workspace = make_workspace(tmp_path / "ws")
    land(workspace)
    make_build(workspace)
    return snapshot.current(workspace)


def fill(current: Snapshot, query: str) -> None:
    """Put other rows into the published table of the school."""
    with closing(duckdb.connect(current.folder / "school.duckdb")) as connection:
        connection.execute(f"create or replace table mart_school as {query}")


KINDS = """
    select * from (values
        ('b', 1.5, 2, true, date '2026-05-15', timestamptz '2026-05-15 10:00:00+00', ['x', 'y']),
        ('a', 'nan'::double, null, false, null, null, null)
    ) as t (class_id, value, lesson_count, is_thin, day_on, built_at, codes)
"""


def test_csv_is_plain_and_ordered_by_its_first_column(current: Snapshot, tmp_path: Path) -> None:
    fill(current, KINDS)
    written = export.write(current, "mart_school", "school", tmp_path / "out" / "x.csv")
    assert written.row_count == 2
    assert written.file.read_bytes().decode("utf-8") == (
        "class_id,value,lesson_count,is_thin,day_on,built_at,codes\r\n"
        "a,,,false,,,\r\n"
        "b,1.5,2,true,2026-05-15,2026-05-15T10:00:00+00:00,x;y\r\n"
    )


def test_csv_has_its_cautions_beside_it(current: Snapshot, tmp_path: Path) -> None:
    written = export.write(current, "mart_school", "school", tmp_path / "x.csv")
    assert written.notes == tmp_path / "x.README.txt"
    told = written.notes.read_text("utf-8")
    assert export.CAUTION in told
    assert f"Build: {current.build_id}" in told
    assert "As of: 2026-05-15" in told
    assert "What it is: What mart_school is." in told


def test_json_has_the_types_and_no_word_that_json_lacks(current: Snapshot, tmp_path: Path) -> None:
    fill(current, KINDS)
    written = export.write(current, "mart_school", "school", tmp_path / "x.json")
    first, second = json.loads(written.file.read_text("utf-8"), parse_constant=pytest.fail)
    assert first["value"] is None
    assert second == {
        "class_id": "b", "value": 1.5, "lesson_count": 2, "is_thin": True, "day_on": "2026-05-15",
        "built_at": "2026-05-15T10:00:00+00:00", "codes": ["x", "y"],
    }  # fmt: skip


def test_parquet_keeps_types_and_carries_the_cautions(current: Snapshot, tmp_path: Path) -> None:
    fill(current, KINDS)
    written = export.write(current, "mart_school", "school", tmp_path / "x.parquet")
    table = parquet.read_table(written.file)
    assert table.column("lesson_count").to_pylist() == [None, 2]
    assert (table.schema.metadata or {})[b"Please note"].decode() == export.CAUTION
    assert written.row_count == 2


def test_xlsx_has_the_data_and_a_second_sheet_to_read(current: Snapshot, tmp_path: Path) -> None:
    fill(current, KINDS)
    written = export.write(current, "mart_school", "school", tmp_path / "x.xlsx")
    book = load_workbook(written.file)
    assert book.sheetnames == ["data", "please read"]
    rows = list(book["data"].values)
    assert rows[0][:2] == ("class_id", "value")
    assert rows[2][:4] == ("b", 1.5, 2, True)
    assert ("Please note", export.CAUTION) in list(book["please read"].values)
    assert written.notes is None
    book.close()


@pytest.mark.parametrize("text", DANGEROUS)
def test_a_text_that_a_spreadsheet_would_run_is_made_plain(
    current: Snapshot, tmp_path: Path, text: str
) -> None:
    quoted = text.replace("'", "''")
    fill(current, f"select '{quoted}' as title, -5 as difference, ['{quoted}'] as codes")
    file = export.write(current, "mart_school", "school", tmp_path / "x.csv").file
    with file.open(encoding="utf-8", newline="") as stream:
        title, difference, codes = list(csv.reader(stream))[1]
    assert (title, difference, codes) == (f"'{text}", "-5", f"'{text}")
    book = load_workbook(export.write(current, "mart_school", "school", tmp_path / "x.xlsx").file)
    cells = next(book["data"].iter_rows(min_row=2))
    assert cells[0].data_type == "s"
    assert str(cells[0].value).startswith("'")
    assert cells[1].value == -5
    book.close()


@pytest.mark.parametrize(
    ("table", "audience", "to", "remedy"),
    [
        ("mart_scool", "school", "x.csv", "did you mean mart_school?"),
        ("dim_classes", "school", "x.csv", "choose"),
        ("room_class", "school", "x.csv", "choose"),
        ("mart_classes", "school", "x.csv", ""),
        ("mart_school", "rooms", "x.csv", ""),
        ("mart_school", "school", "x.xls", "did you mean xlsx?"),
        ("mart_school", "school", "x", "choose"),
    ],
)
def test_nothing_but_published_tables_in_known_forms_is_written(
    current: Snapshot, tmp_path: Path, table: str, audience: str, to: str, remedy: str
) -> None:
    with pytest.raises(UsageProblem) as problem:
        export.write(current, table, audience, tmp_path / "out" / to)
    assert remedy in problem.value.remedy
    assert not (tmp_path / "out").exists()


def test_the_tables_of_an_audience_are_listed_with_what_they_are(current: Snapshot) -> None:
    assert export.tables(current, "support") == [
        {"table": "mart_classes", "row_count": 2, "about": "What mart_classes is."}
    ]


def test_without_a_build_there_is_nothing_to_export(tmp_path: Path) -> None:
    with pytest.raises(UsageProblem, match="no build yet"):
        snapshot.current(make_workspace(tmp_path / "new"))
