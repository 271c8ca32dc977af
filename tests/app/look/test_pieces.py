"""Pieces of a page that follow each other become one, in their order and in their place."""

from __future__ import annotations

import re

import pytest
from streamlit.testing.v1 import AppTest

from app.look import html


def shown(page: AppTest) -> list[str]:
    assert not page.exception
    return [str(piece.proto.body) for piece in page.get("html")]


def told(page: AppTest) -> list[list[str]]:
    """The words of each element, without its marks."""
    return [re.sub(r"<[^>]*>", " ", one).split() for one in shown(page)]


def test_outside_a_body_each_piece_is_shown_at_once() -> None:
    def page() -> None:
        from app.look import words

        words.note("one")
        words.note("two")

    assert told(AppTest.from_function(page).run()) == [["one"], ["two"]]


def test_in_a_body_pieces_are_joined_and_stay_in_their_place() -> None:
    def page() -> None:
        from app.look import cards, html, words

        with html.joined():
            words.note("before")
            left, right = cards.columns(1, 1)
            with left, cards.card("a"):
                words.note("left one")
                words.note("left two")
            with right:
                words.note("right")
            with left:
                words.note("left three")
            words.note("after one")
            with cards.fold("Fold", "f"):
                words.note("folded")
            words.note("after two")

    run = AppTest.from_function(page).run()
    assert told(run) == [
        ["before"], ["left", "one", "left", "two"], ["left", "three"], ["right"],
        ["after", "one"], ["folded"], ["after", "two"],
    ]  # fmt: skip
    left, right = run.columns
    assert [str(one.proto.body) for one in right.get("html")] == ['<p class="ro-note">right</p>']
    assert len(left.get("html")) == 2


def test_what_is_folded_away_is_one_piece_with_its_label() -> None:
    def page() -> None:
        from app.look import html, words

        with html.folded("The <same>"):
            words.note("one")
            words.note("two")

    (piece,) = shown(AppTest.from_function(page).run())
    assert piece.startswith('<details class="ro-fold"><summary><span>The &lt;same&gt;</span>')
    assert piece.index("one") < piece.index("two")
    assert piece.endswith("</details>")


def test_a_body_that_breaks_keeps_nothing_back_for_the_next() -> None:
    def broken() -> None:
        with html.joined():
            html.put("lost with its body")
            raise ValueError("broken")

    with pytest.raises(ValueError, match="broken"):
        broken()

    def page() -> None:
        from app.look import words

        words.note("next")

    assert told(AppTest.from_function(page).run()) == [["next"]]
