"""What is at work and what became of files: progress, marked lines, a place that is read aloud."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

import streamlit as st

from app.look import html


def progress(text: str, done: int, total: int) -> None:
    """A sentence, read aloud when it changes, and a bar; a bar without an end moves by itself."""
    far = f' value="{int(done)}" max="{int(total)}"' if total else ""
    html.put(
        f'<div class="ro-work"><p class="ro-text" role="status">{html.inline(text)}</p>'
        f'<progress aria-label="How far it is"{far}></progress></div>'
    )


def outcome(text: str) -> None:
    """How something ended, read aloud."""
    html.put(f'<p class="ro-text ro-outcome" role="status">{html.inline(text)}</p>')


def warned(text: str) -> None:
    """Something that stands in the way, read aloud."""
    html.put(f'<p class="ro-stale" role="alert">{html.inline(text)}</p>')


def file_line(shape: str, text: str, under: Iterable[str] = ()) -> None:
    """One file with its mark, its sentence and what was found in it."""
    inner = "".join(f"<li>{html.inline(line)}</li>" for line in under if line)
    found = f'<ul class="ro-found">{inner}</ul>' if inner else ""
    mark = f'<span class="ro-shape ro-shape-{shape}"></span>'
    html.put(f'<div class="ro-file">{mark}<div><p>{html.inline(text)}</p>{found}</div></div>')


@contextmanager
def beside(key: str) -> Iterator[None]:
    """What stands inside is set in one row where there is room."""
    with st.container(
        key=f"beside-{key}", horizontal=True, gap="small", vertical_alignment="center"
    ):
        yield


@contextmanager
def answers(key: str) -> Iterator[None]:
    """Buttons that belong to the line above, under its words and not under its mark."""
    with st.container(key=f"answers-{key}", horizontal=True, gap="small"):
        yield
