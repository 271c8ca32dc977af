"""The small text file `snapshots/current`: one line, the build that readers are to open.

It is replaced in one step, so a reader sees the old line or the new one and never anything else.
No symbolic link is used: those need special rights on Windows.
"""

import re

from ingest import durable
from ingest.errors import UsageProblem
from ingest.steps import Hook, Step, no_hook
from ingest.workspace import Workspace

DESCRIPTION = "build.json"
_BUILD_ID = re.compile(r"\d{4}-\d{2}-\d{2}-\d{8}T\d{6}")


def is_build_id(name: str) -> bool:
    """Whether a name has the form as-of date, dash, moment of the build."""
    return _BUILD_ID.fullmatch(name) is not None


def read(workspace: Workspace) -> str | None:
    """The current build, or none when nothing was ever published."""
    try:
        name = workspace.current.read_text(encoding="utf-8").strip()
    except FileNotFoundError:
        return None
    return name if is_build_id(name) else None


def published(workspace: Workspace) -> list[str]:
    """Every complete snapshot, oldest build first. The description is written last."""
    if not workspace.snapshots.is_dir():
        return []
    names = [
        folder.name
        for folder in workspace.snapshots.iterdir()
        if is_build_id(folder.name) and (folder / DESCRIPTION).is_file()
    ]
    return sorted(names, key=lambda name: (name[11:], name))


def flip(workspace: Workspace, build_id: str, hook: Hook = no_hook) -> None:
    """Make a complete snapshot the current one."""
    if build_id not in published(workspace):
        raise UsageProblem(
            f"There is no build {build_id} to go to.",
            where=str(workspace.snapshots),
            rule="only a finished build can be shown",
            remedy="see the builds that are kept with: roundelay state",
        )
    ready = durable.temporary(workspace.current, f"{build_id}\n")
    hook(Step.POINTER_WRITTEN)
    durable.replace(ready, workspace.current)
    hook(Step.FLIPPED)


def back(workspace: Workspace, to: str | None = None) -> str:
    """Go to an earlier build: the one named, or the one before the current. Returns its name."""
    names = published(workspace)
    current = read(workspace)
    if to is None:
        earlier = names[: names.index(current)] if current in names else []
        if not earlier:
            raise UsageProblem(
                "There is no earlier build to go back to.",
                where=str(workspace.snapshots),
                rule="as many builds are kept as the setting retention.keep_builds says",
                remedy="see the builds that are kept with: roundelay state",
            )
        to = earlier[-1]
    flip(workspace, to)
    return to
