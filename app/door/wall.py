"""The wall around every address of the dashboard.

Nothing behind it sees a header that claims to say who is asking. Without a visit only the door's
own pages answer; a page leads to the sign-in, everything else is refused, sockets too.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import quote

from starlette.datastructures import MutableHeaders
from starlette.requests import HTTPConnection
from starlette.responses import PlainTextResponse, RedirectResponse

from app.door import addresses
from app.door.identity import Door, Identity
from app.door.rules import Rules
from app.door.ways import HEALTH, open_ways

if TYPE_CHECKING:
    from starlette.responses import Response
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

KEY = "roundelay"
# The only addresses of a class tablet, and all below them.
_FOR_DEVICES = ("/classroom", "/api/classroom")
# Not pages: who asks for these is not led anywhere.
_PARTS = ("/_stcore/", "/media/", "/static/", "/app/static/", "/component/", "/api/", "/take/")
# What may stay in a browser's memory: files that say nothing about anybody.
_KEPT = ("/static/", "/app/static/", "/door/", "/classroom/files/", "/classroom/worker.js",
         "/classroom/app.webmanifest")  # fmt: skip
_CLAIMS = (b"forwarded", b"x-forwarded-", b"x-real-ip", b"remote-", b"x-remote-", b"x-auth-",
           b"x-authentik-", b"x-authenticated-", b"x-webauth-", b"x-user", b"x-email",
           b"x-ms-client-principal", b"x-goog-authenticated-user", b"cf-access-", b"x-amzn-oidc-",
           b"via")  # fmt: skip


@dataclass(frozen=True)
class Asked:
    """What is known of a request once it is inside."""

    identity: Identity | None
    token: str
    address: str
    named: str


class Wall:
    """ASGI middleware. Without a door (one reader, this machine only) all pages are open."""

    def __init__(self, app: ASGIApp, rules: Rules, door: Door | None) -> None:
        self.app = app
        self.rules = rules
        self.door = door
        self.open = open_ways(rules)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, lead to the sign-in, or pass on what may come in."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        asked = HTTPConnection(scope)
        answer = self._turned_away(asked) or self._let_in(asked)
        if answer is None:
            scope["headers"] = [pair for pair in scope["headers"] if not self._claims(pair[0])]
            await self.app(scope, receive, _careful(send, scope["path"], self.rules))
        elif scope["type"] == "websocket":
            await send({"type": "websocket.close", "code": 1008, "reason": ""})
        else:
            await answer(scope, receive, _careful(send, "", self.rules))

    def _claims(self, name: bytes) -> bool:
        own = self.rules.name_header.encode()
        return name.lower().startswith(_CLAIMS) or (bool(own) and name.lower() == own)

    def _turned_away(self, asked: HTTPConnection) -> Response | None:
        """Requests that nobody should make, whoever they are."""
        raw = asked.scope.get("raw_path") or asked.scope["path"].encode()
        if not addresses.is_plain(raw):
            return PlainTextResponse("This address is not written plainly.", 400)
        path = asked.scope["path"]
        if path == self.rules.base + HEALTH:
            return None
        if not path.startswith(f"{self.rules.base}/"):
            return PlainTextResponse("There is nothing here.", 404)
        hosts = asked.headers.getlist("host")
        if len(hosts) != 1 or not addresses.is_known_host(hosts[0], self.rules):
            return PlainTextResponse("This server does not go by that name.", 400)
        origin = asked.headers.get("origin")
        writes = asked.scope["type"] == "websocket" or asked.scope["method"] not in ("GET", "HEAD")
        if writes and origin is not None and not addresses.is_own_origin(origin, hosts[0]):
            return PlainTextResponse("This was sent from another site.", 403)
        return self._from_elsewhere(asked)

    def _from_elsewhere(self, asked: HTTPConnection) -> Response | None:
        """Where only this machine, or only the proxy, may ask."""
        peer = asked.client.host if asked.client else ""
        is_passed_on = any(
            name in asked.headers for name in ("x-forwarded-for", "forwarded", "x-real-ip", "via")
        )
        if (self.door is None or self.rules.is_demo) and is_passed_on:
            return PlainTextResponse("This dashboard is for its own machine only.", 403)
        needs_proxy = self.rules.mode == "proxy" and self.door is not None
        if needs_proxy and not self.rules.trusts(peer):
            return PlainTextResponse("This dashboard is reached through its proxy only.", 403)
        return None

    def _let_in(self, asked: HTTPConnection) -> Response | None:
        path = asked.scope["path"].removeprefix(self.rules.base)
        if self.door is None or path == HEALTH:
            return None
        peer = asked.client.host if asked.client else ""
        names = asked.headers.getlist(self.rules.name_header) if self.rules.name_header else []
        named = names[0] if len(names) == 1 and self.rules.trusts(peer) else ""
        identity = self.door.who(asked.cookies)
        if identity and not self._is_still_named(identity, named):
            identity = None
        address = addresses.asker(peer, asked.headers.get("x-forwarded-for", ""), self.rules)
        token = asked.cookies.get(self.rules.cookie, "")
        asked.scope[KEY] = Asked(identity, token, address, named)
        if identity and identity.source == "device" and path not in self.open:
            return self._stay_in_class(asked, path)
        if identity or path in self.open:
            return None
        return self._to_the_door(asked, path)

    def _stay_in_class(self, asked: HTTPConnection, path: str) -> Response | None:
        """A class tablet is for the classroom page and for nothing else."""
        if any(path == own or path.startswith(f"{own}/") for own in _FOR_DEVICES):
            return None
        is_page = asked.scope["type"] == "http" and asked.scope["method"] == "GET"
        if is_page and not path.startswith(_PARTS):
            return RedirectResponse(f"{self.rules.base}/classroom", 303)
        return PlainTextResponse("A class tablet is for the classroom page only.", 403)

    def _is_still_named(self, identity: Identity, named: str) -> bool:
        """Behind a proxy that says who it is: whether that is the person of the visit."""
        if self.rules.mode != "proxy" or self.door is None or identity.source != "proxy":
            return True
        account = self.door.accounts.named(named)
        return account is not None and account.subject == identity.subject

    def _to_the_door(self, asked: HTTPConnection, path: str) -> Response:
        is_page = asked.scope["type"] == "http" and asked.scope["method"] == "GET"
        if not is_page or path.startswith(_PARTS):
            return PlainTextResponse("Sign in first.", 401)
        query = asked.scope["query_string"].decode("latin-1")
        wanted = addresses.safe_next(path + (f"?{query}" if query else ""))
        more = "" if wanted == "/" else f"?next={quote(wanted, safe='')}"
        return RedirectResponse(f"{self.rules.base}/signin{more}", 303)


def _careful(send: Send, path: str, rules: Rules) -> Send:
    """Adds to every answer what keeps it out of other sites' frames and shared machines' memory."""

    async def carefully(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            headers.setdefault("X-Content-Type-Options", "nosniff")
            headers.setdefault("Referrer-Policy", "same-origin")
            headers.setdefault("Content-Security-Policy", "frame-ancestors 'self'")
            if not path.removeprefix(rules.base).startswith(_KEPT):
                headers["Cache-Control"] = "no-store"
            if rules.is_secure:
                headers.setdefault("Strict-Transport-Security", "max-age=31536000")
        await send(message)

    return carefully
