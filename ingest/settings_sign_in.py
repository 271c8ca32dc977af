"""The section of the settings about signing in."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from ipaddress import ip_network
from pathlib import Path
from types import MappingProxyType
from typing import Any
from urllib.parse import urlsplit

from ingest.errors import WorkspaceProblem

MODES = ("local", "oidc", "proxy")
ROLES = ("principal", "support", "steward", "teacher")
_TEXTS = {
    "mode": "local",
    "public_address": "",
    "trusted_proxy": "",
    "name_header": "",
}
_NUMBERS = {"idle_minutes": (60, 5, 720), "longest_hours": (12, 1, 168)}
_OIDC = {
    "issuer": "",
    "client_id": "",
    "client_secret_file": "oidc-secret.txt",
    "scope": "openid profile email",
    "name_claim": "name",
    "role_claim": "roles",
    "class_claim": "class_id",
    "person_claim": "person_id",
}
LINES = [
    ("mode", '"local"', "local: accounts of this workspace; oidc; proxy"),
    ("public_address", '""', "what readers type, as https://roundelay.example.org"),
    ("trusted_proxy", '""', "the address of the web server in front, as 127.0.0.1"),
    ("name_header", '""', "proxy: the header in which it writes the name, as X-Remote-User"),
    ("idle_minutes", "60", "a visit ends after so long without a click"),
    ("longest_hours", "12", "and after so long in any case"),
]


@dataclass(frozen=True)
class Oidc:
    """An OpenID Connect provider, and which of its words means which role."""

    issuer: str
    client_id: str
    client_secret_file: str
    scope: str
    name_claim: str
    role_claim: str
    class_claim: str
    person_claim: str
    roles: Mapping[str, str]


@dataclass(frozen=True)
class SignIn:
    """How people sign in."""

    mode: str = "local"
    public_address: str = ""
    trusted_proxy: str = ""
    name_header: str = ""
    idle_minutes: int = 60
    longest_hours: int = 12
    oidc: Oidc | None = field(default=None)

    def handed_over(self, workspace: Path) -> dict[str, Any]:
        """What the dashboard is told, the provider's secret included when there is one."""
        told = dict(vars(self))
        if self.oidc is not None:
            told["oidc"] = {**vars(self.oidc), "roles": dict(self.oidc.roles)}
            secret = workspace / self.oidc.client_secret_file
            told["oidc"]["client_secret"] = _secret(secret)
        return told


def read(given: Mapping[str, Any], path: Path, closed: Callable[..., None]) -> SignIn:
    """The section as parsed; `WorkspaceProblem` names the setting that is not right.

    `closed(given, known, prefix)` refuses names that are not known.
    """
    closed(given, (*_TEXTS, *_NUMBERS, "oidc"), "sign_in.")
    teller = _Teller(path)
    texts = {name: teller.text(given, name, usual) for name, usual in _TEXTS.items()}
    numbers = {name: teller.number(given, name, *bounds) for name, bounds in _NUMBERS.items()}
    if texts["mode"] not in MODES:
        raise teller.problem(
            "mode", f"{texts['mode']!r} is not known.", " or ".join(MODES), "local"
        )
    teller.check_addresses(texts)
    oidc = _oidc(given.get("oidc", {}), teller, closed) if texts["mode"] == "oidc" else None
    return SignIn(
        mode=texts["mode"],
        public_address=texts["public_address"],
        trusted_proxy=texts["trusted_proxy"],
        name_header=texts["name_header"],
        idle_minutes=numbers["idle_minutes"],
        longest_hours=numbers["longest_hours"],
        oidc=oidc,
    )


def _oidc(given: Any, teller: "_Teller", closed: Callable[..., None]) -> Oidc:  # noqa: ANN401
    if not isinstance(given, dict):
        raise teller.problem("oidc", "This must be a section.", "[sign_in.oidc]", "see the manual")
    closed(given, (*_OIDC, "roles"), "sign_in.oidc.")
    texts = {name: teller.text(given, name, usual, "oidc.") for name, usual in _OIDC.items()}
    for name in ("issuer", "client_id"):
        if not texts[name]:
            raise teller.problem(f"oidc.{name}", "This setting is missing.", "text", "fill it in")
    roles = given.get("roles", {})
    if not isinstance(roles, dict) or not roles or not set(roles.values()) <= set(ROLES):
        raise teller.problem(
            "oidc.roles",
            "It is not said which of the provider's words means which role.",
            f"each of its words leads to one of: {', '.join(ROLES)}",
            'for example: "school-teachers" = "teacher"',
        )
    return Oidc(**texts, roles=MappingProxyType(dict(roles)))


@dataclass(frozen=True)
class _Teller:
    """Reads single values and says what is wrong with one."""

    path: Path

    def problem(self, name: str, what: str, rule: str, remedy: str) -> WorkspaceProblem:
        where = f"{self.path}: sign_in.{name}"
        return WorkspaceProblem(what, where=where, rule=rule, remedy=remedy)

    def text(self, given: Mapping[str, Any], name: str, usual: str, prefix: str = "") -> str:
        value = given.get(name, usual)
        if not isinstance(value, str):
            raise self.problem(prefix + name, f"{value!r} cannot be used.", "text", f'{name} = ""')
        return value.strip()

    def number(self, given: Mapping[str, Any], name: str, usual: int, low: int, high: int) -> int:
        value = given.get(name, usual)
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            rule = f"a whole number from {low} to {high}"
            raise self.problem(name, f"{value!r} cannot be used.", rule, f"the default is {usual}")
        return int(value)

    def check_addresses(self, texts: Mapping[str, str]) -> None:
        public = urlsplit(texts["public_address"])
        is_whole = public.scheme in ("http", "https") and public.netloc
        if texts["public_address"] and (not is_whole or public.query or public.fragment):
            raise self.problem(
                "public_address", "This is not an address.", "what readers type, whole",
                'for example: "https://roundelay.example.org"',
            )  # fmt: skip
        try:
            ip_network(texts["trusted_proxy"] or "127.0.0.1")
        except ValueError:
            raise self.problem(
                "trusted_proxy", "This is not an address.", "one address, or one network",
                'for example: "127.0.0.1"',
            ) from None  # fmt: skip
        for name in ("trusted_proxy", "name_header"):
            if texts["mode"] == "proxy" and not texts[name]:
                rule = "without it anybody could say who they are"
                raise self.problem(name, "This setting is missing.", rule, "fill it in")


def _secret(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8").strip()
    except OSError as fault:
        raise WorkspaceProblem(
            "The secret that the provider gave you cannot be read.",
            where=str(path),
            rule="it stands in a file of its own, so that settings can be shown to others",
            remedy="write it into that file and let only yourself read it",
        ) from fault


def as_text(told: Mapping[str, Any]) -> str:
    """What is handed over, as one line."""
    return json.dumps(told, ensure_ascii=True)
