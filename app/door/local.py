"""A name and a password against the accounts: slowly for guessers, in the same words for all."""

from __future__ import annotations

import math
from dataclasses import dataclass

from anyio import CapacityLimiter, to_thread

from app.door import passwords
from app.door.accounts import plain_name
from app.door.identity import Door, guest_of
from app.door.page import Trouble
from app.door.sessions import Guest

# Each check takes 64 MiB and a core for a moment; more at once would only slow each other down.
_AT_ONCE = 2
_LONGEST_NAME = 200


@dataclass(frozen=True)
class Refusal:
    """Why a form was not taken, for the page; `wait_seconds` when it came too soon."""

    trouble: Trouble
    status: int
    wait_seconds: int = 0


@dataclass
class _Desk:
    """How many may be checked at once; made within the running server."""

    limiter: CapacityLimiter | None = None


_DESK = _Desk()


async def check(door: Door, typed: str, password: str, address: str) -> Guest | Refusal:
    """The guest whose name and password these are, or why not.

    The words and the work are the same for an unknown name, a closed account and a wrong password.
    """
    if not typed.strip():
        return Refusal(Trouble("Type your name first.", "name"), 422)
    if not password:
        return Refusal(Trouble("Type your password too.", "password"), 422)
    name = plain_name(typed[:_LONGEST_NAME])
    wait = door.throttle.wait(name, address, door.now())
    if wait > 0:
        return too_soon(wait)
    account = door.accounts.named(name)
    stored = account.password_hash if account else None
    if await _fits(stored, password) and account:
        door.throttle.forgive(name, address)
        return guest_of(account, "password")
    return Refusal(Trouble("This name and this password do not belong together.", "both"), 401)


def too_soon(wait: float) -> Refusal:
    """The answer to whoever has to wait, in whole minutes."""
    minutes = max(1, math.ceil(wait / 60))
    text = "in a minute" if minutes == 1 else f"in {minutes} minutes"
    return Refusal(
        Trouble(f"There were many tries. Please try again {text}."), 429, math.ceil(wait)
    )


async def _fits(stored: str | None, password: str) -> bool:
    if _DESK.limiter is None:
        _DESK.limiter = CapacityLimiter(_AT_ONCE)
    return await to_thread.run_sync(passwords.fits, stored, password, limiter=_DESK.limiter)
