"""Our own way: the file through the door, with its ledger, quarantine and correction sheet.

`single` checks every single-row rule and lands with the row hash, versions and ledger; `whole` adds
every check across rows and files.
"""

import sys
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from ingest.contracts import Contract, load_contracts
from ingest.load import load_files
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.bench.way import told

FEED = "participation_draws"
NOW = datetime(2027, 1, 1, 12, 0, tzinfo=UTC)


def contracts(kind: str) -> Mapping[str, Contract]:
    """The contracts, with only what looks at one row when `kind` is single."""
    found = dict(load_contracts())
    if kind == "single":
        rules = tuple(rule for rule in found[FEED].rules if rule.kind == "row")
        found[FEED] = replace(found[FEED], rules=rules, foreign_keys=(), content_identifies=False)
    return found


def main(path: Path, folder: Path, kind: str) -> None:
    """Load the file into a fresh workspace."""
    workspace = Workspace(folder / "workspace")
    workspace.root.mkdir(parents=True)
    settings = Settings(school_id="quillbrook", school_name="Quillbrook Primary (invented)")

    def work() -> Mapping[str, object]:
        [report] = load_files([path], workspace, settings, NOW, contracts=contracts(kind))
        return {
            "rows": report.received,
            "accepted": report.accepted,
            "quarantined": report.quarantined,
        }

    told(work)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3])
