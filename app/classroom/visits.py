"""Who is asking, as the door says, and what that reader may have of the current build."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from app import access
from app.access import Refused, Scope, Snapshot
from app.door.wall import KEY, Asked

if TYPE_CHECKING:
    from starlette.requests import Request

READERS = ("teacher", "support")
# In the invented school without a sign-in: whose page is looked at, as chosen in the dashboard.
VIEW = "view_as"
_NOT_YOURS = "This page is for teachers and for the support team: what happens in class is theirs."


class Ended(Exception):  # noqa: N818 - an answer, not a mistake
    """The visit is over, or never began."""


@dataclass(frozen=True)
class Asker:
    """A visit to the classroom page. `until` is when it is over at the latest (0: not said)."""

    snapshot: Snapshot
    scope: Scope
    workspace: Path
    subject: str
    shown_name: str
    source: str
    person_id: str
    until: float

    @property
    def role(self) -> str:
        """`teacher` (a class tablet too) or `support`."""
        return self.scope.reader.role

    @property
    def class_id(self) -> str | None:
        """The one class of a teacher or of a class tablet."""
        return self.scope.reader.class_id

    @property
    def owner(self) -> str:
        """Whose records a device may send in this visit: those of this reader."""
        return self.scope.reader.key

    @property
    def self_key(self) -> str:
        """Tells persons at one device apart without saying who they are."""
        return self_key(self.owner, self.subject)


def self_key(reader: str, subject: str) -> str:
    """A word for one person as one reader, from which nobody finds back to her."""
    return hashlib.sha256(f"{reader}\n{subject}".encode()).hexdigest()[:16]


def asker(request: Request, workspace: Path | None) -> Asker:
    """The visit of a request; `Ended`, `Refused`, `NothingBuilt` or `Broken` when there is none."""
    reader_text, asked = _reader_text(request)
    reader = access.parse_reader(reader_text)
    if reader is None or reader.role not in READERS:
        raise Refused(_NOT_YOURS)
    snapshot = access.current_snapshot(workspace)
    assert workspace is not None  # noqa: S101 - without a workspace nothing is built
    scope = access.scope_for(snapshot, reader)
    person = asked.identity if asked else None
    return Asker(
        snapshot=snapshot,
        scope=scope,
        workspace=workspace,
        subject=person.subject if person else "",
        shown_name=person.shown_name if person else "",
        source=person.source if person else "",
        person_id=person.person_id if person else "",
        until=person.until if person else 0.0,
    )


def is_for(request: Request) -> bool:
    """Whether the page is for whoever asks, by role alone."""
    reader = access.parse_reader(_reader_text(request)[0])
    return reader is not None and reader.role in READERS


def _reader_text(request: Request) -> tuple[str, Asked | None]:
    asked = request.scope.get(KEY)
    if isinstance(asked, Asked):
        if asked.identity is None:
            raise Ended
        return asked.identity.reader, asked
    # Nobody signs in: one reader, this machine only; a choice counts in the invented school.
    chosen = request.query_params.get(VIEW) or request.cookies.get(cookie_name(), "")
    setting = access.reader_setting()
    return (chosen if chosen and _is_demo() else setting), None


def signs_in(request: Request) -> bool:
    """Whether there is a sign-in, so that nobody chooses who she is."""
    return isinstance(request.scope.get(KEY), Asked)


def cookie_name() -> str:
    """The cookie that keeps the choice of the invented school."""
    return "roundelay-view-as"


def _is_demo() -> bool:
    try:
        return access.current_snapshot(access.workspace_setting()).is_demo
    except (access.NothingBuilt, access.Broken):
        return False
