"""The classroom page behind the real wall and door, for tests that need no Streamlit."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from uuid import uuid4

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route
from starlette.testclient import TestClient

from app import classroom, door
from app.door import Door, Rules
from ingest import accounts
from ingest.workspace import Workspace
from tests.app.door.inside import AT, HOST, WORDS, Clock, hash_of, sign_in

PEOPLE = (
    ("anna", "principal", None, None),
    ("maren", "teacher", "room-3", "st-102"),
    ("wim", "teacher", "room-5", None),
    ("imke", "support", None, "st-900"),
    ("okke", "support", None, None),
)


@dataclass
class Classrooms:
    """A school with a build, its people, its door and its clock."""

    root: Path
    door: Door | None
    clock: Clock

    def browser(self, peer: str = "127.0.0.1") -> TestClient:
        """A browser without cookies; it follows no redirect by itself."""
        rules = self.door.rules if self.door else Rules()
        app = Starlette(
            routes=[
                *door.routes(self.door, rules.base),
                *classroom.routes(self.door, rules.base, self.root),
                Route("/{path:path}", _dashboard, methods=["GET", "POST"]),
            ],
            middleware=[Middleware(door.Wall, rules=rules, door=self.door)],
        )
        return TestClient(
            app, base_url=f"http://{HOST}", client=(peer, 50000), follow_redirects=False
        )

    def signed_in(self, name: str) -> TestClient:
        """A browser in which somebody has signed in."""
        browser = self.browser()
        assert sign_in(browser, name, "turnip ladder window").status_code == 303
        return browser

    @property
    def inbox(self) -> list[str]:
        folder = self.root / "inbox"
        return sorted(path.name for path in folder.iterdir()) if folder.is_dir() else []


async def _dashboard(request: Request) -> Response:
    return PlainTextResponse("dashboard")


def classrooms(root: Path, rules: Rules | None = None) -> Classrooms:
    """People and a door for a workspace that has a build."""
    workspace = Workspace(root)
    workspace.make_folders()
    stored = hash_of(WORDS["anna"])
    for name, role, class_id, person in PEOPLE:
        accounts.add(workspace, name, name.title(), role, class_id, stored, AT, person)
    clock = Clock()
    return Classrooms(root, door.open_door(root, rules or Rules(), clock), clock)


def post(browser: TestClient, name: str, body: object, **headers: str) -> Any:
    """Send JSON below the API as the page does."""
    own = {"content-type": "application/json", "origin": f"http://{HOST}", **headers}
    return browser.post(f"/api/classroom/{name}", content=json.dumps(body), headers=own)


def lesson(**changes: Any) -> dict[str, Any]:
    """A lesson as the page sends it; a change of a cell is given as `cells=...`."""
    cells = {
        "routine_id": "voice",
        "taught_on": "2026-05-15",
        "lesson_kind": "booster",
        "mode": "in_person",
        "status": "delivered",
        "minutes": "10",
        "entered_at": "2026-05-15T09:40:00+02:00",
    }
    record = {"key": str(uuid4()), "revision": 1, "feed": "routine_lessons", "cells": cells}
    return {**record, **changes, "cells": {**cells, **changes.get("cells", {})}}


def look(**changes: Any) -> dict[str, Any]:
    """A look round the class with two rows."""
    cells = {
        "observed_on": "2026-05-15",
        "minutes_observed": "3",
        "routine_id": "voice",
        "taught_by_role": "teacher",
        "purpose": "routine",
        "interval_seconds": "60",
    }
    rows = [
        {"row_number": str(n), "row_type": "moment", "code": "expected", "target_slot": str(n)}
        for n in (1, 2)
    ]
    own = {"key": str(uuid4()), "revision": 1, "feed": "observation_sessions", "rows": rows}
    return {**own, **changes, "cells": {**cells, **changes.get("cells", {})}}


def sent(browser: TestClient, *records: dict[str, Any]) -> list[dict[str, Any]]:
    """Send records and give the answers."""
    body = {"device": "a device", "records": list(records)}
    answer = post(browser, "records", body)
    assert answer.status_code == 200, answer.text
    found: list[dict[str, Any]] = answer.json()["answers"]
    return found


def outcomes(browser: TestClient, *records: dict[str, Any]) -> list[str]:
    """The outcome of each record that is sent."""
    return [str(one["outcome"]) for one in sent(browser, *records)]


def hidden(page: str) -> str:
    """The hidden field of the first form of a page."""
    found = re.search(r'name="form" value="([0-9a-f]+)"', page)
    assert found, page
    return found[1]


def pair(browser: TestClient, code: str) -> Any:
    """Type a code on a tablet; the answer to that."""
    page = browser.get("/classroom/pair")
    fields = {"form": hidden(page.text), "code": code}
    return browser.post("/classroom/pair", data=fields, headers={"origin": f"http://{HOST}"})
