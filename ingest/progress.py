"""Shows how far a long step is, on stderr: a bar for people, a line of JSON for programs."""

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

from ingest.steps import Progress as Report
from ingest.steps import no_progress
from ingest.stopping import stoppable


@contextmanager
def shown(console: Console, is_followed: bool = False) -> Iterator[Report]:
    """A function `(label, done, total)` that draws a bar on `console`; total 0 means unknown.

    Followed, it says each step as a line for the program that started us, which may then also ask
    us to stop. Otherwise nothing is drawn when the console is not a terminal.
    """
    if is_followed:
        with stoppable():
            yield lambda label, done, total: said(
                console, "step", {"label": label, "done": done, "total": total}
            )
        return
    if not console.is_terminal:
        yield no_progress
        return
    columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    with Progress(*columns, console=console, transient=True) as bars:
        task = bars.add_task("starting", total=None)

        def report(label: str, done: int, total: int) -> None:
            bars.update(task, description=label, completed=done, total=total or None)

        yield report


def said(console: Console, event: str, facts: Mapping[str, Any]) -> None:
    """One line `{"event": ..., ...}`. Work goes on when nobody listens any more."""
    try:
        console.file.write(json.dumps({"event": event, **facts}, ensure_ascii=False) + "\n")
        console.file.flush()
    except OSError:
        return
