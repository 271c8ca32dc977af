"""A small world for the tests of the door: three invented feeds, a workspace, rows as text."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

import duckdb

from ingest.contracts import load_contracts
from ingest.load import FileReport, check_files, load_files
from ingest.settings import Settings
from ingest.workspace import Workspace

CONTRACTS = load_contracts(Path(__file__).resolve().parents[1] / "fixtures" / "contracts")
SETTINGS = Settings(school_id="quillbrook", school_name="Quillbrook Primary (invented)")
NOW = datetime(2026, 5, 15, 12, 0, tzinfo=UTC)
HALLS = "hall_id,name\nh1,North\nh2,South\n"
SINGERS = "singer_id,voice,given_name,family_name\ns1,high,Ottoline,Quist\ns2,low,Bram,Vael\n"
HEADER = (
    "evening_id,hall_id,held_on,began_local,minutes,song_count,kind,led_by,grade,written_at,"
    "was_wet,note,voided"
)
GOOD = {
    "evening_id": "e1",
    "hall_id": "h1",
    "held_on": "2026-03-02",
    "began_local": "18:00",
    "minutes": "45",
    "song_count": "7",
    "kind": "open",
    "led_by": "s1",
    "grade": "KG",
    "written_at": "2026-03-02T20:00:00Z",
    "was_wet": "false",
    "note": "",
    "voided": "",
}


def evening(**cells: str) -> str:
    """A good row of `evenings` with some cells replaced."""
    return ",".join({**GOOD, **cells}.values())


def evenings(*rows: str) -> str:
    """A file of `evenings`."""
    return "\n".join([HEADER, *rows]) + "\n"


def write(folder: Path, name: str, text: str) -> Path:
    """A file with a text, in a folder that is made if need be."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / name
    path.write_bytes(text.encode())
    return path


def load(root: Path, *paths: Path) -> list[FileReport]:
    """Load into the workspace at `root`."""
    return load_files(list(paths), Workspace(root), SETTINGS, NOW, contracts=CONTRACTS)


def check(root: Path, *paths: Path) -> list[FileReport]:
    """Check against the workspace at `root`."""
    return check_files(list(paths), Workspace(root), SETTINGS, NOW, contracts=CONTRACTS)


def opened(root: Path) -> Path:
    """A workspace in which the halls and the singers are known."""
    files = root.parent / f"{root.name}-files"
    load(root, write(files, "halls.csv", HALLS), write(files, "singers.csv", SINGERS))
    return root


def load_evenings(root: Path, *rows: str, name: str = "evenings.csv") -> FileReport:
    """Load one file of evenings."""
    [report] = load(root, write(root.parent / "in", name, evenings(*rows)))
    return report


def rows(root: Path, query: str) -> list[tuple]:
    """What a query of the landing store yields."""
    with duckdb.connect(str(Workspace(root).landing), read_only=True) as con:
        return con.execute(query).fetchall()


def balance(report: FileReport) -> bool:
    """Whether every row received is accounted for."""
    parts: Sequence[int] = (report.accepted, report.known, report.quarantined, report.refused)
    return report.received == sum(parts)


def rules(report: FileReport) -> list[tuple[str, int | None, str | None]]:
    """The rules met, with line and column."""
    return [(one.rule, one.line, one.column) for one in report.findings]
