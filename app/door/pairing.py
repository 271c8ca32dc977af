"""The page on which a class tablet types its code."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.responses import RedirectResponse

from app.door import page, tokens
from app.door.devices import CODE_LETTERS, SOURCE, plain_code
from app.door.forms import NotTaken, must_fit, read
from app.door.local import too_soon
from app.door.page import Trouble
from app.door.wall import KEY, Asked

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

    from app.door.identity import Door

_PURPOSE = "pair"
_OLD = Trouble("This page had been open for long. Please type the code again.", "code")
_SHORT = Trouble(f"A code has {CODE_LETTERS} letters and digits.", "code")
_WRONG = Trouble(
    "This code is not good (any more). A code works once, and for ten minutes.", "code"
)


async def answer(door: Door, request: Request) -> Response:
    """Show the form, or take a code and begin the visit of the tablet."""
    asked: Asked = request.scope[KEY]
    if asked.identity is not None and asked.identity.source == SOURCE:
        return RedirectResponse(f"{door.rules.base}/classroom", 303)
    if request.method == "GET":
        return _form(door, request)
    fields = await read(request)
    try:
        must_fit(_PURPOSE, request.cookies.get(_cookie(door), ""), fields)
    except NotTaken:
        return _form(door, request, _OLD, 403)
    return _take(door, request, asked, fields.get("code", ""))


def _take(door: Door, request: Request, asked: Asked, typed: str) -> Response:
    if len(plain_code(typed)) != CODE_LETTERS:
        return _form(door, request, _SHORT, 422)
    # The same name for every code: what is slowed down is the address that tries them.
    name = f"pairing from {asked.address}"
    wait = door.throttle.wait(name, asked.address, door.now())
    if wait > 0:
        refusal = too_soon(wait)
        late = _form(door, request, Trouble(refusal.trouble.text, "code"), refusal.status)
        late.headers["Retry-After"] = str(refusal.wait_seconds)
        return late
    taken = door.devices.take(typed, door.now())
    if taken is None:
        return _form(door, request, _WRONG, 401)
    door.throttle.forgive(name, asked.address)
    guest, ends_at = taken
    token = door.sessions.begin(guest, door.now(), asked.token, ends_at)
    entered = RedirectResponse(f"{door.rules.base}/classroom", 303)
    seconds = max(1, int(ends_at - door.now()))
    # A tablet's browser is closed at times: the visit outlives it, until the evening.
    page.set_cookie(door.rules, entered, door.rules.cookie, token, seconds)
    page.forget_cookie(door.rules, entered, _cookie(door))
    return entered


def _form(
    door: Door, request: Request, trouble: Trouble | None = None, status: int = 200
) -> Response:
    cookie = request.cookies.get(_cookie(door), "") or tokens.new()
    inner = page.pair(door.rules, tokens.form_token(_PURPOSE, cookie), trouble)
    shown = page.document(door.rules, "Pair this tablet", inner, status)
    page.set_cookie(door.rules, shown, _cookie(door), cookie, page.FORM_SECONDS)
    return shown


def _cookie(door: Door) -> str:
    return f"{door.rules.cookie}-pair"
