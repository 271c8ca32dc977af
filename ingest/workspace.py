"""The folder of one school (or one district): where its files, store, builds and snapshots live."""

from dataclasses import dataclass
from pathlib import Path

from ingest.errors import WorkspaceProblem

SETTINGS_NAME = "roundelay.toml"
DEMO_NAME = "demo"
FOLDERS = ("inbox", "received", "corrections", "builds", "snapshots", "logs")


@dataclass(frozen=True)
class Workspace:
    """The places inside one workspace. Making it touches no file; `root` is made absolute."""

    root: Path

    def __post_init__(self) -> None:
        object.__setattr__(self, "root", Path(self.root).expanduser().resolve())

    @property
    def settings_path(self) -> Path:
        """The one settings file."""
        return self.root / SETTINGS_NAME

    @property
    def inbox(self) -> Path:
        """Files waiting to be loaded."""
        return self.root / "inbox"

    @property
    def received(self) -> Path:
        """Every file that was loaded, as it came."""
        return self.root / "received"

    @property
    def corrections(self) -> Path:
        """Spreadsheets of rows that were set aside, to correct and load again."""
        return self.root / "corrections"

    @property
    def landing(self) -> Path:
        """The landing store: every accepted row, and the ledger."""
        return self.root / "landing.duckdb"

    @property
    def builds(self) -> Path:
        """Warehouse files, one folder for each build. Identifiable; never read by the dashboard."""
        return self.root / "builds"

    @property
    def snapshots(self) -> Path:
        """What the dashboard reads: one folder for each published build."""
        return self.root / "snapshots"

    @property
    def current(self) -> Path:
        """The small text file that names the current snapshot."""
        return self.snapshots / "current"

    @property
    def logs(self) -> Path:
        """Logs of builds and of unexpected failures."""
        return self.root / "logs"

    @property
    def lock(self) -> Path:
        """Held by the one command that is writing in this workspace."""
        return self.root / "work.lock"

    def make_folders(self) -> None:
        """Make every folder of the workspace that is not there yet."""
        for name in FOLDERS:
            (self.root / name).mkdir(parents=True, exist_ok=True)


def open_workspace(root: Path) -> Workspace:
    """The workspace at `root`, its folders present; `WorkspaceProblem` when there is none."""
    workspace = Workspace(root)
    if not workspace.settings_path.is_file():
        raise WorkspaceProblem(
            "This folder is not a workspace yet.",
            where=str(workspace.root),
            rule=f"a workspace has a settings file named {SETTINGS_NAME}",
            remedy="make one with: roundelay new <folder>, or name yours with --workspace <folder>",
        )
    workspace.make_folders()
    return workspace


def find(start: Path) -> Workspace:
    """The workspace that `start` means: that folder, one above it, or the only one just inside it.

    So the commands work in the folder in which `roundelay new` was called as well. An invented
    school inside counts only when there is no other. `WorkspaceProblem` when there is none or it
    cannot be told.
    """
    start = start.resolve()
    for folder in (start, *start.parents):
        if (folder / SETTINGS_NAME).is_file():
            return open_workspace(folder)
    inside = sorted(path.parent for path in start.glob(f"*/{SETTINGS_NAME}"))
    inside = [folder for folder in inside if folder.name != DEMO_NAME] or inside
    if len(inside) > 1:
        raise WorkspaceProblem(
            "There are several workspaces here.",
            where=", ".join(folder.name for folder in inside),
            rule="a command works in one workspace",
            remedy="name it with --workspace <folder>",
        )
    return open_workspace(inside[0] if inside else start)
