"""Takes a new password and keeps only what it takes to know it again.

The rules follow NIST SP 800-63B (passwords; from memory): length counts and composition does not,
every character is allowed, spaces too, nothing expires, and what the place itself suggests (its
name, one's own name, one thing over and over) is turned down. The least length is our own choice,
above the eight that the standard asks for.
"""

import unicodedata
from collections.abc import Iterable

from argon2 import PasswordHasher

from ingest.errors import UsageProblem

SHORTEST = 12
LONGEST = 1000
_FEWEST_KINDS = 5
# argon2id, 64 MiB, 3 passes, 4 lanes: the second choice of RFC 9106 (from memory).
_HASHER = PasswordHasher(time_cost=3, memory_cost=65536, parallelism=4)


def hashed(password: str, own_words: Iterable[str] = ()) -> str:
    """What is stored of a new password; `UsageProblem` says why one cannot be taken."""
    text = unicodedata.normalize("NFKC", password)
    _check(text, [word.casefold() for word in own_words if len(word) > 3])
    return _HASHER.hash(text)


def _check(text: str, own_words: list[str]) -> None:
    if len(text) < SHORTEST:
        raise _refused(f"it has at least {SHORTEST} characters, this one has {len(text)}")
    if len(text) > LONGEST:
        raise _refused(f"it has at most {LONGEST} characters")
    if len(set(text.casefold())) < _FEWEST_KINDS:
        raise _refused("it is not one thing over and over")
    if any(word in text.casefold() for word in own_words):
        raise _refused("it does not hold the name of the person, the school or this tool")


def _refused(rule: str) -> UsageProblem:
    return UsageProblem(
        "This password cannot be taken.",
        rule=rule,
        remedy="four words that have nothing to do with each other are easy to keep",
    )
