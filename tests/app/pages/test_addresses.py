"""A view has an address: its choices survive, and an address never tells whether a class exists."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from app import hand_out
from app.door import Rules, open_door, routes
from app.navigation import COMMON, PAGES
from tests.app.pages.test_every_page import (
    MAIN,
    OWN,
    READERS,
    a_running_server,
    at,
    opened,
    sound,
    text_of,
)

__all__ = ["a_running_server"]
CHOICES = ("school", "term", "routine", "measure", "grade", "class")
# The address of a file says nothing to whoever has no key to it.
TAKEN = re.compile(r"take/[0-9a-f]{64}")
MINE = [page.path for page in PAGES if "teacher" in page.roles]


def afresh(
    monkeypatch: pytest.MonkeyPatch, workspace: Path, reader: str, path: str, **words: str
) -> AppTest:
    """A new visit that begins with an address, as when a link is opened."""
    monkeypatch.setenv("ROUNDELAY_WORKSPACE", str(workspace))
    monkeypatch.setenv("ROUNDELAY_READER", reader)
    page = AppTest.from_file(str(MAIN), default_timeout=30)
    for name, word in words.items():
        page.query_params[name] = word
    return at(page, path)


@pytest.mark.parametrize(("role", "path"), OWN)
def test_every_choice_of_a_page_survives_opening_its_address_afresh(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, role: str, path: str
) -> None:
    page = at(opened(monkeypatch, real_school, READERS[role]), path)
    boxes = [box for box in page.selectbox if box.key in CHOICES]
    chosen = {str(box.key): box.options[-1] for box in boxes if len(box.options) > 1}
    again = afresh(monkeypatch, real_school, READERS[role], path, **chosen)
    sound(again)
    for key, word in chosen.items():
        box = again.selectbox(key=key)
        assert box.options[box.index or 0] == word
        assert "not among your choices" not in text_of(again)


def test_some_pages_have_choices(monkeypatch: pytest.MonkeyPatch, real_school: Path) -> None:
    keys = {
        str(box.key)
        for role, path in (("principal", "routines"), ("principal", "grades"),
                           ("support", "classes"), ("teacher", "my_lessons"))
        for box in at(opened(monkeypatch, real_school, READERS[role]), path).selectbox
    }  # fmt: skip
    assert {"term", "routine", "measure", "grade", "class"} <= keys


@pytest.mark.parametrize(
    ("role", "path", "key"),
    [
        ("principal", "schoolwide", "term"),
        ("principal", "routines", "routine"),
        ("principal", "grades", "grade"),
        ("support", "classes", "class"),
        ("teacher", "my_lessons", "term"),
    ],
)
@pytest.mark.parametrize("junk", ["Room 99", "'; drop table x --", "<script>", "Ünfug"])
def test_what_is_not_among_the_choices_is_answered_kindly(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, role: str, path: str, key: str, junk: str
) -> None:
    page = afresh(monkeypatch, real_school, READERS[role], path, **{key: junk})
    text = sound(page)
    assert "is not among your choices here" in text
    assert junk not in text


@pytest.mark.parametrize("path", MINE)
def test_a_teacher_learns_nothing_from_an_address_that_names_a_class(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, path: str
) -> None:
    answers = {
        word: TAKEN.sub(
            "take/",
            sound(afresh(monkeypatch, real_school, "teacher:room-3", path, **{"class": word})),
        )
        for word in ("Room 1", "room-1", "Room 3", "Room 99", "nowhere")
    }
    assert len(set(answers.values())) == 1
    text = answers["Room 1"]
    assert "These pages show your own class only." in text
    assert "Room 3" in text
    assert "Room 1," not in text


def test_a_number_of_another_class_and_one_of_no_class_are_answered_alike(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    told = {"measure": "responsiveness", "level": "class", "routine": "voice", "term": "spring"}
    answers = [
        sound(
            afresh(monkeypatch, real_school, "teacher:room-3", "number", **told, **{"class": room})
        )
        for room in ("room-1", "room-99")
    ]
    assert answers[0] == answers[1]
    assert "This number is not here" in answers[0]
    own = afresh(
        monkeypatch, real_school, "teacher:room-3", "number", **told, **{"class": "room-3"}
    )
    assert "This number is not here" not in sound(own)


def test_no_page_has_an_address_that_something_else_answers(tmp_path: Path) -> None:
    own = open_door(tmp_path, Rules(is_demo=True), lambda: 0.0)
    ways = {route.path for route in (*routes(own, ""), *hand_out.routes("", has_door=True))}
    pages = {f"/{page.path}" for page in (*PAGES, *COMMON)}
    assert len(ways) > 3
    assert pages.isdisjoint(ways)
