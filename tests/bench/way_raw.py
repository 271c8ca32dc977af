"""The yardstick: DuckDB reads the file into a typed table, with no check at all."""

import sys
from collections.abc import Mapping
from pathlib import Path

import duckdb

from ingest.contracts import load_contracts
from tests.bench.way import told

FEED = "participation_draws"


def main(path: Path, folder: Path) -> None:
    """Read faulty cells as empty ones would stop the reading: rows with them are passed by."""
    contract = load_contracts()[FEED]
    types = {one.name: one.sql_type for one in contract.fields if not one.is_optional}

    def work() -> Mapping[str, object]:
        with duckdb.connect(str(folder / "raw.duckdb")) as con:
            con.execute("set memory_limit = '1200MB'")
            con.execute("set TimeZone = 'UTC'")
            con.execute(
                "create table draws as select * from read_csv(?, delim=',', header=true, "
                "quote='\"', auto_detect=false, ignore_errors=true, columns=?)",
                [str(path), types],
            )
            row = con.execute("select count(*) from draws").fetchone()
        return {"rows": row[0] if row else 0}

    told(work)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
