"""The first line of each file: which column is missing, extra, misplaced or misspelt, by name."""

from __future__ import annotations

from pathlib import Path

from tests.ingest.readers.oneroster_read import findings_of, with_columns, without
from tests.ingest.readers.oneroster_sets import sound_set, text_of


def test_a_missing_needed_column_is_named_and_refuses(tmp_path: Path) -> None:
    finding = findings_of(tmp_path, texts=without("enrollments", "role"))["missing_column"]
    assert (finding.verdict, finding.column, finding.line) == ("refuse", "role", 1)
    assert finding.file_name == "roster.zip/enrollments.csv"
    assert finding.remedy == "Ask for enrollments.csv with the column role after userSourcedId."


def test_a_missing_column_that_nothing_depends_on_is_named_and_tolerated(tmp_path: Path) -> None:
    found = findings_of(tmp_path, texts=without("enrollments", "primary"))
    assert (found["missing_column"].verdict, found["missing_column"].column) == ("warn", "primary")
    assert all(finding.verdict == "warn" for finding in found.values())


def test_no_one_is_asked_for_a_password_column(tmp_path: Path) -> None:
    assert "missing_column" not in findings_of(tmp_path, texts=without("users", "password"))


def test_an_extra_column_is_named_and_left_out(tmp_path: Path) -> None:
    texts = with_columns("classes", lambda rows: [[*row, "room"] for row in rows])
    finding = findings_of(tmp_path, texts=texts)["unknown_column"]
    assert (finding.verdict, finding.column) == ("warn", "room")
    assert "metadata.room" in finding.remedy


def test_an_extension_column_after_the_standard_ones_is_in_order(tmp_path: Path) -> None:
    def extend(rows: list[list[str]]) -> list[list[str]]:
        return [[*rows[0], "metadata.room"]] + [[*row, "7"] for row in rows[1:]]

    found = findings_of(tmp_path, texts=with_columns("classes", extend))
    assert not {"unknown_column", "oneroster_column_order"} & set(found)


def test_an_extension_column_before_the_standard_ones_is_out_of_order(tmp_path: Path) -> None:
    def extend(rows: list[list[str]]) -> list[list[str]]:
        return [["metadata.room", *rows[0]]] + [["7", *row] for row in rows[1:]]

    found = findings_of(tmp_path, texts=with_columns("classes", extend))
    assert found["oneroster_column_order"].column == "metadata.room"


def test_columns_in_another_order_are_read_by_name_and_said(tmp_path: Path) -> None:
    texts = with_columns("orgs", lambda rows: [[row[3], *row[:3], *row[4:]] for row in rows])
    found = findings_of(tmp_path, texts=texts)
    finding = found["oneroster_column_order"]
    assert (finding.verdict, finding.column) == ("warn", "name")
    assert "name stands where sourcedId belongs" in finding.message
    path = tmp_path / "schools.csv"
    assert "s1,Quillbrook Primary (invented),d1,3" in path.read_text("utf-8")


def test_another_spelling_of_a_header_is_read_and_said(tmp_path: Path) -> None:
    def respell(rows: list[list[str]]) -> list[list[str]]:
        return [["sourcedid", *rows[0][1:]], *rows[1:]]

    found = findings_of(tmp_path, texts=with_columns("users", respell))
    finding = found["oneroster_header_spelling"]
    assert (finding.verdict, finding.column, finding.value) == ("warn", "sourcedId", "sourcedid")
    assert "missing_column" not in found


def test_a_column_twice_is_refused(tmp_path: Path) -> None:
    texts = with_columns("classes", lambda rows: [[*row, row[3]] for row in rows])
    finding = findings_of(tmp_path, texts=texts)["duplicate_column"]
    assert (finding.verdict, finding.column) == ("refuse", "title")


def test_semicolons_between_columns_are_refused(tmp_path: Path) -> None:
    text = text_of("orgs", sound_set()["orgs"]).replace(",", ";")
    finding = findings_of(tmp_path, texts={"orgs.csv": text})["wrong_delimiter"]
    assert finding.verdict == "refuse"
