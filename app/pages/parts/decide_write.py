"""Writes a decision down, or says what stands in the way; what waits for the next build."""

from __future__ import annotations

from collections.abc import Mapping

from app import access, capture
from app.access import Visit
from app.look import desk as look
from app.pages.parts.choose import Row
from app.pages.parts.decide_form import FEED
from app.queries import school as ask
from app.queries import support
from app.text import decisions as say

Line = tuple[str, str]


def write(visit: Visit, school: Row, record: Mapping[str, str]) -> str:
    """Put a decision into the inbox; what stands in the way is said.

    `kept`; `used` when another decision was written down with this form; `stopped`.
    """
    workspace = access.workspace_setting()
    if workspace is None:
        raise access.NothingBuilt
    try:
        capture.keep(visit.scope, workspace, FEED, record, _known(visit, school))
    except capture.NotRight as answer:
        look.warned(say.not_right((one.field, one.rule) for one in answer.faults))
    except capture.CannotKeep as problem:
        look.warned(say.cannot_keep(str(problem)))
    except capture.AlreadyKept:
        look.warned(say.ALREADY)
        return "used"
    else:
        return "kept"
    return "stopped"


def waiting(visit: Visit) -> dict[Line, list[capture.Waiting]]:
    """What was written down and is not in this build yet, by class and routine."""
    workspace = access.workspace_setting()
    found: dict[Line, list[capture.Waiting]] = {}
    if workspace is None:
        return found
    shown = frozenset(support.decision_keys(visit.scope)["decision_id"])
    for one in capture.waiting(visit.scope, workspace, FEED, shown, visit.snapshot.built_at):
        line = (one.record.get("class_id", ""), one.record.get("routine_id", ""))
        found.setdefault(line, []).append(one)
    return found


def _known(visit: Visit, school: Row) -> dict[str, frozenset[str]]:
    classes = support.classes(visit.scope, school["school_id"])
    routines = ask.routines(visit.scope, school["school_id"])
    return {
        "classes": frozenset(classes["class_id"]),
        "routines": frozenset(routines["routine_id"]),
    }
