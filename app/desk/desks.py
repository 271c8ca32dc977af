"""Who may stand at the desk: a data steward and nobody else, whatever an address says."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from app.access import NothingBuilt, Reader, Refused, workspace_setting

_MADE_HERE = object()
_ROLE = "steward"


@dataclass(frozen=True)
class Desk:
    """One steward's desk over one workspace. Only `desk_for` can make one."""

    workspace: Path
    who: str
    maker: object = None

    def __post_init__(self) -> None:
        if self.maker is not _MADE_HERE:
            raise Refused("The desk is opened by the door only.")
        object.__setattr__(self, "maker", None)

    @property
    def inbox(self) -> Path:
        """Where uploads are kept until the command has taken them up."""
        return self.workspace / "inbox"

    @property
    def corrections(self) -> Path:
        """Where the command writes the sheets of rows that were set aside."""
        return self.workspace / "corrections"

    @property
    def snapshots(self) -> Path:
        """Where the builds stand that can be shown."""
        return self.workspace / "snapshots"


def desk_for(reader: Reader, who: str) -> Desk:
    """The desk of whoever is reading; `Refused` for every reader but the data steward.

    `who` is the name that decisions are kept under.
    """
    if reader.role != _ROLE:
        raise Refused("The desk belongs to the data steward.")
    workspace = workspace_setting()
    if workspace is None:
        raise NothingBuilt
    return Desk(workspace.resolve(), who, _MADE_HERE)
