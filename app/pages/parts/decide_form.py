"""The blanks of a decision, in the words and bounds of its contract."""

from __future__ import annotations

import streamlit as st

from app import access, capture
from app.access import Visit
from app.look import cards, words
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.text import decisions as say
from app.text.dates import as_date

FEED = "offer_decisions"


def filled_in(visit: Visit, school: Row, row: Row, key: str) -> dict[str, str]:
    """Draw the blanks; the record as it stands in them now."""
    now = access.now().astimezone()
    decided_on = say.decision_day(school, now.date())
    suggested = say.come_back_on(decided_on, ask.setting(visit.scope, "offer_follow_up_days"))
    earliest = say.come_back_on(decided_on, 1)
    form = capture.form_of(FEED)
    decision, back, note = (form.blank(one) for one in ("decision", "follow_up_on", "note"))
    left, right = cards.columns(1, 1.25)
    with left:
        chosen = st.radio(
            decision.title,
            decision.codes,
            index=None,
            format_func=lambda code: say.DECISION[code],
            key=f"what-{key}",
        )
    with right:
        day = st.date_input(back.title, value=suggested, min_value=earliest, key=f"back-{key}")
        words.note(say.NEEDED_FOR)
        typed = st.text_area(note.title, max_chars=note.longest, height=70, key=f"note-{key}")
        words.note(note.description)
        words.note(say.TEACHER_SEES)
    return {
        "decision_id": key,
        "class_id": str(row["class_id"]),
        "routine_id": str(row["routine_id"]),
        "offer_id": str(row.get("offer_id") or ""),
        "decision": chosen or "",
        "decided_on": decided_on.isoformat(),
        "follow_up_on": _iso(day) if chosen in ("offer", "wait") else "",
        "decided_by": visit.reader.key,
        "note": " ".join(typed.split()),
        "entered_at": now.isoformat(timespec="seconds"),
    }


def _iso(value: object) -> str:
    when = as_date(value)
    return "" if when is None else when.isoformat()
