"""Guessing gets slow, for a name and from an address, and a new start forgives nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.door.store import Store
from app.door.throttle import FREE, Throttle
from tests.app.door.inside import School, sign_in


@pytest.fixture
def throttle(tmp_path: Path) -> Throttle:
    return Throttle(Store(tmp_path / "sessions.sqlite"))


def test_the_tries_that_are_free_are_followed_by_growing_waits(throttle: Throttle) -> None:
    now, waits = 0.0, []
    for _ in range(FREE["pair"]):
        assert throttle.wait("anna", "192.0.2.1", now) == 0
    for _ in range(7):
        wait = throttle.wait("anna", "192.0.2.1", now)
        waits.append(wait)
        now += wait
        assert throttle.wait("anna", "192.0.2.1", now) == 0
    assert waits == [30, 60, 120, 240, 480, 900, 900]


def test_a_try_that_was_sent_away_makes_the_wait_no_longer(throttle: Throttle) -> None:
    for _ in range(FREE["pair"] + 50):
        last = throttle.wait("anna", "192.0.2.1", 0.0)
    assert last == 30


def test_a_name_is_slowed_from_many_addresses_too(throttle: Throttle) -> None:
    let = sum(throttle.wait("anna", f"192.0.2.{n}", 0.0) == 0 for n in range(200))
    assert let == FREE["name"]
    assert throttle.wait("maren", "192.0.2.1", 0.0) == 0


def test_an_address_is_slowed_over_many_names_too(throttle: Throttle) -> None:
    let = sum(throttle.wait(f"name {n}", "192.0.2.1", 0.0) == 0 for n in range(200))
    assert let == FREE["address"]
    assert throttle.wait("name 1", "192.0.2.2", 0.0) == 0


def test_the_right_word_forgives_its_name_and_not_the_address(throttle: Throttle) -> None:
    for number in range(FREE["address"] - 1):
        throttle.wait(f"name {number}", "192.0.2.1", 0.0)
    for _ in range(100):
        assert throttle.wait("own", "192.0.2.1", 0.0) == 0
        throttle.forgive("own", "192.0.2.1")
    assert throttle.wait("another", "192.0.2.1", 0.0) == 0
    assert throttle.wait("own", "192.0.2.1", 0.0) > 0


def test_a_new_start_forgives_nothing_and_names_are_not_kept(
    throttle: Throttle, tmp_path: Path
) -> None:
    for _ in range(FREE["pair"]):
        throttle.wait("anna", "192.0.2.1", 0.0)
    throttle.store.close()
    again = Throttle(Store(tmp_path / "sessions.sqlite"))
    assert again.wait("anna", "192.0.2.1", 0.0) == 30
    again.store.rows("pragma wal_checkpoint(truncate)")
    assert b"anna" not in (tmp_path / "sessions.sqlite").read_bytes()


def test_after_a_day_of_quiet_tries_are_forgotten(throttle: Throttle) -> None:
    for _ in range(FREE["pair"]):
        throttle.wait("anna", "192.0.2.1", 0.0)
    throttle.wait("maren", "192.0.2.2", 90_000.0)
    assert throttle.store.rows("select count(*) from attempt") == [(3,)]


def test_the_page_says_how_long_to_wait_whether_or_not_there_is_such_a_name(made: School) -> None:
    for name in ("anna", "nobody"):
        for _ in range(FREE["pair"]):
            assert sign_in(made.browser(), name, "wrong wrong wrong").status_code == 401
        answer = (
            sign_in(made.browser(), name) if name == "anna" else sign_in(made.browser(), name, "x")
        )
        assert answer.status_code == 429
        assert answer.headers["retry-after"] == "30"
        assert "Please try again in a minute." in answer.text
    made.clock.at += 31
    assert sign_in(made.browser(), "anna").status_code == 303
