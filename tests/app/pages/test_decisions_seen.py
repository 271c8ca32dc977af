"""A teacher reads on her own page what the support team decided; and nothing it kept to itself."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.text.places import unlinked
from tests.app.pages.test_every_page import a_running_server, at, opened, sound
from tests.app.pages.test_number import number

__all__ = ["a_running_server"]


def test_my_class_says_what_was_decided_and_leaves_out_what_the_team_keeps(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    text = sound(at(opened(monkeypatch, real_school, "teacher:room-2"), "my_class"))
    assert "What the support team decided" in text
    assert "offered you a hand. It comes back to it on Wed 3 Jun." in text
    assert "A short booster each morning" not in text
    for other in ("Wed 29 Apr", "you would rather not", "closed it"):
        assert other not in text


def test_an_offer_that_was_put_off_and_has_come_back_is_not_called_new(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    text = sound(at(opened(monkeypatch, real_school, "teacher:room-3"), "my_class"))
    assert "A hand, if you would like one" in text
    assert "It has come back: the team said wait" in text
    assert "You see what is new here before" not in text


def test_a_class_without_a_decision_has_no_card_for_it(
    monkeypatch: pytest.MonkeyPatch, quiet_room: Path
) -> None:
    text = sound(at(opened(monkeypatch, quiet_room, "teacher:room-3"), "my_class"))
    assert "What the support team decided" not in text


@pytest.mark.parametrize(("reader", "said"), [
    ("support", "We offer a hand"), ("teacher:room-2", "A hand was offered"),
])  # fmt: skip
def test_before_and_since_open_with_what_they_compare_and_the_visits(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, reader: str, said: str
) -> None:
    place = {"measure": "since_decision", "level": "class", "class": "room-2", "routine": "turns"}
    text = unlinked(sound(number(monkeypatch, real_school, reader, place)))
    for part in ("Before and since a decision", "six at most", said, "Visits of the year"):
        assert part in text, part


@pytest.mark.parametrize("reader", ["principal", "teacher:room-3"])
def test_nobody_else_opens_them(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, reader: str
) -> None:
    place = {"measure": "since_decision", "level": "class", "class": "room-2", "routine": "turns"}
    text = sound(number(monkeypatch, real_school, reader, place))
    assert "This number is not here" in text
    assert "hand" not in text
