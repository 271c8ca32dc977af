"""The keys of records that are written down here: UUIDs as they are usually written."""

from __future__ import annotations

from contextlib import suppress
from uuid import UUID

# As it stands in the name of a file.
UUID_PATTERN = "[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}"


def is_uuid(key: str) -> bool:
    """Whether a key is a UUID in its usual form."""
    with suppress(ValueError):
        return str(UUID(key)) == key
    return False
