"""Which files a command means, and where they are kept once they are loaded.

Named files, those in a named folder, or those in the inbox. After loading, a copy of every file
that was not refused stands in `received/`; a roster is kept without the columns that must not be
stored. A refused file stays in the inbox until someone replaces it.
"""

import shutil
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from pathlib import Path

from ingest import durable, lock
from ingest.errors import UsageProblem
from ingest.ledger_held import Choice
from ingest.load import FileReport, load_files, release
from ingest.load_release import Released
from ingest.readers.oneroster import is_oneroster, stripped_copy
from ingest.readers.oneroster_strip import CannotStrip
from ingest.settings import Settings
from ingest.steps import Progress, no_progress
from ingest.workspace import Workspace

Loader = Callable[[Sequence[Path], Workspace, Settings, datetime, Progress], list[FileReport]]

# Files that programs leave behind while they have another one open, or that systems add.
_PASSED_OVER = (".", "~", "Thumbs.db", "desktop.ini")


def files(workspace: Workspace, named: Iterable[Path]) -> list[Path]:
    """The files to look at, sorted by name; `UsageProblem` when there are none."""
    given = list(named)
    if not given:
        return _waiting(workspace)
    found = [file for path in given for file in _named(path)]
    return sorted(dict.fromkeys(found), key=lambda path: path.name)


def load(
    paths: Sequence[Path],
    workspace: Workspace,
    settings: Settings,
    now: datetime,
    progress: Progress = no_progress,
    loader: Loader = load_files,
) -> list[FileReport]:
    """Load files while no other command writes, then keep them in `received/`.

    A file of the inbox leaves it once its copy is kept. `Busy` when another command is at work.
    """
    with lock.held(workspace, "loading files", now):
        # Another command may have taken files of the inbox up since they were listed.
        present = [path for path in paths if path.exists() or not _in_inbox(path, workspace)]
        reports = loader(present, workspace, settings, now, progress)
        told = _by_file(reports)
        for path in present:
            own = told.get(path.name, [])
            if own and not any(one.status == "refused" for one in own):
                _keep(path, workspace, settings, own[0].file_hash.partition("/")[0])
    return reports


def let_in(choice: Choice, workspace: Workspace, now: datetime, by: str) -> Released:
    """Let held rows in on a person's word; `UsageProblem` when none is meant by the choice."""
    with lock.held(workspace, "letting rows in", now):
        done = release(choice, workspace, now, by)
    if not done.released and not done.kept_held:
        raise UsageProblem(
            "No row that is set aside is meant by this.",
            where=choice.file_name or "",
            rule="the file, the rule and the line must fit a row that is still held",
            remedy="see what is held, and under which name, with: roundelay state",
        )
    return done


def _by_file(reports: Iterable[FileReport]) -> dict[str, list[FileReport]]:
    """The reports of each received file: one, or one for each table inside."""
    told: dict[str, list[FileReport]] = defaultdict(list)
    for one in reports:
        told[one.file_name.partition("/")[0]].append(one)
    return told


def _keep(path: Path, workspace: Workspace, settings: Settings, file_hash: str) -> None:
    kept = workspace.received / f"{file_hash[:12]}-{path.name}"
    if not kept.exists():
        part = kept.with_name(f"{kept.name}.tmp")
        if not _copy(path, part, settings):
            return
        # The copy is on the disk before the file leaves the inbox: a power cut loses neither.
        durable.flush_file(part)
        durable.replace(part, kept)
    if _in_inbox(path, workspace):
        path.unlink()


def _in_inbox(path: Path, workspace: Workspace) -> bool:
    return path.parent.resolve() == workspace.inbox


def _copy(path: Path, to: Path, settings: Settings) -> bool:
    if not is_oneroster(path):
        shutil.copyfile(path, to)
        return True
    try:
        stripped_copy(path, to, equity_reports=settings.roster.equity_reports)
    except CannotStrip:
        to.unlink(missing_ok=True)
        return False
    return True


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


def _waiting(workspace: Workspace) -> list[Path]:
    waiting = in_folder(workspace.inbox)
    if not waiting:
        raise UsageProblem(
            "The inbox is empty.",
            where=str(workspace.inbox),
            rule="without a file name, the files in the inbox are meant",
            remedy="put files there, or name them: roundelay load lessons.csv",
        )
    return waiting
