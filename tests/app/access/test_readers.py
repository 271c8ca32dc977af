"""Whose pages a session shows."""

from __future__ import annotations

import pytest

from app.access import Reader, Refused, parse_reader, reader_for


@pytest.mark.parametrize(
    ("text", "reader"),
    [
        ("principal", Reader("principal")),
        ("support", Reader("support")),
        ("teacher:room-3", Reader("teacher", "room-3")),
        ("teacher", None),
        ("teacher:", None),
        ("principal:room-3", None),
        ("head", None),
        ("", None),
    ],
)
def test_a_setting_names_a_reader_or_nobody(text: str, reader: Reader | None) -> None:
    assert parse_reader(text) == reader


def test_a_choice_on_the_page_counts_in_a_demo_only() -> None:
    assert reader_for("principal", is_demo=True, chosen="support").role == "support"
    assert reader_for("principal", is_demo=False, chosen="support").role == "principal"


def test_junk_as_a_choice_changes_nothing() -> None:
    assert reader_for("steward", is_demo=True, chosen="root").role == "steward"


def test_a_real_school_without_a_named_reader_shows_nothing() -> None:
    with pytest.raises(Refused, match="who is reading"):
        reader_for("", is_demo=False)
    assert reader_for("", is_demo=True).role == "principal"
