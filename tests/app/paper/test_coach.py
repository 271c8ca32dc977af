"""The coach's page is one tagged page about one class against its own past, for the team only."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.access import Refused
from app.paper import coach
from app.queries import support
from app.text import cautions, decisions, offer_course, offers
from app.text.places import unlinked
from tests.app.invented import CLASSES, rows
from tests.app.invented_rooms import NAMES
from tests.app.paper.reading import Printed, plain
from tests.app.paper.worlds import LONG, opened, written

OFFER = "class-room-3-voice"


def printed_from(workspace: Path, offer: str = OFFER, role: str = "support") -> Printed:
    return Printed(coach.printed(*opened(workspace, role), "", "", offer))


@pytest.fixture(scope="module")
def printed(school: Path) -> Printed:
    return printed_from(school)


def said(text: str) -> str:
    return plain(unlinked(text).replace("**", ""))


def test_it_is_one_tagged_page_with_title_and_language(printed: Printed) -> None:
    assert len(printed.file.pages) == 1
    assert "<pdfuaid:part>1</pdfuaid:part>" in printed.metadata
    assert "/StructTreeRoot" in printed.root
    assert printed.root["/Lang"] == "en-GB"
    assert printed.file.metadata is not None
    assert printed.file.metadata.title == "Room 3: voice to fit the task · Spring term"
    headings = [tag for tag in printed.tags if tag.startswith("H") and tag[1:].isdigit()]
    assert headings == ["H1", *["H2"] * (len(headings) - 1)]
    assert all(len(text) > 20 for text in printed.alternatives)
    assert len(printed.alternatives) == 2


def test_it_says_what_the_screen_says_of_the_offer(printed: Printed, school: Path) -> None:
    scope, _ = opened(school, "support")
    found = support.offers(scope, "quillbrook", "spring")
    row = next(row for row in found.to_dict("records") if row["offer_id"] == OFFER)
    for text in (
        offers.what_was_seen(row, "Voice to fit the task"),
        offers.how_sure(row),
        offers.signs(row),
        offers.what_might_help(row),
        offer_course.since_when(row),
        offer_course.closing(row),
        *(cautions.SHORT, cautions.LINE, cautions.WAYS),
    ):
        assert said(text)
        assert said(text) in printed.text


def test_it_says_who_where_when_and_against_what(printed: Printed) -> None:
    assert "Who Room 3, Grade 2" in printed.text
    assert "Where classroom" in printed.text
    assert "When 4 May to 4 May; visits: 1 in the morning" in printed.text
    assert "Compared with our line of 80 %; its own term before, " in printed.text
    assert "With no other class." in printed.text
    assert "What changed: 20 Apr coaching begins." in printed.text
    assert "We look again on proposed: Tuesday 19 May 2026" in printed.text
    assert "The teacher may decline" in printed.text


def test_what_was_tried_lists_the_teams_decisions_beside_the_rounds_of_coaching(
    printed: Printed, school: Path
) -> None:
    scope, _ = opened(school, "support")
    rows = support.decisions_of_class(scope, "room-3", "*")
    [row] = rows.to_dict("records")
    assert said(decisions.when_decided(row)) in printed.text
    assert said(decisions.what_moved(row)) in printed.text
    assert "On Wed 29 Apr we said: wait and look again." in printed.text
    assert "No round of coaching has begun in this class this year." in printed.text


def test_no_other_class_no_child_and_no_observer_is_on_it(printed: Printed) -> None:
    others = [title for key, (title, _) in CLASSES.items() if key != "room-3"]
    assert [title for title in others if title in printed.text] == []
    assert [name for name in NAMES if name in printed.text.split()] == []
    assert "obs-1" not in printed.text
    assert "coach-1" not in printed.text


@pytest.mark.parametrize("role", ["principal", "steward"])
def test_it_is_for_the_support_team_only(school: Path, role: str) -> None:
    with pytest.raises(Refused, match="belongs to other readers"):
        printed_from(school, role=role)


@pytest.mark.parametrize("offer", ["class-room-1-voice", "grade-02-line", "", "' or 1=1 --"])
def test_a_line_without_an_open_offer_has_no_page(school: Path, offer: str) -> None:
    with pytest.raises(Refused, match="No offer of that name is open"):
        printed_from(school, offer)


def test_it_keeps_to_one_page_with_long_names_and_many_rounds(tmp_path: Path) -> None:
    told = rows()
    told["mart_school"][0]["school_name"] = LONG * 3
    told["mart_routines"] = [{**row, "name": LONG} for row in told["mart_routines"]]
    told["mart_offers"] = [{**row, "class_title": LONG} for row in told["mart_offers"]]
    cycle = told["mart_coaching_cycles"][0]
    told["mart_coaching_cycles"] += [
        {**cycle, "cycle_id": f"c{n}", "class_id": "room-3"} for n in range(12)
    ]
    mark = told["mart_marks_by_class"][0]
    told["mart_marks_by_class"] += [
        {**mark, "label": f"change number {n} with a long label", "marked_on": f"2026-04-{n + 10}"}
        for n in range(15)
    ]
    decided = next(r for r in told["mart_offer_decisions"] if r["class_id"] == "room-3")
    told["mart_offer_decisions"] += [
        {**decided, "decision_id": f"d{n}", "decided_on": f"2026-03-{n + 1:02}"} for n in range(9)
    ]
    page = printed_from(written(tmp_path, told))
    assert len(page.file.pages) == 1
    assert "earlier decisions on the dashboard." in page.text
    assert "earlier rounds on the dashboard." in page.text
    assert "Invented school" not in page.text
