"""What is at work at the steward's desk, and what became of the last work."""

from __future__ import annotations

from dataclasses import asdict

import streamlit as st

from app import desk as room
from app.desk import Desk, Work
from app.look import cards, words
from app.look import desk as look
from app.text import desk as told

_FINDINGS_SHOWN = 8
_BOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def at_work(desk: Desk, *kinds: str) -> None:
    """What is at work now, whatever it is; or how the last work of these kinds ended."""
    work = room.current(desk)
    if work is None or (work.is_over and work.kind not in kinds):
        return
    with cards.card("work"):
        if work.is_over:
            _ended(desk, work)
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


def _ended(desk: Desk, work: Work) -> None:
    words.card_title("What became of it")
    look.outcome(told.ended(work.kind, work.outcome))
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
            sheet_button(desk, verdict.correction_sheet, verdict.file_name, f"work-{number}")
    if any(verdict.correction_sheet for verdict in work.heard.verdicts):
        words.note(told.SHEET_NOTE)


def sheet_button(desk: Desk, name: str, file_name: str, key: str) -> None:
    """The correction sheet of a file, read from the disk when it is asked for."""
    if name not in room.sheets(desk):
        return
    st.download_button(
        f"Download the correction sheet of {file_name}",
        lambda: room.sheet(desk, name),
        file_name=name,
        mime=_BOOK,
        key=f"sheet-{key}",
        on_click="ignore",
    )
