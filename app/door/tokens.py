"""Secrets that a browser carries, and what of them may be kept."""

from __future__ import annotations

import hashlib
import hmac
import secrets

_BYTES = 32
# Of this process: a form that was open while the dashboard was started anew must be sent again.
_KEY = secrets.token_bytes(_BYTES)


def new() -> str:
    """32 bytes from the system's source, as text."""
    return secrets.token_urlsafe(_BYTES)


def digest(token: str) -> bytes:
    """What is stored of a token."""
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).digest()


def form_token(purpose: str, cookie: str) -> str:
    """The hidden field of a form: it fits one purpose and one cookie, and cannot be made up."""
    return hmac.new(_KEY, f"{purpose}\n{cookie}".encode(), hashlib.sha256).hexdigest()


def fits(purpose: str, cookie: str, given: str) -> bool:
    """Whether a form was made here for this browser."""
    return bool(cookie) and hmac.compare_digest(
        form_token(purpose, cookie).encode(), given.encode("utf-8", "replace")
    )
