"""Who is this, which classes, and the one read-only door to what was published for them.

The only room that opens a snapshot. A `Scope` is made here and nowhere else; whoever holds one can
read the shelves of its reader and no other.
"""

from app.access.problems import Broken, NothingBuilt, Refused
from app.access.readers import Reader, parse_reader, reader_for
from app.access.scopes import Scope, demo_readers, fetch, may_open_class, scope_for, shelf_of_class
from app.access.snapshots import Snapshot, current_snapshot
from app.access.surroundings import (
    address_setting,
    believes_headers,
    now,
    reader_setting,
    sign_in_setting,
    workspace_setting,
)
from app.access.visits import Visit, arrive, here

__all__ = [
    "Broken",
    "NothingBuilt",
    "Reader",
    "Refused",
    "Scope",
    "Snapshot",
    "Visit",
    "address_setting",
    "arrive",
    "believes_headers",
    "current_snapshot",
    "demo_readers",
    "fetch",
    "here",
    "may_open_class",
    "now",
    "parse_reader",
    "reader_for",
    "reader_setting",
    "scope_for",
    "shelf_of_class",
    "sign_in_setting",
    "workspace_setting",
]
