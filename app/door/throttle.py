"""Makes guessing slow: after some wrong words for a name or from an address, a wait.

NIST SP 800-63B (section on rate limiting, from memory) asks that wrong tries for one account be
limited to no more than 100 in a row. The numbers below are our own and far lower.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from app.door import tokens
from app.door.store import Store

# Tries that are free: for a name from one address, for a name from anywhere, from one address.
FREE = {"pair": 5, "name": 20, "address": 30}
_FIRST_WAIT = 30.0
_LONGEST_WAIT = 900.0
_FORGOTTEN = 86400.0


@dataclass(frozen=True)
class Throttle:
    """Counts tries in the door's file, so that a new start of the dashboard forgives nothing."""

    store: Store

    def wait(self, name: str, address: str, now: float) -> float:
        """Count this try and say how many seconds are still to wait; 0 lets it through.

        A try is counted before its password is checked, so that many at once do not slip through.
        One that is sent away does not make the wait longer.
        """
        with self.store.together() as connection:
            waits = []
            for kind, key in _keys(name, address):
                found = connection.execute(
                    "select attempt_count, last_at from attempt where key_sha256 = ?", [key]
                ).fetchone()
                waits.append(_still(kind, found[0], found[1], now) if found else 0.0)
            if max(waits) > 0:
                return max(waits)
            connection.execute("delete from attempt where last_at <= ?", [now - _FORGOTTEN])
            for _, key in _keys(name, address):
                connection.execute(
                    "insert into attempt values (?, 1, ?) on conflict (key_sha256) do update "
                    "set attempt_count = attempt_count + 1, last_at = excluded.last_at",
                    [key, now],
                )
        return 0.0

    def forgive(self, name: str, address: str) -> None:
        """The right word was given: tries for this name are forgotten, and this one of the address.

        The address keeps its others: else an account of one's own would buy endless tries for those
        of others.
        """
        (_, pair), (_, own), (_, there) = _keys(name, address)
        with self.store.together() as connection:
            connection.execute("delete from attempt where key_sha256 in (?, ?)", [pair, own])
            connection.execute(
                "update attempt set attempt_count = attempt_count - 1 where key_sha256 = ?", [there]
            )


def _keys(name: str, address: str) -> tuple[tuple[str, bytes], ...]:
    texts = {"pair": f"{name}\n{address}", "name": name, "address": address}
    return tuple((kind, tokens.digest(f"{kind}\n{text}")) for kind, text in texts.items())


def _still(kind: str, count: int, last_at: float, now: float) -> float:
    over = count - FREE[kind]
    if over < 0:
        return 0.0
    wait = min(_FIRST_WAIT * math.pow(2, min(over, 20)), _LONGEST_WAIT)
    return max(0.0, last_at + wait - now)
