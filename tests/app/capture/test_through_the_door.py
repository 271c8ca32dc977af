"""From the inbox through the same door as any file, and back to the page until a build shows it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import duckdb
import pytest
from hypothesis import HealthCheck, given
from hypothesis import settings as bounds
from hypothesis import strategies as some

from app import capture
from app.access import Reader, Refused, Scope, current_snapshot, scope_for
from app.capture.checks import faults_of
from app.capture.forms import contract_of
from ingest import intake
from ingest.load import check_files
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.app.capture.test_keep import FEED, record
from tests.ingest.contracts.loading import BASE

NOW = datetime(2026, 5, 15, 16, 0, tzinfo=UTC)
LONG_AGO = NOW - timedelta(days=3650)
OWN = Settings(school_id="quillbrook", school_name="Quillbrook Primary (invented)")
KNOWN = {"classes": {"qb-oak", "qb-willow"}, "routines": {"settle"}}


def decided(**changes: str) -> dict[str, str]:
    return record(class_id="qb-oak", routine_id="settle", offer_id="", **changes)


@pytest.fixture
def team(school: Path) -> Scope:
    return scope_for(current_snapshot(school), Reader("support"))


@pytest.fixture
def place(tmp_path: Path) -> Workspace:
    workspace = Workspace(tmp_path)
    workspace.make_folders()
    intake.load(BASE, workspace, OWN, NOW)
    return workspace


def landed(place: Workspace) -> list[tuple[str, str]]:
    with duckdb.connect(str(place.landing), read_only=True) as con:
        return con.execute(
            "select decision_id, decision from latest.offer_decisions "
            "where decision_id not like 'dec-%' order by all"
        ).fetchall()


@pytest.mark.parametrize("code", contract_of(FEED).field("decision").enum)
def test_every_kind_of_decision_lands_without_a_finding(
    team: Scope, place: Workspace, code: str
) -> None:
    back = "2026-06-05" if code in ("offer", "wait") else ""
    one = decided(decision=code, follow_up_on=back)
    capture.keep(team, place.root, FEED, one, KNOWN)
    [report] = intake.load(intake.files(place, []), place, OWN, NOW)
    assert (report.status, report.accepted, report.findings) == ("loaded", 1, ())
    assert landed(place) == [(one["decision_id"], code)]
    assert list(place.inbox.iterdir()) == []


def test_two_people_at_once_are_both_kept(team: Scope, place: Workspace) -> None:
    for code in ("close", "decline"):
        one = decided(decision=code, follow_up_on="")
        capture.keep(team, place.root, FEED, one, KNOWN)
    reports = intake.load(intake.files(place, []), place, OWN, NOW)
    assert [one.accepted for one in reports] == [1, 1]
    assert sorted(code for _, code in landed(place)) == ["close", "decline"]


def test_a_file_that_came_twice_is_known_the_second_time(team: Scope, place: Workspace) -> None:
    one = decided()
    for _ in range(2):
        capture.keep(team, place.root, FEED, one, KNOWN)
        [report] = intake.load(intake.files(place, []), place, OWN, NOW)
    assert (report.status, report.known) == ("already_known", 1)
    assert landed(place) == [(one["decision_id"], "offer")]


def test_a_load_that_was_killed_before_it_cleared_the_inbox_loses_and_doubles_nothing(
    team: Scope, place: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Killed(BaseException):
        pass

    def killed(*_: object) -> None:
        raise Killed

    one = decided()
    path = capture.keep(team, place.root, FEED, one, KNOWN)
    for step in ("_copy", "_in_inbox"):
        with monkeypatch.context() as broken:
            broken.setattr(intake, step, killed)
            with pytest.raises(Killed):
                intake.load([path], place, OWN, NOW)
        assert path.exists()
    intake.load(intake.files(place, []), place, OWN, NOW)
    assert landed(place) == [(one["decision_id"], "offer")]
    assert not path.exists()


def test_a_file_that_another_command_has_taken_meanwhile_is_no_fault(
    team: Scope, place: Workspace
) -> None:
    capture.keep(team, place.root, FEED, decided(), KNOWN)
    listed = intake.files(place, [])
    intake.load(listed, place, OWN, NOW)
    assert intake.load(listed, place, OWN, NOW) == []


def test_it_waits_on_the_page_until_a_build_shows_it(team: Scope, place: Workspace) -> None:
    one = decided()
    key = one["decision_id"]

    def seen(shown: frozenset[str], built_at: datetime) -> list[tuple[str, bool]]:
        found = capture.waiting(team, place.root, FEED, shown, built_at)
        return [(each.key, each.is_taken) for each in found]

    assert seen(frozenset(), LONG_AGO) == []
    capture.keep(team, place.root, FEED, one, KNOWN)
    assert seen(frozenset(), LONG_AGO) == [(key, False)]
    intake.load(intake.files(place, []), place, OWN, NOW)
    assert seen(frozenset(), LONG_AGO) == [(key, True)]
    assert seen(frozenset({key}), LONG_AGO) == []
    later = datetime.now(UTC) + timedelta(days=1)
    assert seen(frozenset(), later) == [], "set aside or taken back: it waits no longer"


def test_what_others_sent_does_not_wait_on_the_page(team: Scope, place: Workspace) -> None:
    (place.inbox / "offer_decisions.csv").write_text("decision_id\nx\n", encoding="utf-8")
    (place.inbox / "offer_decisions-spring.csv").write_text("decision_id\nx\n", encoding="utf-8")
    broken = place.inbox / f"offer_decisions-{capture.new_key()}.csv"
    broken.write_bytes(b"\xff\xfe\x00")
    assert capture.waiting(team, place.root, FEED, frozenset(), LONG_AGO) == []


def test_only_its_writers_are_told_what_waits(school: Path, place: Workspace) -> None:
    scope = scope_for(current_snapshot(school), Reader("principal"))
    with pytest.raises(Refused):
        capture.waiting(scope, place.root, FEED, frozenset(), LONG_AGO)


@bounds(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(note=some.text(max_size=40), code=some.sampled_from(["offer", "wait", "close", "decline"]))
def test_what_the_form_lets_through_the_door_lets_through_too(
    team: Scope, place: Workspace, note: str, code: str
) -> None:
    back = "2026-06-05" if code in ("offer", "wait") else ""
    one = decided(decision=code, follow_up_on=back, note=" ".join(note.split()))
    if faults_of(contract_of(FEED), one, KNOWN):
        with pytest.raises(capture.NotRight):
            capture.keep(team, place.root, FEED, one, KNOWN)
        return
    path = capture.keep(team, place.root, FEED, one, KNOWN)
    [report] = check_files([path], place, OWN, NOW)
    path.unlink()
    assert (report.accepted, report.findings) == (1, ()), note
