"""What is made from the contracts is fresh, complete and usable by a clerk."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
import yaml
from openpyxl import load_workbook

from ingest.contracts import Contract, load_contracts
from ingest.contracts.documents import blank_sheet, generated_files, write
from ingest.contracts.model import VOIDED
from ingest.findings import GENERIC_RULES

CONTRACTS = load_contracts()
EVERY = pytest.mark.parametrize("contract", CONTRACTS.values(), ids=list(CONTRACTS))
MADE = generated_files(CONTRACTS)


@pytest.mark.parametrize("name", sorted(MADE))
def test_a_generated_file_in_the_repository_is_fresh(name: str, project_root: Path) -> None:
    assert (project_root / name).read_text("utf-8") == MADE[name]


def test_writing_the_generated_files_writes_just_these(tmp_path: Path) -> None:
    paths = write(tmp_path)

    assert {
        path.relative_to(tmp_path).as_posix(): path.read_text("utf-8") for path in paths
    } == MADE


@EVERY
def test_the_dictionary_explains_every_column_and_every_rule(contract: Contract) -> None:
    page = MADE["docs/feeds.md"]
    section = page.split(f"\n## {contract.name}\n")[1].split("\n## ")[0].split("\n# ")[0]

    for field in contract.fields:
        assert f"| `{field.name}` |" in section
        assert field.description.split("|")[0] in section
        assert all(f"`{code}`" in section for code in (*field.enum, *field.item_enum))
    for rule in contract.rules:
        assert f"| `{rule.name}` |" in section
        assert " ".join(rule.remedy.split()) in section


def test_the_dictionary_names_every_rule_that_holds_for_every_feed() -> None:
    assert [name for name in GENERIC_RULES if f"| `{name}` |" not in MADE["docs/feeds.md"]] == []


def test_the_sources_describe_exactly_what_lands() -> None:
    sources = {one["name"]: one for one in yaml.safe_load(next(iter(
        text for name, text in MADE.items() if name.endswith(".yml"))))["sources"]}  # fmt: skip
    latest = {one["name"]: one for one in sources["latest"]["tables"]}

    assert set(sources) == {"latest", "latest_names", "ledger"}
    assert set(latest) == set(CONTRACTS)
    for name, contract in CONTRACTS.items():
        columns = [one["name"] for one in latest[name]["columns"]]
        landed = [one.name for one in contract.public_fields if one.name != VOIDED]
        assert columns[: len(landed)] == landed
        assert columns[len(landed) :] == [
            "file_hash", "row_hash", "received_at", "contract_version", "row_version"
        ]  # fmt: skip
        assert all(one["description"] for one in latest[name]["columns"])
    assert [one["name"] for one in sources["ledger"]["tables"]] == [
        "files", "findings", "quarantine"
    ]  # fmt: skip


@EVERY
def test_a_blank_workbook_has_the_columns_and_explains_each(
    contract: Contract, tmp_path: Path
) -> None:
    book = load_workbook(blank_sheet(contract, tmp_path / f"{contract.name}.xlsx"))
    sheet, explained = book.worksheets
    columns = [one for one in contract.field_names if one != VOIDED]

    assert [cell.value for cell in sheet[1]] == columns
    assert sheet.max_row == 1
    assert [row[0].value for row in explained.iter_rows(min_row=2)] == list(contract.field_names)


@EVERY
def test_a_blank_workbook_offers_the_codes_to_choose_from(
    contract: Contract, tmp_path: Path
) -> None:
    sheet = load_workbook(blank_sheet(contract, tmp_path / "blank.xlsx")).worksheets[0]
    offered = {
        sheet.cell(1, cells.min_col).value: str(rule.formula1).strip('"').split(",")
        for rule in sheet.data_validations.dataValidation
        for cells in rule.sqref.ranges
    }
    wanted = {
        one.name: ["true", "false"] if one.type == "boolean" else list(one.enum)
        for one in contract.fields
        if (one.enum or one.type == "boolean") and one.name != VOIDED
    }
    too_long = {name for name, codes in wanted.items() if len(",".join(codes)) > 255}

    assert offered == {name: codes for name, codes in wanted.items() if name not in too_long}
    assert too_long <= {"code"}


@EVERY
def test_a_blank_text_file_has_the_columns(contract: Contract, tmp_path: Path) -> None:
    path = blank_sheet(contract, tmp_path / "blank.csv")

    with path.open(encoding="utf-8-sig", newline="") as file:
        assert list(csv.reader(file)) == [[one for one in contract.field_names if one != VOIDED]]


def test_a_blank_sheet_of_another_kind_is_not_written(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"as \.xlsx or \.csv"):
        blank_sheet(CONTRACTS["classes"], tmp_path / "blank.ods")
