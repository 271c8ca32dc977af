"""Correction sheets as files to take away."""

from __future__ import annotations

import streamlit as st

from app import desk as room
from app.desk import Desk, Held
from app.look import desk as look
from app.text import desk_rows as about

_BOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


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
        wrap=True,
    )


def to_correct(desk: Desk, others: list[Held]) -> None:
    """Each file of which rows need a correction, its reasons and its sheet."""
    files: dict[str, list[Held]] = {}
    for held in others:
        files.setdefault(held.file_name, []).append(held)
    for number, (file_name, found) in enumerate(files.items()):
        text = about.to_correct(file_name, [one.count for one in found])
        reasons = [f"{about.lines_up(one.lines)}: {one.message}" for one in found[:8]]
        look.file_line("hollow", text, reasons)
        for sheet in dict.fromkeys(one.correction_sheet for one in found):
            if sheet:
                with look.answers(f"sheet-{number}-{sheet}"):
                    sheet_button(desk, sheet, file_name, f"correct-{number}-{sheet}")
