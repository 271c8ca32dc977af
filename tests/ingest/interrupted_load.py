"""A load in a process of its own, to be stopped in the middle: by a signal, or by a full disk.

Arguments: workspace, file (or a folder of records), and `hold` or the most bytes that a file of
this process may have.
"""

from __future__ import annotations

import sys
from pathlib import Path

from ingest.errors import Problem
from ingest.load import load_files
from ingest.workspace import Workspace
from tests.ingest import door, records


def _hold(step: str, done: int, total: int) -> None:
    """Once the rows stand in the open transaction: say so, then wait to be killed."""
    if step.endswith("checked"):
        print("ready", flush=True)
        sys.stdin.read()


def _limit(size: int) -> None:
    import resource

    resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


def main(root: Path, path: Path, how: str) -> int:
    """Load; a foreseen problem is printed and ends with 3."""
    if how != "hold":
        _limit(int(how))
    progress = _hold if how == "hold" else (lambda step, done, total: None)
    try:
        paths, contracts = [path], door.CONTRACTS
        if path.is_dir():
            paths, contracts = sorted(path.iterdir()), records.CONTRACTS
        load_files(paths, Workspace(root), door.SETTINGS, door.NOW, progress, contracts)
    except Problem as problem:
        print(problem)
        return 3
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3]))
