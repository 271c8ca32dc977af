"""Signing in through an OpenID Connect provider: sent there, come back, told a role.

The way there and back is the standard's authorization code with state, nonce and PKCE, by Authlib.
What has to be remembered meanwhile stays here, in the door's file, and is used once.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any

import httpx
from authlib.common.errors import AuthlibBaseError  # type: ignore[import-untyped]
from authlib.integrations.starlette_client import OAuth  # type: ignore[import-untyped]
from joserfc.errors import JoseError

from app.door import tokens
from app.door.forms import NotTaken
from app.door.identity import Door
from app.door.rules import Provider, Rules
from app.door.sessions import Guest

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

ERRAND_SECONDS = 600.0
_MOST_ERRANDS = 2000
_LOG = logging.getLogger("roundelay")


async def send(door: Door, request: Request, wanted: str) -> tuple[Response, str]:
    """The way to the provider, and the token under which it is remembered who was sent."""
    now = door.now()
    door.store.rows("delete from errand where ends_at <= ?", [now])
    if door.store.rows("select count(*) from errand")[0][0] >= _MOST_ERRANDS:
        raise NotTaken(503, "Many people are signing in just now. Please try again in a minute.")
    memory: dict[str, Any] = {}
    request.scope["session"] = memory
    try:
        answer = await _client(_provider(door)).authorize_redirect(
            request, _way_back(door.rules, request)
        )
    except (AuthlibBaseError, httpx.HTTPError, ValueError) as problem:
        raise _not_reached(problem) from None
    token = tokens.new()
    content = json.dumps({"memory": memory, "next": wanted})
    end = now + ERRAND_SECONDS
    door.store.rows("insert into errand values (?, ?, ?)", [tokens.digest(token), content, end])
    return answer, token


async def receive(door: Door, request: Request, token: str) -> tuple[Guest, str]:
    """Who came back, and the page that was asked for; `NotTaken` for anything that does not fit."""
    errand = _take(door, token)
    request.scope["session"] = errand["memory"]
    provider = _provider(door)
    client = _client(provider)
    try:
        told = await client.authorize_access_token(request)
        own = told.get("userinfo") or {}
        claims = {**own, **await client.userinfo(token=told)}
        metadata = await client.load_server_metadata()
    except (AuthlibBaseError, JoseError, httpx.HTTPError, ValueError, KeyError) as problem:
        raise _not_reached(problem) from None
    is_same = own.get("sub") and own["sub"] == claims.get("sub")
    if not is_same or metadata.get("issuer") != provider.issuer:
        raise NotTaken(403, "The school’s sign-in answered for somebody else.")
    return guest_of_claims(provider, claims), str(errand["next"])


def guest_of_claims(provider: Provider, claims: Mapping[str, Any]) -> Guest:
    """The guest that the provider's words describe; `NotTaken` when they give no role here.

    Of several roles the one counts that stands first in the settings.
    """
    given = set(_words(claims, provider.role_claim))
    role = next((ours for theirs, ours in provider.roles.items() if theirs in given), None)
    if role is None:
        raise NotTaken(403, "You are known to the school’s sign-in, but have no role here yet.")
    reader = role
    if role == "teacher":
        classes = _words(claims, provider.class_claim)
        if not classes:
            raise NotTaken(403, "The school’s sign-in does not say which class is yours.")
        reader = f"teacher:{classes[0]}"
    names = _words(claims, provider.name_claim) or [str(claims["sub"])]
    persons = _words(claims, provider.person_claim) or [""]
    subject = f"oidc:{provider.issuer} {claims['sub']}"
    return Guest(subject, 0, names[0], reader, "oidc", persons[0])


def _words(claims: Mapping[str, Any], name: str) -> list[str]:
    """A claim as a list of words; `a.b` also names `b` inside `a`."""
    value: Any = claims.get(name)
    if value is None:
        value = claims
        for part in name.split("."):
            value = value.get(part) if isinstance(value, Mapping) else None
    several = value if isinstance(value, list) else [value]
    return [one for one in several if isinstance(one, str) and one]


@lru_cache(maxsize=1)
def _registered(issuer: str, client_id: str, client_secret: str, scope: str) -> Any:  # noqa: ANN401 - Authlib has no types
    oauth = OAuth()
    return oauth.register(
        "provider",
        client_id=client_id,
        client_secret=client_secret or None,
        server_metadata_url=f"{issuer.rstrip('/')}/.well-known/openid-configuration",
        client_kwargs={"scope": scope, "code_challenge_method": "S256", "timeout": 10},
    )


def _client(provider: Provider) -> Any:  # noqa: ANN401 - Authlib has no types
    own = provider
    return _registered(own.issuer, own.client_id, own.client_secret, own.scope)


def _provider(door: Door) -> Provider:
    if door.rules.provider is None:
        raise NotTaken(404, "This school signs in another way.")
    return door.rules.provider


def _way_back(rules: Rules, request: Request) -> str:
    here = f"{request.url.scheme}://{request.headers['host']}{rules.base}"
    return f"{rules.public_address.rstrip('/') or here}/signin/back"


def _take(door: Door, token: str) -> dict[str, Any]:
    found = door.store.rows(
        "delete from errand where token_sha256 = ? and ends_at > ? returning content",
        [tokens.digest(token), door.now()],
    )
    if not found:
        raise NotTaken(403, "This way of signing in was begun elsewhere, or too long ago.")
    content: dict[str, Any] = json.loads(found[0][0])
    return content


def _not_reached(problem: Exception) -> NotTaken:
    _LOG.warning("The provider's answer was not taken: %s", type(problem).__name__)
    return NotTaken(502, "The school’s sign-in did not answer as it should. Please try again.")
