"""What the door itself answers: signing in, signing out, its assets, and whether it is up."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

from starlette.responses import FileResponse, PlainTextResponse, RedirectResponse
from starlette.routing import Route

from app.door import page, pairing, provider, tokens, ways
from app.door.addresses import safe_next
from app.door.devices import SOURCE
from app.door.forms import NotTaken, must_fit, read
from app.door.identity import Door, guest_of
from app.door.local import check
from app.door.page import Trouble
from app.door.sessions import Guest
from app.door.wall import KEY, Asked

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

    Answer = Callable[[Request], Awaitable[Response]]

_OLD_FORM = Trouble("This page had been open for long. Please try again.")
_LEFT = "left"


def routes(door: Door | None, base: str) -> list[Route]:
    """The door's routes; without a door only whether the server is up."""
    up = Route(base + ways.HEALTH, _up, methods=["GET"])
    if door is None:
        return [up]
    answers: dict[str, tuple[Answer, list[str]]] = {
        ways.SIGN_IN: (partial(_sign_in, door), ["GET", "POST"]),
        ways.SIGN_OUT: (partial(_sign_out, door), ["GET", "POST"]),
        ways.PAIR: (partial(pairing.answer, door), ["GET", "POST"]),
    }
    if door.rules.is_demo:
        answers[ways.DEMO] = (partial(_enter_demo, door), ["POST"])
    if door.rules.mode == "oidc":
        answers[ways.PROVIDER] = (partial(_to_provider, door), ["GET"])
        answers[ways.BACK] = (partial(_from_provider, door), ["GET"])
    made = [
        Route(base + path, _safely(door, answer), methods=kinds)
        for path, (answer, kinds) in answers.items()
    ]
    assets = [
        Route(base + path, partial(_asset, file), methods=["GET"])
        for path, file in ways.ASSETS.items()
    ]
    return [up, *made, *assets]


async def _up(request: Request) -> Response:
    return PlainTextResponse("ok")


async def _asset(file: Path, request: Request) -> Response:
    return FileResponse(file, headers={"Cache-Control": "public, max-age=86400"})


def _safely(door: Door, way: Answer) -> Answer:
    """Answers a form that is not taken with a page of ours."""

    async def answer(request: Request) -> Response:
        try:
            return await way(request)
        except NotTaken as problem:
            inner = page.message(str(problem)) + page.again(door.rules)
            return page.document(door.rules, "That did not work", inner, problem.status)

    return answer


async def _sign_in(door: Door, request: Request) -> Response:
    if request.method == "POST":
        return await _try_password(door, request)
    asked: Asked = request.scope[KEY]
    wanted = safe_next(request.query_params.get("next", "/"))
    # A class tablet has no person yet: somebody may sign in on it, which ends the pairing there.
    if asked.identity is not None and asked.identity.source != SOURCE:
        return RedirectResponse(door.rules.base + wanted, 303)
    has_left = _LEFT in request.query_params
    if door.rules.mode == "proxy":
        return _left(door) if has_left else _by_proxy(door, asked, wanted)
    trouble = Trouble("You are signed out.", is_news=True) if has_left else None
    if door.rules.mode == "oidc":
        inner = page.by_provider(door.rules, wanted, trouble)
        return page.document(door.rules, "Sign in", inner)
    return _form(door, request, wanted, trouble=trouble)


def _form(
    door: Door,
    request: Request,
    wanted: str,
    typed: str = "",
    trouble: Trouble | None = None,
    status: int = 200,
) -> Response:
    """The sign-in form, with the cookie that its hidden field belongs to."""
    cookie = request.cookies.get(_form_cookie(door), "") or tokens.new()
    form = tokens.form_token("signin", cookie)
    inner = page.sign_in(door.rules, form, wanted, typed, trouble)
    if door.rules.is_demo:
        people = [one for one in door.accounts.all() if one.password_hash is None]
        inner = page.of_demo(door.rules, form, wanted, people, trouble)
    answer = page.document(door.rules, "Sign in", inner, status)
    _set(door, answer, _form_cookie(door), cookie, page.FORM_SECONDS)
    return answer


