"""Paper for the room, printed from the small invented school as one reader."""

from __future__ import annotations

from pathlib import Path

from app.access import Reader, Scope, Snapshot, current_snapshot, scope_for
from app.paper.kinds import KINDS
from tests.app.paper.reading import Printed

A4, A4_ACROSS = (595, 842), (842, 595)


def as_teacher(workspace: Path, class_id: str = "room-3") -> tuple[Scope, Snapshot]:
    snapshot = current_snapshot(workspace)
    return scope_for(snapshot, Reader("teacher", class_id)), snapshot


def printed(kind: str, opened: tuple[Scope, Snapshot], routine: str = "") -> Printed:
    return Printed(KINDS[kind](*opened, "", routine))


def sizes(page: Printed) -> set[tuple[int, int]]:
    boxes = [[round(float(one)) for one in sheet.mediabox[2:]] for sheet in page.file.pages]
    return {(width, height) for width, height in boxes}
