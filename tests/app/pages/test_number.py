"""Every number opens: what it means, what it was made of, and only for those who may see it."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path
from urllib.parse import parse_qsl

import pytest
from streamlit.testing.v1 import AppTest

from app import access
from app.access import Reader, Visit
from app.navigation import PAGES
from app.pages.parts import number_look, plain_parts
from app.text.numbers import figure, percent
from app.text.places import Place, place_of_address
from app.text.plain_numbers import PLAIN
from tests.app.pages.test_every_page import (
    MAIN,
    READERS,
    a_running_server,
    at,
    opened,
    sound,
    text_of,
)

__all__ = ["a_running_server"]
LINK = re.compile(r'<a class="ro-number" href="number\?([^"]+)">(.*?)</a>')
SHARE = re.compile(r"^\d+\u00a0%$")
TERM = {"school": "quillbrook", "routine": "voice", "term": "spring", "window": "term"}


def number(
    monkeypatch: pytest.MonkeyPatch, workspace: Path, reader: str, address: dict[str, str]
) -> AppTest:
    """A visit that begins on the number's page, as a click on a figure does."""
    monkeypatch.setenv("ROUNDELAY_WORKSPACE", str(workspace))
    monkeypatch.setenv("ROUNDELAY_READER", reader)
    page = AppTest.from_file(str(MAIN), default_timeout=30)
    for name, text in address.items():
        page.query_params[name] = text
    return at(page, "number")


def visit_of(workspace: Path, reader: str) -> Visit:
    snapshot = access.current_snapshot(workspace)
    role, _, class_id = reader.partition(":")
    who = Reader(role, class_id or None)
    return Visit(snapshot, who, access.scope_for(snapshot, who))


@pytest.mark.parametrize("role", ["principal", "support", "teacher"])
def test_every_figure_of_a_readers_pages_opens_and_is_the_same_there(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, role: str
) -> None:
    visit, found, shares = visit_of(real_school, READERS[role]), 0, 0
    for path in (page.path for page in PAGES if role in page.roles):
        text = text_of(at(opened(monkeypatch, real_school, READERS[role]), path))
        links = set(LINK.findall(text))
        assert links or path in ("my_visits", "calendar"), path
        for address, label in links:
            place = place_of_address(dict(parse_qsl(unescape(address))))
            assert place is not None, address
            one = number_look.look_up(visit, place)
            assert one is not None or plain_parts.can_show(visit, place), address
            found += 1
            if one is not None and SHARE.match(label):
                earlier = percent(figure(one.row.get("previous_value")))
                assert label in (percent(one.got.value), percent(one.got.high), earlier)
                shares += 1
    assert found > 10
    assert shares > 3


@pytest.mark.parametrize("role", READERS)
def test_a_curious_address_is_answered_kindly_and_shows_nothing(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, role: str
) -> None:
    other = {"measure": "responsiveness", "level": "class", "class": "room-1", **TERM}
    for address in (
        {},
        {"measure": "responsiveness", "level": "school", **TERM, "school": "elsewhere"},
        {"measure": "'; drop table x", "level": "school", **TERM},
        {"measure": "open_lines", "level": "class", "class": "room-1"},
        {"measure": "coaching_rounds", "level": "school", "school": "elsewhere"},
        *([] if role == "support" else [other]),
    ):
        text = sound(number(monkeypatch, real_school, READERS[role], address))
        assert "This number is not here" in text
        assert "What it was made of" not in text
        assert "Room 1" not in text


def test_a_principal_reads_the_whole_account_of_a_number_without_its_rows(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    address = {"measure": "responsiveness", "level": "school", **TERM}
    text = sound(number(monkeypatch, real_school, "principal", address))
    for part in (
        "Joining in", "Voice to fit the task", "Counted", "Out of", "Visits", "Classes",
        "Range", "differ among themselves", "Monday 13 April to Friday 15 May", "Enough?",
        "Our line", "80\u00a0%", "Left out", "2026-05-15-20260515T071000", "Cannot say",
        "two out of three", "not among what a principal can open", "Winter term",
    ):  # fmt: skip
        assert part in text, part
    assert "The visits behind this number" not in text


@pytest.mark.parametrize("reader", ["support", "teacher:room-3"])
def test_who_may_see_the_visits_behind_a_number_sees_them(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, reader: str
) -> None:
    address = {"measure": "responsiveness", "level": "class", "class": "room-3", **TERM}
    text = sound(number(monkeypatch, real_school, reader, address))
    assert "The visits behind this number" in text
    assert "obs-1" not in text
    assert "the number rests on 4" in text


def test_a_teacher_sees_the_lessons_behind_a_share_of_lessons_and_no_name(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    address = {"measure": "dose", "level": "class", "class": "room-3", **TERM}
    text = sound(number(monkeypatch, real_school, "teacher:room-3", address))
    assert "Planned lessons behind this number" in text
    assert "every lesson without an entry as not given" in text
    address = {"measure": "turn_coverage", "level": "class", "class": "room-3", **TERM}
    text = sound(number(monkeypatch, real_school, "teacher:room-3", {**address, "routine": "*"}))
    assert "stand under Turns" in text
    assert "Imani" not in text


def test_a_withheld_number_opens_and_says_why(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    address = {"measure": "support_delivery", "level": "tier", "tier": "3", **TERM}
    text = sound(number(monkeypatch, real_school, "principal", {**address, "routine": "*"}))
    assert "withheld" in text
    assert "fewer people than 10" in text
    assert "withheld together with the number" in text


def test_one_week_of_a_stave_opens_with_its_days(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    week = {**TERM, "window": "week", "week": "2026-04-20"}
    address = {"measure": "responsiveness", "level": "class", "class": "room-3", **week}
    text = sound(number(monkeypatch, real_school, "support", address))
    assert "The week that began on Monday 20 April" in text


@pytest.mark.parametrize(
    "unit",
    [
        "share",
        "per_minute",
        "seconds",
        "minutes",
        "days",
        "draw_days",
        "ratio",
        "level",
        "coefficient",
    ],
)
def test_a_number_of_any_unit_is_said_without_long_decimals(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, unit: str
) -> None:
    from tests.app.invented import rows
    from tests.app.snapshot import write_snapshot

    tables = rows()
    for entry in tables["mart_measure_catalogue"]:
        entry["unit"] = unit
    write_snapshot(tmp_path, tables)
    address = {"measure": "responsiveness", "level": "school", **TERM}
    text = sound(number(monkeypatch, tmp_path, "principal", address))
    assert re.findall(r"\d\.\d{3,}", text) == []


@pytest.mark.parametrize("name", sorted(PLAIN))
def test_every_plain_count_tells_what_is_counted(
    monkeypatch: pytest.MonkeyPatch, real_school: Path, name: str
) -> None:
    shown = []
    for reader in READERS.values():
        for level in ("school", "class"):
            place = Place(name, level, "room-3" if level == "class" else "",
                          "" if level == "class" else "quillbrook", "voice", "spring")  # fmt: skip
            if not plain_parts.can_show(visit_of(real_school, reader), place):
                continue
            address = dict(parse_qsl(place.address.partition("?")[2]))
            text = sound(number(monkeypatch, real_school, reader, address))
            assert PLAIN[name].title in text
            assert "What is counted" in text
            shown.append(reader)
    assert shown
