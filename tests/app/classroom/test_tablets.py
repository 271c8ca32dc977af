"""A few tablets, a server that is killed, a loader beside it: all there, once, as it was made.

The run of fifty tablets and twenty minutes is `python -m tests.simulation.tablets`.
"""

from __future__ import annotations

from pathlib import Path

from tests.simulation.tablets import WRONG, Plan, run

SMALL = Plan(
    tablets=4, minutes=2.5, speed=12.0, record_every_seconds=25.0, kill_every_seconds=45.0,
    restart_every_seconds=100.0, load_every_seconds=60.0, seed=7,
)  # fmt: skip


def test_nothing_is_lost_or_twice_while_the_server_is_killed(tmp_path: Path) -> None:
    figures = run(tmp_path, SMALL)
    assert figures["records"] >= 12
    assert figures["kills"] >= 2
    assert figures["loads"] >= 1
    assert figures["tried"]["nobody there"] > 0
    assert {name: figures[name] for name in WRONG} == dict.fromkeys(WRONG, 0)
