"""What the pack says to the support team: the classes it may look in on, and no child."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from app.queries import support

if TYPE_CHECKING:
    from app.access import Scope


def team_part(scope: Scope, school_id: str) -> dict[str, Any]:
    """The classes of the school by name."""
    rows = support.classes(scope, school_id)
    classes = [
        {"class_id": str(row["class_id"]), "title": str(row["title"])} for _, row in rows.iterrows()
    ]
    return {"class": None, "pupils": [], "classes": classes}
