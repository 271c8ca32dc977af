"""What is made from the contracts: the data dictionary, dbt's sources, and blank sheets.

`python -m ingest.contracts.documents` rewrites the files that are kept in the repository; a test
asserts that they are fresh.
"""

from collections.abc import Mapping
from pathlib import Path

from ingest.contracts import Contract, load_contracts
from ingest.contracts.blank_sheets import blank_sheet
from ingest.contracts.dbt_sources import dbt_sources
from ingest.contracts.dictionary import data_dictionary

__all__ = ["blank_sheet", "generated_files", "main", "write"]

DICTIONARY = "docs/feeds.md"
SOURCES = "dbt_project/models/staging/_sources.yml"


def generated_files(contracts: Mapping[str, Contract]) -> Mapping[str, str]:
    """The text of every generated file by its path below the top folder of the project."""
    return {DICTIONARY: data_dictionary(contracts), SOURCES: dbt_sources(contracts)}


def write(root: Path) -> list[Path]:
    """Write the generated files below `root`; returns the paths."""
    written = []
    for name, text in generated_files(load_contracts()).items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
        written.append(path)
    return written


def main() -> None:
    """Rewrite the generated files of this checkout."""
    write(Path(__file__).resolve().parents[2])


if __name__ == "__main__":
    main()
