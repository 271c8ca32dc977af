"""What the pack says about the school's routines, each with its ordered steps."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pandas as pd

from app.queries import school

if TYPE_CHECKING:
    from app.access import Scope


def routines_part(scope: Scope, school_id: str) -> list[dict[str, Any]]:
    """The routines in the school's own order, in their present wording."""
    steps = school.steps(scope, school_id)
    return [
        {
            "routine_id": str(row["routine_id"]),
            "version": int(row["version"]),
            "name": str(row["name"]),
            "setting": _text(row["setting"]),
            "kind": _text(row["kind"]),
            "expected_voice_level": _whole(row["expected_voice_level"]),
            "accepted_alternatives": _text(row["accepted_alternatives"]),
            "steps": [
                {
                    "number": int(step["step_number"]),
                    "text": str(step["step_text"]),
                    "is_critical": bool(step["is_critical"]),
                }
                for _, step in steps[steps["routine_id"] == row["routine_id"]].iterrows()
            ],
        }
        for _, row in school.routines(scope, school_id).iterrows()
    ]


def _text(value: object) -> str | None:
    return value if isinstance(value, str) and value else None


def _whole(value: Any) -> int | None:  # noqa: ANN401 - a cell of a frame
    return None if pd.isna(value) else int(value)
