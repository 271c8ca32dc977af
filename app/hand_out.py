"""The address under which a page's files are fetched: its own reader gets them, nobody else."""

from __future__ import annotations

import logging
from functools import partial
from typing import TYPE_CHECKING
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from app.door.wall import KEY
from app.files.shelf import SHELF

if TYPE_CHECKING:
    from starlette.requests import Request

_LOG = logging.getLogger("roundelay")
_GONE = "This page had been open for long. Load it again, then take the file."
_NOT_MADE = "The file could not be made. The page is as it was; please try again."


def routes(base: str, *, has_door: bool) -> list[Route]:
    """The one route."""
    answer = partial(_hand_out, has_door)
    return [Route(base + "/take/{token}/{name}", answer, methods=["GET"])]


async def _hand_out(has_door: bool, request: Request) -> Response:
    """A file; what belongs to another reader is answered like what is not there."""
    file = SHELF.find(request.path_params["token"], request.path_params["name"])
    if file is None or (has_door and _reader(request) != file.reader):
        return PlainTextResponse(_GONE, 410)
    try:
        content = await run_in_threadpool(file.make)
    except Exception:  # noqa: BLE001 - no traceback reaches a reader
        _LOG.exception("A file could not be made.")
        return PlainTextResponse(_NOT_MADE, 500)
    how = f"attachment; filename*=UTF-8''{quote(file.name)}"
    return Response(content, media_type=file.mime, headers={"Content-Disposition": how})


def _reader(request: Request) -> str:
    asked = request.scope[KEY]
    return asked.identity.reader if asked.identity is not None else ""
