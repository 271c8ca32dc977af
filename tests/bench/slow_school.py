"""A school behind a slow net: the classroom page of one invented class, answered in a while."""

from __future__ import annotations

import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

from app.classroom import files

PACK: dict[str, Any] = {
    "build": "b1", "built_at": "2026-05-15T06:00:00+00:00", "today": "2026-05-15",
    "is_demo": False, "role": "teacher", "owner": "teacher:room-3", "self": "me", "until": None,
    "wait_seconds": 3, "can_pair": False, "why_no_pairing": "", "sent": [], "pupils": [],
    "class": {"class_id": "room-3", "title": "Room 3 (invented)", "size": 5},
    "can_look": True, "why_no_look": None, "settings": ["classroom"], "activities": [],
    "routines": [
        {"routine_id": "settle", "version": 1, "name": "Settling to listen", "kind": "posture",
         "setting": "classroom", "expected_voice_level": 0, "accepted_alternatives": "",
         "steps": [{"number": 1, "text": "Finish what you are doing", "is_critical": True}]},
    ],
}  # fmt: skip


@contextmanager
def slow_school(seconds: float) -> Iterator[str]:
    """The address of a page whose every answer below `/api/` takes so many seconds."""
    away = threading.Event()

    class Answers(BaseHTTPRequestHandler):
        """The shell, its files, the pack, and records that are all kept."""

        protocol_version = "HTTP/1.1"

        def do_GET(self) -> None:
            name = self.path.split("?")[0].rpartition("/")[2]
            if self.path.startswith("/api/"):
                away.wait(seconds)
                self._say(json.dumps(PACK).encode(), "application/json")
            elif name in files.files():
                self._say(*files.files()[name])
            else:
                self._say(files.shell().encode(), "text/html; charset=utf-8")

        def do_POST(self) -> None:
            body = json.loads(self.rfile.read(int(self.headers["content-length"])))
            away.wait(seconds)
            answers = [
                {"key": one["key"], "revision": one["revision"], "outcome": "kept", "reasons": []}
                for one in body.get("records", [])
            ]
            self._say(json.dumps({"answers": answers}).encode(), "application/json")

        def _say(self, content: bytes, kind: str) -> None:
            self.send_response(200)
            self.send_header("content-type", kind)
            self.send_header("content-length", str(len(content)))
            with suppress(ConnectionError):
                self.end_headers()
                self.wfile.write(content)

        def log_message(self, format: str, *args: object) -> None:
            """Nothing: the figures are what is printed."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Answers)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}"
    finally:
        away.set()
        server.shutdown()
        server.server_close()
