"""JSON in, JSON out: read with a limit, refused with kind words."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from starlette.responses import JSONResponse

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request

LARGEST = 256 * 1024


class NotTaken(Exception):  # noqa: N818 - an answer, not a mistake
    """What was sent is not read, with the status that says why."""

    def __init__(self, status: int, words: str) -> None:
        super().__init__(words)
        self.status = status


async def read(request: Request) -> dict[str, Any]:
    """The JSON object of a request; `NotTaken` for one that is too large or none at all."""
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind != "application/json":
        raise NotTaken(415, "This was not sent by the classroom page.")
    body = b""
    async for part in request.stream():
        body += part
        if len(body) > LARGEST:
            raise NotTaken(413, "This is more than can be sent at once.")
    try:
        told = json.loads(body.decode("utf-8"))
    except (ValueError, RecursionError):
        raise NotTaken(422, "This cannot be read.") from None
    if not isinstance(told, dict):
        raise NotTaken(422, "This cannot be read.")
    return told


def answer(told: Mapping[str, Any], status: int = 200) -> JSONResponse:
    """An answer that no memory on the way keeps."""
    return JSONResponse(dict(told), status, {"Cache-Control": "no-store"})
