"""Taps on the page, files in the inbox, `load` without a finding, `build`: figures of the class."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import duckdb
import pytest
from playwright.sync_api import Browser, Page, expect

from ingest import demo, sample, snapshot
from ingest.demo import School
from ingest.sample import SampleManifest
from ingest.workspace import Workspace
from tests.app.browser.conftest import browser as browser
from tests.app.classroom.draws_written_down import Drawn, draw_names
from tests.app.classroom.serving import Server, sent_away
from tests.ingest.test_cli import run

pytestmark = pytest.mark.browser
AT = datetime(2025, 12, 19, 18, 0, tzinfo=UTC)
NOON = datetime(2025, 12, 19, 15, 0, tzinfo=UTC)
LATER = datetime(2025, 12, 19, 15, 20, tzinfo=UTC)
DAY = date(2025, 12, 19)
# No draws, no chance, no last turn: a child who was away on the only day of draws.
NONE = (0, 0.0, None)

# Of twelve looks two could not be told and two were of children out of the room.
SEEN = (
    "purpose", "minutes_observed", "responsiveness_met_count", "responsiveness_count",
    "adherence_done_count", "adherence_count", "voice_count", "opportunity_count", "praise_count",
    "correction_count",
)  # fmt: skip


@dataclass(frozen=True)
class TakenUp:
    """What was tapped, and what the load said of it; a build has been made since."""

    missing: int
    drawn: Drawn
    told: Any


def small(folder: Path) -> SampleManifest:
    """Nobody has drawn names in it, so that every turn there is was tapped here."""
    return sample.generate(folder, size=replace(sample.SMALL, draw_day_share=0.0))


def nothing_faulty(*_: object) -> tuple[()]:
    return ()


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Workspace:
    """Four rooms of the invented school up to the winter break, really loaded and built."""
    folder = tmp_path_factory.mktemp("in class") / "demo"
    return demo.prepare(folder, lambda: AT, school=School(small, nothing_faulty)).workspace


@pytest.fixture(scope="module")
def server(workspace: Workspace) -> Iterator[Server]:
    made = Server(workspace).start()
    yield made
    made.stop()


def arrived(browser: Browser, server: Server, who: str) -> Page:
    page = browser.new_context(viewport={"width": 390, "height": 844}).new_page()
    page.goto(f"{server.address}/signin?next=/classroom")
    page.get_by_role("button", name=who).click()
    page.locator("#bar a").first.wait_for()
    return page


def minutes(page: Page, number: str) -> None:
    page.get_by_role("group", name="Minutes").get_by_role("radio", name=number, exact=True).check()


def write_lessons_down(page: Page) -> int:
    """One by hand with everything counted, one cut short, one changed, one taken back, a week."""
    page.locator(".lesson h1").wait_for()
    minutes(page, "8")
    page.get_by_role("group", name="Steps done").get_by_role("radio", name="2", exact=True).check()
    page.get_by_role("button", name="Children who were there: one more").click()
    page.get_by_role("button", name="It was given: save").click()
    page.locator(".done").wait_for()
    minutes(page, "5")
    page.get_by_role("button", name="Only in part").click()
    page.locator(".done", has_text="in part").wait_for()
    page.get_by_role("button", name="Change: ").first.click()
    minutes(page, "12")
    page.get_by_role("button", name="Keep the change").click()
    page.locator(".done").wait_for()
    back = page.get_by_role("button", name="Take back: ").last
    back.click()
    page.get_by_role("button", name="Really take back").click()
    page.locator(".done", has_text="It will not count").wait_for()
    missing = page.get_by_role("button", name="It happened: ")
    many = missing.count()
    if many:
        missing.first.click()
        page.locator(".done").wait_for()
    sent_away(page)
    return many


def look_round(page: Page, server: Server, code: str = "", class_id: str = "") -> None:
    """Three minutes with everything that can be noted, on a clock that the test moves."""
    page.clock.install(time=LATER if code else NOON)
    page.goto(f"{server.address}/classroom#look")
    page.get_by_role("button", name="Begin the look").wait_for()
    if class_id:
        page.get_by_label("Which class?").select_option(class_id)
    page.get_by_role("radio", name="Settling to listen").check()
    page.get_by_label("Two of you look together?").fill(code)
    page.get_by_role("button", name="Begin the look").click()
    page.locator(".seat b").wait_for()
    answers = ("Yes", "Yes, their agreed way", "Not at this moment", "Can’t see", "Out of room")
    for number in range(12):
        page.clock.run_for(15_100 if number == 0 else 15_000)
        page.get_by_role("button", name=answers[number % 5], exact=True).click()
        if number == 2:
            note_the_rest(page)
    page.clock.run_for(2_000)
    page.get_by_role("button", name="Finish").click()
    page.get_by_role("radio", name="The class’s teacher").check()
    page.get_by_role("radio", name="Two look together" if code else "An ordinary look").check()
    page.get_by_role("radio", name="Whole class").check()
    page.get_by_role("button", name="Minutes of teaching in it: one more").click()
    page.get_by_role("button", name="Keep this look").click()
    page.get_by_role("heading", name="Kept today").wait_for()
    page.clock.run_for(3_000)
    sent_away(page)


def note_the_rest(page: Page) -> None:
    page.get_by_role("button", name="Voices now 2").click()
    for name in ("Chance to answer one", "Chance to answer several", "Praise says for what",
                 "Praise in general", "Correction calm", "Correction tense"):  # fmt: skip
        page.get_by_role("button", name=name).click()
    page.get_by_role("button", name="Signal given").click()
    page.clock.run_for(3_000)
    page.get_by_role("button", name="Ready ·").click()
    page.get_by_role("button", name="Steps").click()
    for number, word in ((1, "Done"), (2, "Not done"), (3, "Not seen"), (4, "Not needed")):
        page.get_by_role("button", name=f"Step {number}: {word}", exact=True).click()
    page.get_by_role("button", name="Steps").click()


def findings(workspace: Workspace) -> list[Any]:
    with closing(duckdb.connect(workspace.landing, read_only=True)) as store:
        return store.execute(
            "select file_name, rule_name from ledger.findings "
            "where regexp_matches(file_name, '-[0-9a-f]{8}-')"
        ).fetchall()


def room(workspace: Workspace, query: str) -> list[tuple[Any, ...]]:
    folder = snapshot.current(workspace)
    class_id = sorted(folder.rooms)[0]
    file = folder.folder / folder.rooms[class_id]
    with closing(duckdb.connect(file, read_only=True)) as con:
        return con.execute(query).fetchall()


@pytest.fixture(scope="module")
def taken_up(browser: Browser, server: Server, workspace: Workspace) -> TakenUp:
    """Everything is tapped, then loaded together, then built once."""
    teacher = arrived(browser, server, "Teacher")
    missing = write_lessons_down(teacher)
    look_round(teacher, server)
    look_round(teacher, server, "k7")
    team = arrived(browser, server, "Support")
    look_round(team, server, "K 7", sorted(snapshot.current(workspace).rooms)[0])
    drawn = draw_names(arrived(browser, server, "Teacher"), server.address)
    code, out, err = run("load", "-w", str(workspace.root), "--json")
    assert code == 0, err
    assert run("build", "-w", str(workspace.root), "--as-of", "2025-12-19")[0] == 0
    return TakenUp(missing, drawn, json.loads(out))


def test_what_is_tapped_loads_without_a_finding_and_is_there_after_a_build(
    taken_up: TakenUp, workspace: Workspace
) -> None:
    assert list(workspace.inbox.iterdir()) == []
    assert findings(workspace) == [], taken_up.told
    lessons = room(workspace, "select minutes, status from room_lessons "
                   "where length(lesson_id) = 36 order by minutes nulls last")  # fmt: skip
    assert taken_up.missing
    assert lessons == [(5.0, "partly"), (None, "delivered")]
    looks = room(workspace, f"select {', '.join(SEEN)} from room_visits "
                 "where length(observation_id) = 36 order by purpose")  # fmt: skip
    seen = (3, 6, 8, 1, 2, 1, 2, 2, 2)
    assert looks == [("agreement", *seen), ("agreement", *seen), ("routine", *seen)]
    with closing(duckdb.connect(workspace.landing, read_only=True)) as store:
        observers = store.execute(
            "select count(distinct pair_id), count(distinct observer_id), count(*) "
            "from latest.observation_sessions where length(observation_id) = 36 "
            "and pair_id is not null"
        ).fetchone()
    assert observers == (1, 2, 2)


def test_each_child_has_the_turns_that_were_tapped(taken_up: TakenUp, workspace: Workspace) -> None:
    """By hand: 17 children, one away. 16 turns in round 1 and 2 in round 2 are 18 in all.

    Each of the 16 who were there could have had each of them: 18 / 16 turns by equal chance. The
    turn that was taken back and the hand that went up are none; a pass is offered, not taken.
    """
    drawn = taken_up.drawn
    there = {drawn.passed, drawn.helped, *drawn.answered}
    assert (len(there), drawn.away in there) == (16, False)
    offered = {drawn.away: 0, **dict.fromkeys(there, 1)}
    taken = {**offered, drawn.passed: 0}
    for child in drawn.second:
        offered[child] += 1
        taken[child] += 1
    chances = {child: (18, 1.125, DAY) for child in there}
    rows = room(workspace, "select pupil_id, offered, taken, is_waiting, present_draws, expected, "
                "last_turn_on from room_turns where is_eligible")  # fmt: skip
    assert {row[0]: row[1:] for row in rows} == {
        child: (offered[child], taken[child], child not in drawn.second, *chances.get(child, NONE))
        for child in offered
    }


def test_the_round_and_its_measures_are_those_of_the_taps(
    taken_up: TakenUp, workspace: Workspace
) -> None:
    """Round 2 has reached 2 of 17, the child who was away is still to come; round 1 is whole."""
    card = room(workspace, "select cycle_number, cycle_began_on, cycle_pupil_count, "
                "cycle_had_turn_count from room_class")  # fmt: skip
    assert card == [(2, DAY, 17, 2)]
    names = ("absent_draw_share", "chosen_share", "cycle_completion", "turn_coverage")
    told = room(workspace, "select measure_name, numerator_count, denominator_count "
                f"from room_measures where measure_name in {names} and window_code = 'term' "
                "and routine_id = '*' and session_count > 0 order by 1")  # fmt: skip
    # 19 names came up, one of a child who was away; 18 turns and the hand that went up are 19, too.
    assert told == [
        ("absent_draw_share", 1, 19), ("chosen_share", 0, 19), ("cycle_completion", 1, 1),
        ("turn_coverage", 16, 16),
    ]  # fmt: skip


def test_the_page_of_turns_says_them(taken_up: TakenUp, browser: Browser, server: Server) -> None:
    page = arrived(browser, server, "Teacher")
    page.goto(f"{server.address}/my_turns")
    expect(page.get_by_text("16 of 17 children have been offered a turn")).to_be_visible()
    expect(page.get_by_text("2 of 17 had a turn.")).to_be_visible()
