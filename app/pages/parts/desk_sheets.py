"""Correction sheets as files to take away."""

from __future__ import annotations

import streamlit as st

from app import desk as room
from app.desk import Desk

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
