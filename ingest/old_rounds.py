"""Forgets the running rounds of classes in which nobody has drawn for long.

The classroom page keeps them in a small file of its own and looks at a class only when one of its
devices is in touch. A class that never comes back would stay, so each build looks at them all.
No record is lost: what was drawn came in as files.
"""

import sqlite3
from contextlib import closing
from datetime import datetime, timedelta

from ingest.workspace import Workspace

FILE = "classroom.sqlite"
# The page itself looks back no further when it counts draws or takes one back.
DRAWS_DAYS = 14
_PATIENCE_SECONDS = 5.0
_UNUSED = """
    select class_id from hat
    where class_id not in (select class_id from hat_device where seen_at >= :seen_at)
"""


def forget(workspace: Workspace, keep_days: int, now: datetime) -> list[str]:
    """Forget classes of which no device was in touch for so many days, and every old draw.

    Returns the classes. While the page is writing, or without its file, nothing is done: the next
    build tries again. Raises nothing.
    """
    path = workspace.root / FILE
    if not path.is_file():
        return []
    since = {
        "seen_at": (now - timedelta(days=keep_days)).timestamp(),
        "day": (now - timedelta(days=DRAWS_DAYS)).date().isoformat(),
    }
    try:
        with closing(sqlite3.connect(path, _PATIENCE_SECONDS, isolation_level=None)) as file:
            return _forget(file, since)
    except sqlite3.Error:
        return []


def _forget(file: sqlite3.Connection, since: dict[str, object]) -> list[str]:
    # What is deleted is written over, so that it cannot be read from the file afterwards.
    file.execute("pragma secure_delete = on")
    file.execute("begin immediate")
    unused = [row[0] for row in file.execute(_UNUSED, since)]
    for table in ("hat_child", "hat_device", "hat_draw", "hat"):
        file.executemany(
            f"delete from {table} where class_id = ?", [(class_id,) for class_id in unused]
        )
    file.execute("delete from hat_draw where drawn_on < :day", since)
    file.execute("commit")
    return unused
