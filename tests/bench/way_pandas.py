"""For comparison: pandas, in chunks, with the same single-row rules and a row hash."""

import hashlib
import sys
from collections.abc import Mapping
from pathlib import Path

import pandas as pd

from ingest.contracts import Field, load_contracts
from tests.bench.way import told

FEED = "participation_draws"
_CHUNK = 1_000_000
_FORMS = {
    "integer": r"[+-]?[0-9]{1,18}",
    "number": r"[+-]?[0-9]+(?:\.[0-9]*)?",
    "date": r"[0-9]{4}-[0-9]{2}-[0-9]{2}",
    "time": r"(?:[01][0-9]|2[0-3]):[0-5][0-9](?::[0-5][0-9])?",
    "datetime": r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}(?::[0-9]{2})?"
    r"(?:Z|[+-][0-9]{2}:[0-9]{2})",
    "boolean": r"true|false",
}


def _bad(cells: "pd.Series[str]", field: Field) -> "pd.Series[bool]":
    empty = cells == ""
    bad = empty if field.is_required else pd.Series(False, index=cells.index)
    if field.type in _FORMS:
        bad |= ~empty & ~cells.str.fullmatch(_FORMS[field.type])
    if field.type in ("integer", "number"):
        numbers = pd.to_numeric(cells, errors="coerce")
        if field.minimum is not None:
            bad |= numbers < float(field.minimum)
        if field.maximum is not None:
            bad |= numbers > float(field.maximum)
    if field.type == "date":
        bad |= ~empty & pd.to_datetime(cells, format="%Y-%m-%d", errors="coerce").isna()
    if field.enum:
        bad |= ~empty & ~cells.isin(field.enum)
    if field.is_key:
        bad |= (cells != cells.str.strip()) | cells.str.fullmatch(r"[0-9](?:\.[0-9]+)?[eE]\+[0-9]+")
    if field.type == "string":
        bad |= cells.str.startswith("=") | (cells.str.len() > (field.max_length or 1 << 30))
    return bad


def _md5(content: str) -> str:
    return hashlib.md5(content.encode(), usedforsecurity=False).hexdigest()


def main(path: Path, folder: Path) -> None:
    """Good rows to Parquet files, the number of bad ones told."""
    contract = load_contracts()[FEED]

    def work() -> Mapping[str, object]:
        rows = accepted = 0
        chunks = pd.read_csv(path, dtype="str", keep_default_na=False, chunksize=_CHUNK)
        for number, chunk in enumerate(chunks):
            bad = pd.Series(False, index=chunk.index)
            for name in chunk.columns:
                bad |= _bad(chunk[name], contract.field(name))
            good = chunk[~bad].copy()
            joined = good.iloc[:, 1].str.cat(good.iloc[:, 2:], sep="\x1f")
            good["row_hash"] = joined.map(_md5)
            good.to_parquet(folder / f"good-{number}.parquet")
            rows, accepted = rows + len(chunk), accepted + len(good)
        return {"rows": rows, "accepted": accepted, "quarantined": rows - accepted}

    told(work)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
