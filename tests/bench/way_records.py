"""Loading what waits in an inbox: `together` as the command does it, `alone` file by file."""

import sys
from collections.abc import Mapping
from datetime import UTC, date, datetime, time
from pathlib import Path

from ingest import bundles, intake
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.bench.way import told


def main(folder: Path, how: str, day: str) -> None:
    """Load and clear the inbox on the evening of a day."""
    now = datetime.combine(date.fromisoformat(day), time(22), UTC)
    if how == "alone":
        # A bundle of one is no bundle: it goes the way of any file.
        bundles.MOST_FILES = 1
    workspace = Workspace(folder)
    settings = Settings(school_id="quillbrook", school_name="Quillbrook Primary (invented)")

    def work() -> Mapping[str, object]:
        files = intake.files(workspace, [])
        reports = intake.load(files, workspace, settings, now)
        return {
            "files": len(files),
            "left": sum(1 for _ in workspace.inbox.iterdir()),
            "accepted": sum(one.accepted for one in reports),
            "quarantined": sum(one.quarantined for one in reports),
            "warned": sum(bool(one.findings) for one in reports),
        }

    told(work)


if __name__ == "__main__":
    main(Path(sys.argv[1]), *sys.argv[2:])
