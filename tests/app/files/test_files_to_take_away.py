"""A file to take away says what it is, opens in a spreadsheet, and is read by a program."""

from __future__ import annotations

import io
from datetime import date
from typing import Any

import duckdb
import openpyxl
import pandas as pd
import pytest

from app.files import About, csv_file, xlsx_file
from app.files.cells import harmless
from app.text import exact
from app.text.readings import Reading
from app.text.tables import named_table

ABOUT = About(
    title="Every routine, week by week",
    build_id="2026-05-15-20260515T071000",
    as_of_on="2026-05-15",
    term="Spring term",
    chosen=(("Routine", "Lining up, in #2 hall"),),
    view_address="http://127.0.0.1:8501/routines?routine=Lining+up",
    meaning_address="http://127.0.0.1:8501/numbers?measure=responsiveness",
)
RISKY = (
    '=HYPERLINK("http://example.invalid","look")', "+1+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1",
    " =1+1", "\uff1dcmd|' /C calc'!A0",
)  # fmt: skip


def table(**more: Any) -> pd.DataFrame:
    known = Reading(0.8214, 0.75, 0.88, 46, 56, 6, 6, "usable", "met")
    withheld = Reading(0.5, 0.4, 0.6, 2, 4, 3, 3, "usable", "none", True, "few_pupils")
    rows = [{"Note": "a #1 note", **row} for row in _rows(known, withheld)]
    return pd.DataFrame([{**row, **more} for row in rows])


def _rows(*got: Reading) -> list[dict[str, Any]]:
    named = named_table([(f"Grade {number}", one) for number, one in enumerate(got)], "Grade")
    return [{str(key): cell for key, cell in row.items()} for row in named.to_dict("records")]


def of_program(file: bytes) -> pd.DataFrame:
    return pd.read_csv(io.BytesIO(file), comment="#")


def of_workbook(file: bytes) -> list[list[Any]]:
    book = openpyxl.load_workbook(io.BytesIO(file))
    return [[cell.value for cell in row] for row in book["Table"].iter_rows()]


def test_a_program_that_skips_comments_reads_the_table_and_nothing_else() -> None:
    got = of_program(csv_file(table(), ABOUT))
    assert len(got) == 2
    assert got["Figure, 0 to 1"].tolist()[0] == 0.8214
    assert got["Numerator"].tolist()[0] == 46
    assert got["Note"].tolist() == ["a #1 note"] * 2


def test_a_database_reads_the_same_table(tmp_path: Any) -> None:
    file = tmp_path / "table.csv"
    file.write_bytes(csv_file(table(), ABOUT))
    query = "select * from read_csv(?, comment = '#', header = true)"
    got = duckdb.connect().execute(query, [str(file)]).df()
    assert got["Figure, 0 to 1"].tolist()[0] == 0.8214
    assert got["Grade"].tolist() == ["Grade 0", "Grade 1"]


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_a_file_says_what_it_is_before_its_first_number(kind: str) -> None:
    lines = csv_file(table(), ABOUT).decode("utf-8-sig").splitlines()
    if kind == "xlsx":
        rows = of_workbook(xlsx_file(table(), ABOUT))
        lines = [" ".join(str(cell) for cell in row if cell is not None) for row in rows]
    top = [line for line in lines if line.startswith("# ")]
    assert lines[: len(top)] == top
    told = " ".join(top)
    for part in ("never of a child", "missing is not zero", ABOUT.build_id, ABOUT.as_of_on,
                 ABOUT.term, "Routine: Lining up, in #2 hall", ABOUT.view_address,
                 ABOUT.meaning_address):  # fmt: skip
        assert part in told


def test_a_withheld_cell_carries_the_words_of_the_screen_and_no_number() -> None:
    row = of_program(csv_file(table(), ABOUT)).to_dict("records")[1]
    assert str(row["Figure"]).startswith("withheld")
    hidden = ("Figure, 0 to 1", "Low, 0 to 1", "High, 0 to 1", "Numerator", "Denominator")
    assert all(pd.isna(row[name]) for name in hidden)
    sheet = of_workbook(xlsx_file(table(), ABOUT))
    assert not {0.5, 0.4, 0.6, 2, 4} & set(sheet[-1])


@pytest.mark.parametrize("text", RISKY)
def test_no_text_is_run_as_a_formula(text: str) -> None:
    frame = pd.DataFrame({"Child": [text], text: ["="]})
    about = About(title=text, chosen=(("Class", text),))
    raw = csv_file(frame, about).decode("utf-8-sig")
    for line in raw.splitlines():
        for cell in line.split(","):
            inner = cell.strip('"')
            assert not inner.lstrip().startswith(("=", "+", "-", "@", "\uff1d")), line
    book = openpyxl.load_workbook(io.BytesIO(xlsx_file(frame, about)))
    cells = [cell for row in book["Table"].iter_rows() for cell in row if cell.value is not None]
    assert all(cell.data_type == "s" for cell in cells)
    risky = [cell for cell in cells if str(cell.value).lstrip().startswith(("=", "+", "-", "@"))]
    assert all(cell.quotePrefix for cell in risky)


def test_a_negative_number_stays_a_number() -> None:
    frame = pd.DataFrame([{"Class": "Room 3", **exact.share("Lean", -0.04)}])
    assert of_program(csv_file(frame, ABOUT))["Lean, 0 to 1"].tolist() == [-0.04]
    assert of_workbook(xlsx_file(frame, ABOUT))[-1] == ["Room 3", -0.04]


def test_an_apostrophe_of_a_name_is_left_alone() -> None:
    assert harmless("O’Neill") == "O’Neill"
    assert harmless("'tis") == "'tis"


def test_counts_are_numbers_and_codes_keep_their_zeros() -> None:
    frame = pd.DataFrame([{"Code": "007", "Rows": "8\u202f012", "Share": "82\u00a0%"}])
    assert of_workbook(xlsx_file(frame, ABOUT))[-1] == ["007", 8012, "82\u00a0%"]


def test_a_day_has_its_year_in_a_file() -> None:
    frame = pd.DataFrame([{"Day": "Fri 15 May", **exact.on("Day", date(2026, 5, 15))}])
    assert of_program(csv_file(frame, ABOUT))["Day, date"].tolist() == ["2026-05-15"]
    assert pd.Timestamp(of_workbook(xlsx_file(frame, ABOUT))[-1][1]).date() == date(2026, 5, 15)


def test_the_table_of_a_workbook_has_a_name() -> None:
    book = openpyxl.load_workbook(io.BytesIO(xlsx_file(table(), ABOUT)))
    place = book.defined_names["the_table"].attr_text
    first = next(row for row in book["Table"].iter_rows() if row[0].value == "Note")
    assert place.startswith(f"Table!$A${first[0].row}:")
    assert book["Table"].freeze_panes == f"A{int(first[0].row or 0) + 1}"


def test_a_screen_leaves_out_what_is_for_files() -> None:
    seen = exact.on_screen(table())
    assert not [name for name in seen.columns if "0 to 1" in name or "exact" in name]
    assert len(exact.for_files(table()).columns) > len(seen.columns)
