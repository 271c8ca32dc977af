"""Two devices in one room, badly connected: nobody is drawn twice in a round, nobody is left out.

The devices run the page's own modules in Chromium; the other side is the server's own hat. The run
of 10,000 rounds is `python -m tests.simulation.hats`.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from app.classroom import hat_answers, hat_rules
from app.classroom.hat_store import HatStore
from app.classroom.hat_values import Hat
from tests.app.browser.conftest import browser as browser
from tests.app.classroom.hat_world import longest_waits, run

pytestmark = pytest.mark.browser


@pytest.fixture
def store(tmp_path: Path) -> Iterator[HatStore]:
    made = HatStore(tmp_path / "classroom.sqlite")
    yield made
    made.close()


@pytest.mark.parametrize(("devices", "seed"), [(2, 1), (2, 2), (3, 3)])
def test_nobody_is_drawn_twice_and_nobody_is_left_out(
    bare: Page, store: HatStore, devices: int, seed: int
) -> None:
    found, _ = run(bare, store, rounds=30, devices=devices, seed=seed, pupils=14)
    assert (found.twice, found.lost) == ([], [])
    assert found.rounds == 30
    for trouble in ("unanswered", "repeated", "backs", "offline", "undone"):
        assert found.told[trouble] > 0, f"the run met no {trouble}"


def test_nobody_is_drawn_twice_while_children_come_and_go(bare: Page, store: HatStore) -> None:
    found, draws = run(bare, store, rounds=40, devices=2, seed=5, pupils=12, moves=True)
    assert found.twice == []
    assert len({one["pupil_id"] for one in draws}) > 12, "nobody came"


def test_a_hat_that_hands_out_names_which_another_device_holds_is_found_out(
    bare: Page, store: HatStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    right = hat_rules.handed_out

    def careless(hat: Hat, device: str, *more: Any) -> Hat:
        first = next(
            (one for one in hat.children.values() if not one.had_turn and one.holder), None
        )
        freed = {first.pupil_id: hat_rules.replace(first, holder=device)} if first else {}
        return right(hat_rules.replace(hat, children={**hat.children, **freed}), device, *more)

    monkeypatch.setattr(hat_answers.rules, "handed_out", careless)
    found, _ = run(bare, store, rounds=30, devices=2, seed=1, pupils=14)
    assert found.twice


def test_one_device_gives_every_child_one_turn_a_round_and_nobody_waits_beyond_the_bound(
    bare: Page, store: HatStore
) -> None:
    """Where nobody is away, the longest wait is at most 2N - 1 draws.

    In each round every one of the N children has exactly one turn. So between two turns of a child
    that follow each other lie at most the draws after its first one in a round (N - 1, if it came
    up first) and the draws up to its second one in the next round (N, if it comes up last).
    """
    found, draws = run(bare, store, rounds=60, devices=1, seed=9, pupils=11, trouble=0)
    assert (found.twice, found.lost, found.told["undone"]) == ([], [], 0)
    waits = longest_waits(draws)
    assert max(waits.values()) <= 2 * 11 - 1
    assert max(waits.values()) > 11, "the order of names never changed"
