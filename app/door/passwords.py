"""Checks a password at the same cost whether or not there is such an account."""

from __future__ import annotations

import unicodedata

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

LONGEST = 1000
# The same work as `ingest/passwords.py` asks for: argon2id, 64 MiB, 3 passes, 4 lanes.
_HASHER = PasswordHasher(time_cost=3, memory_cost=65536, parallelism=4)
# Checked where there is nothing to check, so that an unknown name takes as long as a wrong word.
_NOBODY = _HASHER.hash("nobody's password, checked in place of one that is not there")


def fits(stored: str | None, given: str) -> bool:
    """Whether a password is the stored one. Without a stored one the work is done all the same."""
    text = unicodedata.normalize("NFKC", given[:LONGEST])
    try:
        same = _HASHER.verify(stored or _NOBODY, text)
    except (VerificationError, InvalidHashError):
        return False
    return bool(same and stored and len(given) <= LONGEST)
