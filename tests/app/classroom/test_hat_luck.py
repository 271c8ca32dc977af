"""Is the order of names chance? Over the page's own code in Chromium, and over the server's halves.

The numbers come from the systems' cryptographic sources, so no run is like another. A right draw
fails a test here less than once in a million runs; each test is shown to find a planted fault.
"""

from __future__ import annotations

from pathlib import Path
from random import SystemRandom

import numpy as np
import pytest
from playwright.sync_api import Page
from scipy import stats

from app.classroom import hat_rules
from app.classroom.hat_values import Child, Device, Hat
from tests.app.browser.conftest import browser as browser
from tests.simulation import draw_battery
from tests.simulation.draw_battery import battery, halves

pytestmark = pytest.mark.browser

NEVER = 1e-7
NAMES = [f"pu-{number:02d}" for number in range(12)]
_ORDERS = """async ({names, rounds}) => {
    const hats = await import('/classroom/files/hat.js');
    let hat = {...hats.begin('one'), alone: true, round: 1, eligible: names, share: names};
    const orders = [];
    for (let n = 0; n < rounds; n += 1) {
        const order = [];
        for (let draw = 0; draw < names.length; draw += 1) {
            hat = hats.draw(hat, {day: 'd', draw_id: `${n}-${draw}`, clock: 0});
            order.push(hat.shown.pupil_id);
            hat = {...hats.settle(hat, 'answered'), news: []};
        }
        orders.push(order);
    }
    return orders;
}"""
_HALVES = """async ({names, times}) => {
    const hats = await import('/classroom/files/hat.js');
    const talk = await import('/classroom/files/hat_talk.js');
    const hat = {...hats.begin('one'), eligible: names, share: names};
    const half = () => talk.giveBack(hat, 'd').news.filter((one) => one.what === 'back');
    return Array.from({length: times}, () => half().map((one) => one.pupil_id));
}"""


def test_the_order_of_names_looks_like_chance(bare: Page) -> None:
    orders = bare.evaluate(_ORDERS, {"names": NAMES, "rounds": 3000})
    assert all(sorted(order) == NAMES for order in orders)
    assert min(battery(orders).values()) > NEVER


def test_the_half_that_a_device_gives_back_looks_like_chance(bare: Page) -> None:
    given = bare.evaluate(_HALVES, {"names": NAMES, "times": 3000})
    assert {len(half) for half in given} == {6}
    assert halves([frozenset(half) for half in given], NAMES) > NEVER


def test_the_half_that_the_server_hands_out_looks_like_chance() -> None:
    devices = {name: Device(name, wants=True) for name in ("one", "two")}
    hat = Hat(1, {name: Child(name) for name in NAMES}, devices)
    luck = SystemRandom()
    handed = [
        frozenset(
            one.pupil_id for one in hat_rules.handed_out(hat, "one", "d", 0.0, luck).held_by("one")
        )
        for _ in range(3000)
    ]
    assert {len(half) for half in handed} == {6}
    assert halves(handed, NAMES) > NEVER


def test_a_number_below_another_is_fair_and_the_ragged_end_is_thrown_away(bare: Page) -> None:
    counts = bare.evaluate(
        """async () => {
            const {below} = await import('/classroom/files/hat.js');
            const counts = Array(7).fill(0);
            for (let n = 0; n < 70000; n += 1) counts[below(7)] += 1;
            return counts;
        }"""
    )
    assert float(stats.chisquare(counts).pvalue) > NEVER
    taken = bare.evaluate(
        """async () => {
            const {below} = await import('/classroom/files/hat.js');
            const given = [2 ** 32 - 1, 2 ** 32 - 1, 5];
            return [below(3, () => given.shift()), given.length];
        }"""
    )
    assert taken == [2, 0], "the last of 2 ** 32 numbers would come up once too often for 3"


def _faulty(rng: np.random.Generator, fault: str) -> list[str]:
    if fault == "one name tends to be early":
        keys = [rng.random() * (0.7 if name == "pu-05" else 1) for name in NAMES]
    elif fault == "down the roster":
        keys = [rng.random() + 0.02 * number for number, _ in enumerate(NAMES)]
    else:
        # A poor shuffle: neighbours change places now and then, the list shows through.
        keys = [number + rng.normal(0, 6) for number, _ in enumerate(NAMES)]
    return [name for _, name in sorted(zip(keys, NAMES, strict=True))]


@pytest.mark.parametrize(
    ("fault", "test"),
    [
        ("one name tends to be early", "places"),
        ("down the roster", "against the roster"),
        ("a poor shuffle", "runs"),
    ],
)
def test_a_planted_fault_is_found(fault: str, test: str) -> None:
    rng = np.random.default_rng(3)
    orders = [_faulty(rng, fault) for _ in range(3000)]
    assert battery(orders)[test] < NEVER


def test_an_order_that_is_kept_from_round_to_round_is_found() -> None:
    rng = np.random.default_rng(4)
    order = list(rng.permutation(NAMES))
    orders = []
    for _ in range(400):
        one, other = rng.integers(len(NAMES), size=2)
        order[one], order[other] = order[other], order[one]
        orders.append(list(order))
    assert battery(orders)["round after round"] < NEVER


def test_the_p_of_the_battery_are_even_where_chance_rules() -> None:
    rng = np.random.default_rng(5)
    found = [battery([list(rng.permutation(NAMES)) for _ in range(40)]) for _ in range(400)]
    for test in found[0]:
        assert float(stats.kstest([one[test] for one in found], "uniform").pvalue) > 1e-3, test


def test_it_reads_the_whole_rounds_of_a_schools_own_log(tmp_path: Path) -> None:
    from tests.ingest.contracts.loading import BASE, load

    load(tmp_path, *BASE)
    found = draw_battery.logged(tmp_path)
    assert found["qb-willow"][0] == ["pu-0003", "pu-0001", "pu-0005", "pu-0002", "pu-0004"]
