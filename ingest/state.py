"""What came in, what was set aside and why, how fresh it is, and which build is shown.

Reads the ledger and the snapshots; changes nothing.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from ingest import corrections, ledger, pointer, snapshot
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
_HELD = """
    with held as (
        select
            held.file_name, held.feed, held.file_hash, held.line_number, held.can_release,
            list_sort(held.rule_names) as rule_names,
            string_agg(distinct findings.message, ' ' order by findings.message) as message,
            string_agg(distinct findings.remedy, ' ' order by findings.remedy) as remedy
        from ledger.quarantine as held
        left join ledger.findings as findings on findings.file_hash = held.file_hash
            and findings.feed = held.feed and findings.file_name = held.file_name
            and findings.line_number = held.line_number and findings.verdict = 'quarantine'
        where held.status = 'held'
        group by all
    )
    select
        file_name, feed, file_hash, rule_names, can_release,
        any_value(message order by line_number) as message,
        any_value(remedy order by line_number) as remedy,
        count(*) as row_count,
        list(line_number order by line_number) as lines
    from held
    group by file_name, feed, file_hash, rule_names, can_release
    order by file_name, feed, min(line_number)
"""


_LET_IN = """
    select count(*) from ledger.quarantine
    where status = 'released' and ($built_at is null or decided_at > cast($built_at as timestamptz))
"""


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
class Held:
    """Rows of one file that are still set aside for the same reasons, and whether a person may let
    them in. `correction_sheet` names their spreadsheet where there is one."""

    file_name: str
    feed: str
    rules: tuple[str, ...]
    can_release: bool
    message: str
    remedy: str
    count: int
    lines: tuple[int, ...]
    correction_sheet: str | None


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
    held: tuple[Held, ...]
    let_in_count: int
    """Rows that were let in on a person's word after the current build was made."""

    @property
    def held_count(self) -> int:
        """How many rows are still set aside."""
        return sum(one.count for one in self.held)

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
            "held_count": self.held_count,
            "new_files": [line.file_name for line in self.new_files],
            "files": [{**asdict(line), "balances": line.balances} for line in self.files],
        }


def read(workspace: Workspace, settings: Settings) -> State:
    """The state of a workspace; `Busy` while another command has the landing store open."""
    current = pointer.read(workspace)
    told = snapshot.read(workspace, current).told if current else {}
    files, reasons, held, let_in_count = _ledger(workspace, told.get("built_at"))
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
        held=held,
        let_in_count=let_in_count,
    )


def _is_plain(path: Path) -> bool:
    return path.is_file() and not path.name.startswith((".", "~"))


def _ledger(
    workspace: Workspace, built_at: str | None
) -> tuple[tuple[FileLine, ...], tuple[Reason, ...], tuple[Held, ...], int]:
    if not workspace.landing.is_file():
        return (), (), (), 0
    with ledger.reading(workspace.landing) as connection:
        files = tuple(FileLine(*row) for row in connection.execute(_FILES).fetchall())
        reasons = tuple(Reason(*row) for row in connection.execute(_REASONS).fetchall())
        held = connection.execute(_HELD).fetchall()
        let_in = connection.execute(_LET_IN, {"built_at": built_at}).fetchone()
    told = tuple(_held(workspace, row) for row in held)
    return files, reasons, told, int(let_in[0]) if let_in else 0


def _held(workspace: Workspace, row: tuple[Any, ...]) -> Held:
    file_name, feed, file_hash, rules, can_release, message, remedy, count, lines = row
    sheet = corrections.sheet_path(workspace.corrections, feed, file_hash)
    return Held(
        file_name=file_name,
        feed=feed,
        rules=tuple(rules),
        can_release=can_release,
        message=message or "",
        remedy=remedy or "",
        count=count,
        lines=tuple(lines),
        correction_sheet=sheet.name if sheet.is_file() else None,
    )


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
