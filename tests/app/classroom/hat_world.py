"""Drives the page's own modules in Chromium against the server's hat, without a server between."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import Any

from playwright.sync_api import Browser, Page, Route

from app.classroom.hat_exchange import exchange
from app.classroom.hat_messages import message_of
from app.classroom.hat_store import HatStore

STATIC = Path(__file__).resolve().parents[3] / "app" / "classroom" / "static"
HERE = Path(__file__).parent
# Chromium trusts this name as it trusts https; every request to it is answered from the disk.
SITE = "http://localhost"
_KINDS = {".js": "text/javascript", ".css": "text/css", ".html": "text/html"}


def bare_page(browser: Browser) -> Page:
    """An empty page on which the modules of the classroom page can be imported."""
    page = browser.new_context().new_page()
    page.route(f"{SITE}/**", _from_disk)
    page.goto(f"{SITE}/")
    return page


def _from_disk(route: Route) -> None:
    path = route.request.url.removeprefix(SITE).split("?")[0]
    folders = {"/classroom/files/": STATIC, "/tests/": HERE}
    for prefix, folder in folders.items():
        file = folder / path.removeprefix(prefix)
        if path.startswith(prefix) and file.is_file():
            route.fulfill(body=file.read_bytes(), content_type=_KINDS[file.suffix])
            return
    empty = "<!doctype html><html lang=en><title>Modules</title></html>"
    route.fulfill(body=empty, content_type="text/html", status=200 if path == "/" else 404)


@dataclass
class Served:
    """The server's side of a run: its store, its luck, and what it answered last."""

    store: HatStore
    random: Random
    messages: int = 0

    def answer(self, text: str) -> str:
        asked = json.loads(text)
        self.messages += 1
        told = exchange(
            self.store,
            "room-3",
            message_of(asked["body"]),
            {key: True for key in asked["members"]},
            0,
            float(asked["now"]),
            self.random,
        )
        return json.dumps(told)


@dataclass
class Rounds:
    """What came of a run: figures, and everything that must not happen."""

    rounds: int
    draws: int
    twice: list[tuple[int, str]] = field(default_factory=list)
    lost: list[tuple[int, str]] = field(default_factory=list)
    taken_back_late: int = 0
    told: dict[str, int] = field(default_factory=dict)


def run(page: Page, store: HatStore, **how: Any) -> tuple[Rounds, list[dict[str, Any]]]:
    """Run devices through rounds; what came of it, and every draw."""
    served = Served(store, Random(how["seed"]))
    page.expose_function("serve", served.answer)
    told = page.evaluate(
        "async (how) => (await import('/tests/hat_rounds.js')).run(how)",
        {"devices": 2, "pupils": 20, **how},
    )
    return _counted(told, how), told["draws"]


def _counted(told: dict[str, Any], how: dict[str, Any]) -> Rounds:
    """Twice: two turns of a child in one round. Lost: a round that went on without a child.

    A draw that was taken back only after the next round had begun is neither: that child comes
    first in the next round; it is counted apart.
    """
    turns: Counter[tuple[int, str]] = Counter()
    came_up: set[tuple[int, str]] = set()
    taken_back: set[tuple[int, str]] = set()
    for one in told["draws"]:
        place = (one["round"], one["pupil_id"])
        if one["undone"]:
            taken_back.add(place)
        elif one["outcome"] in ("answered", "helped", "passed", "other_way"):
            turns[place] += 1
        if not one["undone"] and one["outcome"] != "unavailable":
            came_up.add(place)
    found = Rounds(told["round"], len(told["draws"]), told=told["told"])
    found.twice = sorted(place for place, count in turns.items() if count > 1)
    if not how.get("moves"):
        everybody = [f"pu-{n:02d}" for n in range(how.get("pupils", 20))]
        missing = [
            (number, key)
            for number in range(1, told["round"])
            for key in everybody
            if (number, key) not in came_up
        ]
        found.lost = [place for place in missing if place not in taken_back]
        found.taken_back_late = len(missing) - len(found.lost)
    return found


def longest_waits(draws: list[dict[str, Any]]) -> dict[str, int]:
    """For each child the most draws from one turn to the next, the second one counted."""
    last: dict[str, int] = {}
    waits: dict[str, int] = {}
    for number, one in enumerate(draws):
        pupil = one["pupil_id"]
        if pupil in last:
            waits[pupil] = max(waits.get(pupil, 0), number - last[pupil])
        last[pupil] = number
    return waits
