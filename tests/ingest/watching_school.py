"""Watches a workspace in a process of its own, with the stand-in for dbt; may hold in a build.

python tests/ingest/watching_school.py <workspace> [hold]
"""

from __future__ import annotations

import sys
import time
from datetime import date, datetime
from pathlib import Path

from ingest import build, lock, stopping, watching
from ingest.build import Built, Maker
from ingest.settings import Settings, load
from ingest.steps import Hook, Step, no_hook
from ingest.terminal import Terminal
from ingest.watch import Works
from ingest.workspace import Workspace
from tests.ingest.worlds import compute


def _hold(step: Step) -> None:
    """In the middle of a build: say so, then take longer than anybody waits."""
    if step == Step.COMPUTED:
        print("building", flush=True)
        time.sleep(600)


def main(root: str, how: str = "") -> None:
    hook: Hook = _hold if how == "hold" else no_hook

    def made(workspace: Workspace, own: Settings, day: date, moment: datetime) -> Built:
        return build.run(workspace, own, day, moment, maker=Maker(compute=compute, hook=hook))

    workspace = Workspace(Path(root))
    with lock.watching(workspace), stopping.stoppable():
        try:
            own = load(workspace.settings_path)
            watching.go_on(Terminal(), workspace, own, time.sleep, Works(build=made))
        except KeyboardInterrupt:
            print("stopped", flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
