"""Makes a new workspace: its folders and its settings file. Asks nothing, overwrites nothing."""

import re
import unicodedata
from pathlib import Path
from zoneinfo import available_timezones

from ingest import durable
from ingest.errors import UsageProblem, WorkspaceProblem
from ingest.settings_file import new_file
from ingest.workspace import Workspace


def create(
    folder: Path, school_name: str | None, school_id: str | None, zone: str, is_demo: bool = False
) -> Workspace:
    """A new workspace in `folder`; name and id come from the folder's name when not given."""
    workspace = Workspace(folder)
    _check(workspace, zone)
    name = school_name or workspace.root.name.replace("_", " ").replace("-", " ").strip().title()
    try:
        workspace.make_folders()
        text = new_file(school_id or key_from(name), name, zone, is_demo)
        durable.write_text(workspace.settings_path, text)
    except OSError as fault:
        raise WorkspaceProblem(
            "The folder cannot be made.",
            where=str(workspace.root),
            rule=fault.strerror or str(fault),
            remedy="choose a folder that you may write in",
        ) from fault
    return workspace


def key_from(name: str) -> str:
    """A key made of a name: lower-case letters, digits and dashes; `school` when none are left."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii")
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-") or "school"


def _check(workspace: Workspace, zone: str) -> None:
    if workspace.settings_path.exists():
        raise UsageProblem(
            "There is a workspace in this folder already.",
            where=str(workspace.root),
            rule="nothing is overwritten",
            remedy="use it as it is, or name another folder",
        )
    if zone not in available_timezones():
        raise UsageProblem(
            f"The time zone '{zone}' is not known.",
            rule="it is a name of the time zone database",
            remedy="for example: --zone Europe/Dublin",
        )