async def _try_password(door: Door, request: Request) -> Response:
    asked: Asked = request.scope[KEY]
    if door.rules.mode != "local":
        raise NotTaken(404, "This school signs in another way.")
    fields = await read(request)
    wanted = safe_next(fields.get("next", "/"))
    typed = fields.get("name", "")
    try:
        must_fit("signin", request.cookies.get(_form_cookie(door), ""), fields)
    except NotTaken:
        return _form(door, request, wanted, typed, _OLD_FORM, 403)
    outcome = await check(door, typed, fields.get("password", ""), asked.address)
    if isinstance(outcome, Guest):
        return _enter(door, asked, outcome, wanted)
    answer = _form(door, request, wanted, typed, outcome.trouble, outcome.status)
    if outcome.wait_seconds:
        answer.headers["Retry-After"] = str(outcome.wait_seconds)
    return answer


async def _enter_demo(door: Door, request: Request) -> Response:
    fields = await read(request)
    must_fit("signin", request.cookies.get(_form_cookie(door), ""), fields)
    account = door.accounts.named(fields.get("name", ""))
    if account is None or account.password_hash is not None:
        raise NotTaken(403, "There is nobody of that name in the invented school.")
    asked: Asked = request.scope[KEY]
    return _enter(door, asked, guest_of(account, "demo"), safe_next(fields.get("next", "/")))


async def _to_provider(door: Door, request: Request) -> Response:
    wanted = safe_next(request.query_params.get("next", "/"))
    answer, token = await provider.send(door, request, wanted)
    _set(door, answer, _errand_cookie(door), token, int(provider.ERRAND_SECONDS))
    return answer


async def _from_provider(door: Door, request: Request) -> Response:
    token = request.cookies.get(_errand_cookie(door), "")
    guest, wanted = await provider.receive(door, request, token)
    answer = _enter(door, request.scope[KEY], guest, wanted)
    _forget(door, answer, _errand_cookie(door))
    return answer


def _left(door: Door) -> Response:
    """Behind a proxy the form would sign in again at once; so there is a page in between."""
    text = "Your visit here has ended. You may still be signed in to the school’s own sign-in."
    inner = page.message(text) + page.again(door.rules)
    return page.document(door.rules, "Signed out", inner)


def _by_proxy(door: Door, asked: Asked, wanted: str) -> Response:
    account = door.accounts.named(asked.named) if asked.named else None
    if account is None:
        text = "The school’s own sign-in let you through, but you have no account here yet."
        return page.document(door.rules, "Not signed in", page.message(text), 403)
    return _enter(door, asked, guest_of(account, "proxy"), wanted)


def _enter(door: Door, asked: Asked, guest: Guest, wanted: str) -> Response:
    """Begin a visit under a new token, whatever the browser carried before."""
    answer = RedirectResponse(door.rules.base + wanted, 303)
    token = door.let_in(guest, instead_of=asked.token)
    _set(door, answer, door.rules.cookie, token, None)
    _forget(door, answer, _form_cookie(door))
    return answer


async def _sign_out(door: Door, request: Request) -> Response:
    asked: Asked = request.scope[KEY]
    assert asked.identity is not None  # noqa: S101 - the wall lets nobody else through to here
    if request.method == "GET":
        form = tokens.form_token("signout", asked.token)
        inner = page.sign_out(door.rules, form, asked.identity.shown_name)
        return page.document(door.rules, "Sign out", inner)
    fields = await read(request)
    must_fit("signout", asked.token, fields)
    door.sessions.end(asked.token)
    if fields.get("where") == "everywhere":
        door.sessions.end_all(asked.identity.subject)
        door.devices.end_all(asked.identity.subject)
    answer = RedirectResponse(f"{door.rules.base}/signin?{_LEFT}={quote('1')}", 303)
    _forget(door, answer, door.rules.cookie)
    return answer


def _form_cookie(door: Door) -> str:
    return f"{door.rules.cookie}-form"


def _errand_cookie(door: Door) -> str:
    return f"{door.rules.cookie}-errand"


def _set(door: Door, answer: Response, name: str, value: str, seconds: int | None) -> None:
    page.set_cookie(door.rules, answer, name, value, seconds)


def _forget(door: Door, answer: Response, name: str) -> None:
    page.forget_cookie(door.rules, answer, name)
