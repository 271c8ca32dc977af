"""Which files a command means: those named, those in a named folder, or those in the inbox."""

from collections.abc import Iterable
from pathlib import Path

from ingest.errors import UsageProblem
from ingest.workspace import Workspace

# Files that programs leave behind while they have another one open, or that systems add.
_PASSED_OVER = (".", "~", "Thumbs.db", "desktop.ini")


def files(workspace: Workspace, named: Iterable[Path]) -> list[Path]:
    """The files to look at, sorted by name; `UsageProblem` when there are none."""
    given = list(named)
    if not given:
        return _inbox(workspace)
    found = [file for path in given for file in _named(path)]
    return sorted(dict.fromkeys(found), key=lambda path: path.name)


def in_folder(folder: Path) -> list[Path]:
    """The files directly in a folder that are meant to be read."""
    return sorted(
        path
        for path in folder.iterdir()
        if path.is_file() and not path.name.startswith(_PASSED_OVER)
    )


def _named(path: Path) -> list[Path]:
    if path.is_dir():
        return in_folder(path)
    if path.is_file():
        return [path]
    raise UsageProblem(
        "There is no such file.",
        where=str(path),
        rule="every file that is named must be there",
        remedy="check the spelling and the folder; nothing was loaded",
    )


def _inbox(workspace: Workspace) -> list[Path]:
    waiting = in_folder(workspace.inbox)
    if not waiting:
        raise UsageProblem(
            "The inbox is empty.",
            where=str(workspace.inbox),
            rule="without a file name, the files in the inbox are meant",
            remedy="put files there, or name them: roundelay load lessons.csv",
        )
    return waiting
