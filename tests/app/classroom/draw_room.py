"""The classroom page of an invented class in Chromium, with its answers made by the hat itself."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from random import Random
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Page, Route

from app.classroom.hat_exchange import end, exchange
from app.classroom.hat_messages import message_of
from app.classroom.hat_store import HatStore
from tests.app.classroom.hat_world import _KINDS, SITE, STATIC

NAMES = (
    "Imani", "Teo", "Wren", "Sol", "Ada", "Bo", "Cleo", "Dov", "Esi", "Finn", "Alexandrina",
    "Noor", "Per", "Quin", "Rafi", "Suki", "Tilda", "Uma", "Vito", "Xiao", "Yara", "Zeno",
)  # fmt: skip


@dataclass
class Room:
    """One class: its hat, the records that arrived, and whether there is a net."""

    store: HatStore
    names: tuple[str, ...] = NAMES[:6]
    has_net: bool = True
    wait_seconds: float = 0.2
    now: float = 1_000_000.0
    records: dict[tuple[str, int], dict[str, str]] = field(default_factory=dict)
    messages: list[dict[str, Any]] = field(default_factory=list)

    @property
    def keys(self) -> dict[str, str]:
        return {f"pu-{number:02d}": name for number, name in enumerate(self.names)}

    def pack(self) -> dict[str, Any]:
        return {
            "build": "b1", "built_at": "2026-05-15T06:00:00+00:00", "today": "2026-05-15",
            "is_demo": False, "role": "teacher", "owner": "teacher:room-3", "self": "me",
            "until": None, "wait_seconds": self.wait_seconds, "can_pair": False,
            "why_no_pairing": "", "routines": [], "sent": [], "queue": sorted(self.keys),
            "class": {"class_id": "room-3", "title": "Room 3", "size": len(self.names)},
            "pupils": [{"pupil_id": key, "name": name} for key, name in self.keys.items()],
        }  # fmt: skip

    def told(self, path: str, body: dict[str, Any] | None) -> dict[str, Any]:
        if path == "pack":
            return self.pack()
        assert body is not None
        if path == "hat" and "ends" in body:
            assert end(self.store, "room-3", body["ends"])
            return {"ended": body["ends"]}
        if path == "hat":
            self.messages.append(body)
            children = dict.fromkeys(self.keys, True)
            return exchange(
                self.store, "room-3", message_of(body), children, 6, self.now, Random(1)
            )
        for one in body["records"]:
            self.records[(one["key"], one["revision"])] = one["cells"]
        answers = [{"key": o["key"], "revision": o["revision"]} for o in body["records"]]
        return {"answers": [{**one, "outcome": "kept"} for one in answers]}

    def standing(self) -> list[dict[str, str]]:
        """The rows as they stand after every revision, in the order of their keys."""
        latest = {key: self.records[key, number] for key, number in sorted(self.records)}
        return [row for row in latest.values() if row.get("voided") != "true"]

    def answer(self, route: Route) -> None:
        path = route.request.url.removeprefix(SITE).split("?")[0]
        if path.startswith("/api/classroom/"):
            if not self.has_net:
                route.abort()
                return
            body = route.request.post_data_json if route.request.method == "POST" else None
            text = json.dumps(self.told(path.removeprefix("/api/classroom/"), body))
            route.fulfill(body=text, content_type="application/json")
            return
        name = "shell.html" if path == "/classroom" else path.rsplit("/", 1)[-1]
        file = STATIC / name
        if not file.is_file():
            route.fulfill(status=404, body="")
            return
        policy = {"Content-Security-Policy": "default-src 'self'; img-src 'self' data:"}
        headers = policy if name == "shell.html" else {}
        kind = _KINDS.get(file.suffix, "application/octet-stream")
        route.fulfill(body=file.read_bytes(), content_type=kind, headers=headers)


def tablet(
    browser: Browser, room: Room, *, width: int = 820, height: int = 1180, theme: str = "light"
) -> tuple[BrowserContext, Page]:
    """A device of the class with the draw screen open. It keeps what it notes while it lives."""
    context = browser.new_context(
        viewport={"width": width, "height": height},
        color_scheme=theme,  # type: ignore[arg-type]
        service_workers="block",
    )
    context.route(f"{SITE}/**", room.answer)
    page = context.new_page()
    page.goto(f"{SITE}/classroom#draw")
    page.locator(".draw .stage button").first.wait_for()
    return context, page


def name_shown(page: Page) -> str:
    """Wait for the name and say whose it is."""
    page.locator(".name-shown").wait_for()
    return page.locator(".name-shown").inner_text()


def one_draw(page: Page, outcome: str = "Answered") -> str:
    """A whole draw: the wait, the name, one tap."""
    page.get_by_role("button", name="Wait, then a name").click()
    found = name_shown(page)
    page.get_by_role("button", name=outcome, exact=True).click()
    page.locator(".idle").wait_for()
    return found
