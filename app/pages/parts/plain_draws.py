"""What a replay of the draws found in one class, for its teacher or the support team."""

from __future__ import annotations

import pandas as pd

from app.access import Visit
from app.look import evidence, words
from app.pages.parts.choose import Row
from app.queries import number as look
from app.queries import room, support
from app.text import data_matters, plain_tables
from app.text.places import Place


def checks(visit: Visit, school: Row, place: Place) -> bool:
    """Findings of the replay, and whether turns fell as declared."""
    if visit.reader.role == "teacher":
        checks, audits = pd.DataFrame(), room.draw_audits(visit.scope, place.term)
    else:
        checks = look.turn_checks(visit.scope, place.key, place.term)
        audits = support.draw_audits(visit.scope, str(school["school_id"]), place.term)
        audits = audits[audits["class_id"] == place.key]
    if not checks.empty:
        evidence.table(plain_tables.checks_table(checks), "What the replay looked for")
    if not audits.empty:
        words.note(
            "Turns set against many honest draws of the same days, simulated by the declared way."
        )
        evidence.table(data_matters.audits_table(audits), "Whether turns fell as declared")
    return not (checks.empty and audits.empty)
