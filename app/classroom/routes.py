"""The addresses of the classroom page, each answered off the server's own loop."""

from __future__ import annotations

import logging
from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from anyio import to_thread
from starlette.responses import RedirectResponse
from starlette.routing import Route

from app import access
from app.access import Broken, NothingBuilt, Refused
from app.classroom import bodies, devices, hat, records, shell, visits
from app.classroom.bodies import NotTaken
from app.classroom.pack import pack
from app.classroom.visits import Asker, Ended

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

    from app.door import Door

    Way = Callable[[Request], Awaitable[Response]]
    Answered = Callable[[Asker, Mapping[str, Any] | None], Mapping[str, Any]]

_LOG = logging.getLogger("roundelay")
_NOTHING = (
    "Nothing is built yet. Whoever looks after Roundelay in your school loads the roster first; "
    "then this page knows your class."
)


@dataclass(frozen=True)
class _Api:
    """What the addresses below `/api/classroom` need of this process."""

    door: Door | None
    workspace: Path | None

    def pack(self, visit: Asker, body: Mapping[str, Any] | None) -> Mapping[str, Any]:
        own = self.door.rules.public_address.rstrip("/") if self.door else ""
        return {**pack(visit), "pair_address": f"{own}/classroom/pair" if own else None}

    def records(self, visit: Asker, body: Mapping[str, Any] | None) -> Mapping[str, Any]:
        return records.take(visit, body or {})

    def hat(self, visit: Asker, body: Mapping[str, Any] | None) -> Mapping[str, Any]:
        return hat.answer(visit, body)

    def devices(self, visit: Asker, body: Mapping[str, Any] | None) -> Mapping[str, Any]:
        own = self.door.devices if self.door else None
        now = self.door.now() if self.door else access.now().timestamp()
        return devices.answer(visit, own, body, now)


def routes(door: Door | None, base: str, workspace: Path | None) -> list[Route]:
    """The routes of the page under a base path."""
    api = _Api(door, workspace)
    answers: dict[str, tuple[Answered, list[str]]] = {
        "pack": (api.pack, ["GET"]),
        "records": (api.records, ["POST"]),
        "hat": (api.hat, ["POST"]),
        "devices": (api.devices, ["GET", "POST"]),
    }
    own = f"{base}/classroom"
    return [
        Route(own, _shell(base), methods=["GET"]),
        Route(f"{own}/files/{{name}}", _file, methods=["GET"]),
        Route(f"{own}/worker.js", _worker(base), methods=["GET"]),
        Route(f"{own}/app.webmanifest", _manifest, methods=["GET"]),
        *(
            Route(f"{base}/api/classroom/{name}", _json(api, way), methods=kinds)
            for name, (way, kinds) in answers.items()
        ),
    ]


def _json(api: _Api, way: Answered) -> Way:
    """Who asks, what was sent, the answer as JSON; every way it can be refused has its status."""

    def work(request: Request, body: Mapping[str, Any] | None) -> Mapping[str, Any]:
        return way(visits.asker(request, api.workspace), body)

    async def answer(request: Request) -> Response:
        try:
            body = await bodies.read(request) if request.method == "POST" else None
            return bodies.answer(await to_thread.run_sync(work, request, body))
        except Ended:
            return bodies.answer({"words": "Sign in first."}, 401)
        except NotTaken as problem:
            return bodies.answer({"words": str(problem)}, problem.status)
        except Refused as problem:
            return bodies.answer({"words": str(problem)}, 403)
        except NothingBuilt:
            return bodies.answer({"title": "Nothing here yet", "words": _NOTHING}, 503)
        except Broken as problem:
            return bodies.answer({"words": str(problem)}, 503)
        except Exception:  # noqa: BLE001 - the outermost edge: no traceback reaches a reader
            _LOG.exception("A device could not be answered.")
            words = "Something went wrong here. What you wrote down is safe on your device."
            return bodies.answer({"words": words}, 500)

    return answer


def _shell(base: str) -> Way:
    async def answer(request: Request) -> Response:
        chosen = request.query_params.get(visits.VIEW, "")
        if chosen and not visits.signs_in(request):
            # Once chosen, out of the address: a device keeps the page under its plain one.
            there = RedirectResponse(f"{base}/classroom", 303)
            there.set_cookie(visits.cookie_name(), chosen, httponly=True, samesite="lax")
            return there
        is_theirs = await to_thread.run_sync(visits.is_for, request)
        return shell.page() if is_theirs else shell.not_yours(base)

    return answer


async def _file(request: Request) -> Response:
    return shell.file(request.path_params["name"], request)


def _worker(base: str) -> Way:
    async def answer(request: Request) -> Response:
        return shell.worker(base, request)

    return answer


async def _manifest(request: Request) -> Response:
    return shell.manifest(request)
