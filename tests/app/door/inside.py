"""A dashboard of three words behind the real wall and door, for tests that need no Streamlit."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route, WebSocketRoute
from starlette.testclient import TestClient
from starlette.websockets import WebSocket

from app import door, hand_out
from app.door import Door, Rules
from ingest import accounts, passwords
from ingest.workspace import Workspace

AT = datetime(2026, 5, 15, 8, 0, tzinfo=UTC)
WORDS = {"anna": "turnip ladder window", "maren": "seven quiet lanterns"}
HOST = "127.0.0.1:8610"


@dataclass
class Clock:
    """A clock that tests move."""

    at: float = AT.timestamp()

    def __call__(self) -> float:
        return self.at

    @property
    def moment(self) -> datetime:
        return datetime.fromtimestamp(self.at, UTC)


@dataclass
class School:
    """A workspace with two people, its door and its clock."""

    workspace: Workspace
    door: Door
    clock: Clock = field(default_factory=Clock)

    def browser(
        self, peer: str = "127.0.0.1", host: str = HOST, scheme: str = "http"
    ) -> TestClient:
        """A browser without cookies; it follows no redirect by itself."""
        return TestClient(
            dashboard(self.door.rules, self.door),
            base_url=f"{scheme}://{host}",
            client=(peer, 50000),
            follow_redirects=False,
        )


def school(root: Path, rules: Rules | None = None) -> School:
    """Anna, the principal, and Maren, who teaches room 3."""
    workspace = Workspace(root)
    workspace.make_folders()
    people = (("anna", "principal", None), ("maren", "teacher", "room-3"))
    for name, role, class_id in people:
        stored = hash_of(WORDS[name])
        accounts.add(workspace, name, name.title(), role, class_id, stored, AT)
    clock = Clock()
    return School(workspace, door.open_door(root, rules or Rules(), clock), clock)


@cache
def hash_of(password: str) -> str:
    """A hash as the command makes it; made once, because each takes a moment."""
    return passwords.hashed(password)


def with_rules(made: School, **changes: Any) -> School:
    """The same school under other rules."""
    rules = replace(made.door.rules, **changes)
    return replace(made, door=replace(made.door, rules=rules))


def dashboard(rules: Rules, own: Door | None) -> Starlette:
    """What stands behind the wall says what reached it."""

    async def inside(request: Request) -> Response:
        person = own.who(request.cookies) if own else None
        told = {"reader": person.reader if person else None, "headers": sorted(request.headers)}
        return JSONResponse(told)

    async def stream(socket: WebSocket) -> None:
        await socket.accept()
        await socket.send_text("inside")
        await socket.close()

    kinds = ["GET", "POST", "PUT", "DELETE"]
    return Starlette(
        routes=[
            *door.routes(own, rules.base),
            *hand_out.routes(rules.base, has_door=own is not None),
            WebSocketRoute(f"{rules.base}/_stcore/stream", stream),
            Route("/{path:path}", inside, methods=kinds),
        ],
        middleware=[Middleware(door.Wall, rules=rules, door=own)],
    )


def hidden(page: str) -> str:
    """The hidden field of the first form of a page."""
    found = re.search(r'name="form" value="([0-9a-f]+)"', page)
    assert found, page
    return found[1]


def sign_in(
    browser: TestClient, name: str = "anna", password: str | None = None, wanted: str = "/"
) -> Any:
    """Open the page, fill the form, send it; the answer to that."""
    page = browser.get("/signin")
    fields = {
        "form": hidden(page.text),
        "next": wanted,
        "name": name,
        "password": WORDS[name] if password is None else password,
    }
    return browser.post("/signin", data=fields, headers={"origin": f"http://{HOST}"})
