"""Names for the demo's choice of readers. Nobody is offered a choice in a real school."""

from __future__ import annotations

import pandas as pd

from app.access import Snapshot, demo_readers, fetch, scope_for
from app.queries.kept import kept


@kept
def demo_names(snapshot: Snapshot) -> pd.DataFrame:
    """Each reader of a demo: its key, and for a teacher the title of her class."""
    found = []
    for reader in demo_readers(snapshot):
        title = ""
        if reader.class_id is not None:
            rows = fetch(scope_for(snapshot, reader), "room", "select title from room_class")
            title = str(rows["title"].iloc[0]) if len(rows) else reader.class_id
        found.append({"reader": reader.key, "title": title})
    return pd.DataFrame(found)
