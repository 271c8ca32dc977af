"""Reads the few small forms of the door; anything larger or of another kind is turned away."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING
from urllib.parse import parse_qsl

from app.door import tokens

if TYPE_CHECKING:
    from starlette.requests import Request

LARGEST = 8192
_KIND = "application/x-www-form-urlencoded"


class NotTaken(Exception):  # noqa: N818 - an answer, not a mistake
    """A form that is not read, with the status that says why."""

    def __init__(self, status: int, text: str) -> None:
        super().__init__(text)
        self.status = status


async def read(request: Request) -> Mapping[str, str]:
    """The fields of a form; `NotTaken` for one that is too large or no form at all."""
    if request.headers.get("content-type", "").partition(";")[0].strip().lower() != _KIND:
        raise NotTaken(415, "This is not a form of ours.")
    body = b""
    async for part in request.stream():
        body += part
        if len(body) > LARGEST:
            raise NotTaken(413, "This is more than the form has room for.")
    try:
        text = body.decode("ascii")
        pairs = parse_qsl(text, keep_blank_values=True, max_num_fields=10, errors="strict")
    except ValueError:
        raise NotTaken(400, "This form cannot be read.") from None
    fields = dict(pairs)
    if len(fields) != len(pairs):
        raise NotTaken(400, "This form says something twice.")
    return fields


def must_fit(purpose: str, cookie: str, fields: Mapping[str, str]) -> None:
    """`NotTaken` unless the form was made here, for this browser and this purpose."""
    if not tokens.fits(purpose, cookie, fields.get("form", "")):
        raise NotTaken(403, "This form is too old, or was not made for this browser.")
