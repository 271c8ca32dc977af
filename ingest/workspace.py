"""The folder of one school (or one district): where its files, store, builds and snapshots live."""

from dataclasses import dataclass
from pathlib import Path

from ingest.errors import WorkspaceProblem

SETTINGS_NAME = "roundelay.toml"
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
