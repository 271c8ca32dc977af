"""The calendar by room, resolved here a second time from the files alone."""

from datetime import date, timedelta
from typing import cast

import pandas as pd
import pytest

from ingest.sample import SampleManifest

Tables = dict[str, pd.DataFrame]
CLOSED = {"closed_planned", "closed_emergency", "staff_only"}
EVENTS = (
    ("routine_lessons", "taught_on"),
    ("participation_draws", "drawn_on"),
    ("observation_sessions", "observed_on"),
    ("coaching_events", "event_on"),
)


def _rows(table: pd.DataFrame) -> list[dict[str, str]]:
    return cast("list[dict[str, str]]", table.to_dict("records"))


def _open_days(tables: Tables) -> set[tuple[str, str]]:
    """Every (class, day) in session: the class's own line, then its grade's, then the school's."""
    lines = {
        (row["day_on"], row["applies_to"]): row["day_kind"] for row in _rows(tables["school_days"])
    }
    days = {day for day, whom in lines if whom == "*"}
    found = set()
    for room in _rows(tables["classes"]):
        for day in days:
            own = [lines.get((day, room["class_id"]))]
            own += [lines.get((day, grade)) for grade in room["grades"].split(";")]
            kind = next((one for one in own if one), lines[day, "*"])
            is_half = kind == "half_am" and room["session_pattern"] == "pm"
            if kind not in CLOSED and not is_half:
                found.add((room["class_id"], day))
    return found


@pytest.mark.parametrize(("feed", "column"), EVENTS)
def test_everything_happened_on_a_day_on_which_its_class_was_in_session(
    tables: Tables, feed: str, column: str
) -> None:
    events = set(zip(tables[feed]["class_id"], tables[feed][column], strict=True))
    assert events
    assert events <= _open_days(tables)


def test_the_school_has_a_usual_number_of_days_and_none_at_a_weekend(tables: Tables) -> None:
    days = tables["school_days"]
    assert not any(date.fromisoformat(day).weekday() > 4 for day in days["day_on"])
    whole = days[days["applies_to"] == "*"]
    assert not whole["day_on"].duplicated().any()
    assert 165 <= (~whole["day_kind"].isin(CLOSED)).sum() <= 185


def test_four_breaks_of_five_weekdays_or_more_stand_between_and_inside_the_terms(
    tables: Tables,
) -> None:
    days = tables["school_days"].query("applies_to == '*'").sort_values("day_on")
    is_closed = days["day_kind"].isin(CLOSED)
    lengths = is_closed.groupby((~is_closed).cumsum()).sum()
    assert sorted(lengths[lengths >= 5]) == [5, 5, 10, 10]


def test_calendars_differ_by_grade(tables: Tables) -> None:
    found = _open_days(tables)
    assert not any(("qb-rm03", f"2025-09-{day:02d}") in found for day in range(1, 6))
    assert ("qb-rm05", "2025-09-01") in found
    assert ("qb-rm20", "2026-03-06") not in found
    assert ("qb-rm16", "2026-03-06") in found
    first = tables["routine_lessons"].groupby("class_id")["taught_on"].min()
    assert first["qb-rm03"] >= "2025-09-08" > first["qb-rm05"]


def test_one_emergency_closes_the_school_and_another_one_room(tables: Tables) -> None:
    found = _open_days(tables)
    assert not [room for room, day in found if day == "2026-01-21"]
    assert ("qb-rm16", "2025-11-11") not in found
    assert ("qb-rm17", "2025-11-11") in found


def test_the_terms_follow_each_other_under_one_year(tables: Tables) -> None:
    terms = tables["terms"]
    root = terms[terms["parent_term_id"] == ""]
    assert list(root["kind"]) == ["school_year"]
    parts = terms[terms["parent_term_id"] == root["term_id"].iloc[0]].sort_values("first_on")
    assert list(parts["title"]) == ["Autumn term", "Winter term", "Spring term"]
    assert (parts["first_on"].iloc[1:].to_numpy() > parts["last_on"].iloc[:-1].to_numpy()).all()
    school = tables["school_days"].query("applies_to == '*'")
    open_days = school[~school["day_kind"].isin(CLOSED)]["day_on"]
    inside = [
        ((parts["first_on"] <= day) & (day <= parts["last_on"])).sum() == 1 for day in open_days
    ]
    assert all(inside)


def test_the_half_day_pair_keeps_to_its_half_of_the_day(tables: Tables) -> None:
    patterns = tables["classes"].set_index("class_id")["session_pattern"]
    assert sorted(patterns)[:1] == ["am"]
    for feed, column in (
        ("routine_lessons", "started_at_local"),
        ("participation_draws", "drawn_at_local"),
        ("observation_sessions", "started_at_local"),
    ):
        table = tables[feed]
        pattern = table["class_id"].map(patterns)
        assert table.loc[pattern == "am", column].max() < "11:15"
        assert table.loc[pattern == "pm", column].min() >= "12:15"


def test_the_calendar_file_says_the_same_closures(year: SampleManifest, tables: Tables) -> None:
    text = year.alternatives[0].read_text(encoding="utf-8")
    days: set[str] = set()
    for event in text.split("BEGIN:VEVENT")[1:]:
        fields = dict(line.split(":", 1) for line in event.strip().splitlines() if ":" in line)
        if fields["CATEGORIES"] in CLOSED:
            first = date.fromisoformat(fields["DTSTART;VALUE=DATE"])
            end = date.fromisoformat(fields["DTEND;VALUE=DATE"])
            days |= {(first + timedelta(n)).isoformat() for n in range((end - first).days)}
    whole = tables["school_days"].query("applies_to == '*'")
    closed = set(whole[whole["day_kind"].isin(CLOSED)]["day_on"])
    assert {day for day in days if date.fromisoformat(day).weekday() < 5} == closed
