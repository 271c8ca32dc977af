"""Shows how far a long step is: on a terminal only, on stderr, and gone when it is done."""

from collections.abc import Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

from ingest.steps import Progress as Report
from ingest.steps import no_progress


@contextmanager
def shown(console: Console) -> Iterator[Report]:
    """A function `(label, done, total)` that draws a bar on `console`; total 0 means unknown.

    Nothing is drawn when the console is not a terminal.
    """
    if not console.is_terminal:
        yield no_progress
        return
    columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    with Progress(*columns, console=console, transient=True) as bars:
        task = bars.add_task("starting", total=None)

        def report(label: str, done: int, total: int) -> None:
            bars.update(task, description=label, completed=done, total=total or None)

        yield report
