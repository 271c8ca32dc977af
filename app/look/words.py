"""Headings, sentences, notes and chips."""

from __future__ import annotations

from collections.abc import Iterable

from app.look import html
from app.look.html import inline, items, paragraph


def title(text: str, under: str = "") -> None:
    """The one heading of a page and the line under it."""
    quiet = f'<p class="ro-sub">{inline(under)}</p>' if under else ""
    html.put(f'<h1 class="ro-title">{inline(text)}</h1>{quiet}')


def card_title(text: str) -> None:
    """The heading of a card."""
    paragraph(text, "card-title", "h2")


def question(text: str) -> None:
    """The small question that a headline card answers."""
    paragraph(text, "question", "h2")


def sentence(text: str) -> None:
    """A headline sentence with its number in bold."""
    paragraph(text, "sentence")


def lead(text: str) -> None:
    """A sentence that opens a page or a piece of evidence."""
    paragraph(text, "lead")


def note(text: str) -> None:
    """The quiet words under a number or a chart."""
    paragraph(text, "note")


def plain(text: str) -> None:
    """Ordinary text."""
    paragraph(text, "text")


def row_name(name: str, under: str = "") -> None:
    """The name of a row of charts and a quiet word under it."""
    html.put(html.row_name(name, under))


def chips(words: Iterable[str]) -> None:
    """Short words side by side."""
    items(words, "chips")


def lines(words: Iterable[str], opened: str | None = None) -> None:
    """A list of short sentences."""
    items(words, "lines", opened)
