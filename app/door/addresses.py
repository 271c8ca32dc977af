"""Addresses: of this server, of whoever asks, and of the page to go to after signing in."""

from __future__ import annotations

import re
from ipaddress import ip_address
from urllib.parse import urlsplit

from app.door.rules import Rules

_LOOPBACK = frozenset({"localhost", "127.0.0.1", "[::1]"})
_PART = rb"[A-Za-z0-9_~@+,=-][A-Za-z0-9._~@+,=-]*"
_PLAIN = re.compile(rb"/(?:%b(?:/%b)*/?)?" % (_PART, _PART))
_NEXT = re.compile(r"(?:/[A-Za-z0-9_-]*)(?:\?[A-Za-z0-9_.~%&=+,:@*!'()-]*)?")
_NEVER_NEXT = ("/signin", "/signout")
_LONGEST_NEXT = 1500


def is_plain(raw_path: bytes) -> bool:
    """Whether a path is written plainly: nothing encoded, no empty or dotted part.

    No address of ours needs more, so everything that could be read in two ways is turned away.
    """
    return _PLAIN.fullmatch(raw_path) is not None


def safe_next(text: str) -> str:
    """The page of ours to go to after signing in; the first page for anything else."""
    good = len(text) <= _LONGEST_NEXT and _NEXT.fullmatch(text)
    path = text.partition("?")[0]
    return text if good and path not in _NEVER_NEXT else "/"


def is_known_host(host: str, rules: Rules) -> bool:
    """Whether a Host header names this server: by its public name, or this machine by its own."""
    public = urlsplit(rules.public_address).netloc.lower()
    name = _without_port(host.lower())
    own = {rules.listens_on.lower()} if _is_loopback(rules.listens_on) else set()
    return host != "" and (host.lower() == public or name in _LOOPBACK | own)


def is_own_origin(origin: str, host: str) -> bool:
    """Whether an Origin header names the very host that was asked."""
    return urlsplit(origin).netloc.lower() == host.lower() != ""


def asker(peer: str, forwarded_for: str, rules: Rules) -> str:
    """The address of whoever asks: the last one that our own proxy wrote down, else the peer's."""
    if not rules.trusts(peer):
        return peer
    last = forwarded_for.rpartition(",")[2].strip()
    try:
        return str(ip_address(last))
    except ValueError:
        return peer


def _without_port(host: str) -> str:
    return re.sub(r":\d{1,5}$", "", host)


def _is_loopback(address: str) -> bool:
    try:
        return ip_address(address).is_loopback
    except ValueError:
        return False
