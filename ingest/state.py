"""What came in, what was set aside and why, how fresh it is, and which build is shown.

Reads the ledger and the snapshots; changes nothing.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from ingest import ledger, pointer, snapshot
from ingest.settings import Settings
from ingest.workspace import Workspace

_FILES = """
    select
        file_name, feed, status, received_at, received_count, accepted_count, known_count,
        quarantined_count, refused_count, warning_count
    from ledger.files
    order by received_at desc, file_name, feed
"""
_REASONS = """
    select
        findings.file_name, findings.feed, findings.rule_name, findings.verdict,
        any_value(findings.message order by findings.line_number) as message,
        any_value(findings.remedy order by findings.line_number) as remedy,
        count(*) as finding_count,
        min(findings.line_number) as first_line
    from ledger.findings as findings
    where findings.verdict in ('refuse', 'quarantine', 'warn')
    group by all
    order by findings.file_name, findings.verdict, finding_count desc, findings.rule_name
"""
_HELD = "select count(*) from ledger.quarantine where status = 'held'"


@dataclass(frozen=True)
class FileLine:
    """One file of the ledger with its counts."""

    file_name: str
    feed: str
    status: str
    received_at: datetime
    received: int
    accepted: int
    known: int
    quarantined: int
    refused: int
    warnings: int

    @property
    def balances(self) -> bool:
        """Whether nothing that was received is lost."""
        return self.received == self.accepted + self.known + self.quarantined + self.refused


@dataclass(frozen=True)
class Reason:
    """One rule that rows of a file met: how often, where first, and what to do."""

    file_name: str
    feed: str
    rule: str
    verdict: str
    message: str
    remedy: str
    count: int
    first_line: int | None


@dataclass(frozen=True)
class Freshness:
    """When a feed last brought something, and how many rows it has in all."""

    feed: str
    last_received_at: datetime
    file_count: int
    row_count: int


@dataclass(frozen=True)
class State:
    """Everything the state command tells."""

    workspace: Path
    school_name: str
    is_demo: bool
    current: str | None
    as_of_on: str | None
    built_at: str | None
    builds: tuple[str, ...]
    waiting: tuple[str, ...]
    files: tuple[FileLine, ...]
    reasons: tuple[Reason, ...]
    fresh: tuple[Freshness, ...]
    held_count: int

    @property
    def balances(self) -> bool:
        """Whether every file balances."""
        return all(line.balances for line in self.files)

    @property
    def new_files(self) -> tuple[FileLine, ...]:
        """Files that brought rows after the current build was made."""
        if self.built_at is None:
            return tuple(line for line in self.files if line.accepted)
        built_at = datetime.fromisoformat(self.built_at)
        return tuple(line for line in self.files if line.accepted and line.received_at > built_at)

    def as_dict(self) -> Mapping[str, Any]:
        """The same for machines; moments in ISO 8601."""
        return {
            **asdict(self),
            "workspace": str(self.workspace),
            "balances": self.balances,
            "new_files": [line.file_name for line in self.new_files],
            "files": [{**asdict(line), "balances": line.balances} for line in self.files],
        }


def read(workspace: Workspace, settings: Settings) -> State:
    """The state of a workspace; `Busy` while another command has the landing store open."""
    files, reasons, held_count = _ledger(workspace)
    current = pointer.read(workspace)
    told = snapshot.read(workspace, current).told if current else {}
    return State(
        workspace=workspace.root,
        school_name=settings.school_name,
        is_demo=settings.is_demo,
        current=current,
        as_of_on=told.get("as_of_on"),
        built_at=told.get("built_at"),
        builds=tuple(pointer.published(workspace)),
        waiting=tuple(sorted(path.name for path in workspace.inbox.iterdir() if _is_plain(path))),
        files=files,
        reasons=reasons,
        fresh=_freshness(files),
        held_count=held_count,
    )


def _is_plain(path: Path) -> bool:
    return path.is_file() and not path.name.startswith((".", "~"))


def _ledger(workspace: Workspace) -> tuple[tuple[FileLine, ...], tuple[Reason, ...], int]:
    if not workspace.landing.is_file():
        return (), (), 0
    with ledger.reading(workspace.landing) as connection:
        files = tuple(FileLine(*row) for row in connection.execute(_FILES).fetchall())
        reasons = tuple(Reason(*row) for row in connection.execute(_REASONS).fetchall())
        held = connection.execute(_HELD).fetchone()
    return files, reasons, int(held[0]) if held else 0


def _freshness(files: tuple[FileLine, ...]) -> tuple[Freshness, ...]:
    feeds = sorted({line.feed for line in files if line.feed and line.status != "refused"})
    return tuple(_fresh(feed, [line for line in files if line.feed == feed]) for feed in feeds)


def _fresh(feed: str, lines: list[FileLine]) -> Freshness:
    return Freshness(
        feed=feed,
        last_received_at=max(line.received_at for line in lines),
        file_count=len(lines),
        row_count=sum(line.accepted for line in lines),
    )
