"""What is at work at the steward's desk, and what became of the last work."""

from __future__ import annotations

from dataclasses import asdict

import streamlit as st

from app import desk as room
from app.desk import Desk, Work
from app.look import cards, words
from app.look import desk as look
from app.pages.parts.desk_sheets import sheet_button
from app.text import desk as told

_FINDINGS_SHOWN = 8


def at_work(desk: Desk, *kinds: str, has_pages: bool = True) -> None:
    """What is at work now, whatever it is; or how the last work of these kinds ended.

    Before the first build there are no other pages to lead to.
    """
    work = room.current(desk)
    if work is None or (work.is_over and work.kind not in kinds):
        return
    with cards.card("work"):
        if work.is_over:
            _ended(desk, work, has_pages=has_pages)
            return
        words.card_title("At work")
        _follow(work)
        words.note(f"Begun by {work.who}. It goes on when you close this page.")
        if st.button("Stop it", key="stop-work"):
            room.stop(desk)


@st.fragment(run_every=1.0)
def _follow(work: Work) -> None:
    """Drawn again each second by itself, until the work is over; then the whole page is."""
    if work.is_over:
        st.rerun(scope="app")
    heard = work.heard
    look.progress(
        told.doing(work.kind, heard.label, heard.done, heard.total), heard.done, heard.total
    )
    for verdict in heard.verdicts:
        row = asdict(verdict)
        look.file_line(told.mark(row), told.verdict(row))


def _ended(desk: Desk, work: Work, *, has_pages: bool) -> None:
    words.card_title("What became of it")
    look.outcome(told.ended(work.kind, work.outcome, work.released))
    words.lines(told.warning(one) for one in work.warnings)
    if work.trouble is not None:
        words.plain(told.trouble(asdict(work.trouble)))
    if work.outcome == "done":
        words.lead(told.totals([asdict(verdict) for verdict in work.heard.verdicts]))
    for number, verdict in enumerate(work.heard.verdicts):
        row = asdict(verdict)
        found = [asdict(one) for one in verdict.findings if one.verdict != "known"]
        lines = [told.finding(one) for one in found[:_FINDINGS_SHOWN]]
        lines.append(told.more_findings(len(found[_FINDINGS_SHOWN:])))
        look.file_line(told.mark(row), told.verdict(row), lines)
        if verdict.correction_sheet:
            with look.answers(f"work-{number}"):
                sheet_button(desk, verdict.correction_sheet, verdict.file_name, f"work-{number}")
    if any(verdict.correction_sheet for verdict in work.heard.verdicts):
        words.note(told.SHEET_NOTE)
        if has_pages:
            cards.way("set_aside", "Decide about the rows set aside")
