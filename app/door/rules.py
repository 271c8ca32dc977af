"""What was set about signing in, as `roundelay open` hands it over: one JSON text."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from ipaddress import ip_address, ip_network
from typing import Any
from urllib.parse import urlsplit

SOURCES = {"local": ("password",), "oidc": ("oidc",), "proxy": ("proxy",)}


@dataclass(frozen=True)
class Provider:
    """An OpenID Connect provider, and which of its words means which role."""

    issuer: str
    client_id: str
    client_secret: str = field(repr=False)
    scope: str
    name_claim: str
    role_claim: str
    class_claim: str
    roles: Mapping[str, str]
    person_claim: str = "person_id"


@dataclass(frozen=True)
class Rules:
    """How people sign in to one workspace."""

    mode: str = "local"
    school_name: str = ""
    is_demo: bool = False
    public_address: str = ""
    listens_on: str = ""
    trusted_proxy: str = ""
    name_header: str = ""
    idle_seconds: float = 3600.0
    longest_seconds: float = 43200.0
    provider: Provider | None = None

    @property
    def base(self) -> str:
        """The path before every path, as `/roundelay`; empty at the top of an address."""
        return urlsplit(self.public_address).path.rstrip("/")

    @property
    def is_secure(self) -> bool:
        """Whether readers come by https, so that cookies must."""
        return self.public_address.startswith("https://")

    @property
    def cookie(self) -> str:
        """The name of the cookie of a visit; the prefix binds it to this very host."""
        return "__Host-roundelay" if self.is_secure else "roundelay"

    @property
    def sources(self) -> tuple[str, ...]:
        """The kinds of visit that count; one begun in another mode does not."""
        return (*SOURCES[self.mode], "device", *(("demo",) if self.is_demo else ()))

    def trusts(self, peer: str) -> bool:
        """Whether a connection comes from the one proxy that may speak for others."""
        try:
            return bool(self.trusted_proxy) and ip_address(peer) in ip_network(self.trusted_proxy)
        except ValueError:
            return False


def read(text: str) -> Rules:
    """The rules from their JSON text; an unknown mode or a missing part is a `ValueError`."""
    told = json.loads(text)
    if told["mode"] not in SOURCES:
        raise ValueError(f"There is no way to sign in named {told['mode']!r}.")
    return Rules(
        mode=told["mode"],
        school_name=str(told.get("school_name", "")),
        is_demo=bool(told.get("is_demo", False)),
        public_address=str(told["public_address"]),
        listens_on=str(told.get("listens_on", "")),
        trusted_proxy=str(told["trusted_proxy"]),
        name_header=str(told["name_header"]).lower(),
        idle_seconds=60.0 * told["idle_minutes"],
        longest_seconds=3600.0 * told["longest_hours"],
        provider=_provider(told["oidc"]) if told["mode"] == "oidc" else None,
    )


def _provider(told: Mapping[str, Any]) -> Provider:
    return Provider(
        issuer=str(told["issuer"]),
        client_id=str(told["client_id"]),
        client_secret=str(told.get("client_secret", "")),
        scope=str(told["scope"]),
        name_claim=str(told["name_claim"]),
        role_claim=str(told["role_claim"]),
        class_claim=str(told["class_claim"]),
        roles=dict(told["roles"]),
        person_claim=str(told.get("person_claim", "person_id")),
    )
