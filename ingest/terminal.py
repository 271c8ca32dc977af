"""The terminal as the commands see it, and the one way out for every kind of failure."""

import json
import sys
import traceback
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from rich.console import Console

from ingest import clock
from ingest.errors import ExitCode, Problem
from ingest.workspace import Workspace

_PIPED_WIDTH = 200


@dataclass(frozen=True)
class Terminal:
    """Where to write, and what time it is. Tests put others in.

    Colours follow the terminal and `NO_COLOR`; a pipe gets plain text and no bars.
    """

    out: Console = field(default_factory=lambda: _console(is_error=False))
    err: Console = field(default_factory=lambda: _console(is_error=True))
    now: Callable[[], datetime] = clock.now

    def say(self, text: str) -> None:
        """A line of plain text, never broken: a script may read it."""
        self.out.print(text, soft_wrap=True)

    def emit(self, value: Any) -> None:  # noqa: ANN401 - anything that JSON has
        """One JSON document on stdout."""
        self.out.file.write(json.dumps(value, ensure_ascii=False, indent=2, default=str) + "\n")


def _console(*, is_error: bool) -> Console:
    stream = sys.stderr if is_error else sys.stdout
    is_terminal = bool(getattr(stream, "isatty", lambda: False)())
    width = None if is_terminal else _PIPED_WIDTH
    return Console(
        file=stream, width=width, markup=False, highlight=False, emoji=False, force_jupyter=False
    )


def tell(terminal: Terminal, problem: Problem, is_json: bool) -> int:
    """Say a foreseen problem (as JSON on stdout when asked) and return its exit code."""
    if is_json:
        terminal.emit(problem.as_dict())
    else:
        terminal.err.print(str(problem), soft_wrap=True)
    return int(problem.exit_code)


def tell_unexpected(
    terminal: Terminal, fault: Exception, folder: Path, is_json: bool = False
) -> int:
    """Write what went wrong to a log and say what is safe and whom to tell."""
    log = write_log(folder, terminal.now(), fault)
    what: Mapping[str, Any] = {
        "problem": "Unexpected",
        "what": "Something went wrong that we did not foresee.",
        "where": str(log) if log else type(fault).__name__,
        "rule": "each file is loaded and each build is shown as a whole or not at all, "
        "so what was there before is still whole",
        "remedy": "run the command again; if it happens again, send that log to whoever looks "
        "after this tool for you (read it first: it may name files)",
        "exit_code": int(ExitCode.UNEXPECTED),
    }
    if is_json:
        terminal.emit(what)
    else:
        lines = (f"{what['what']} ({what['where']})", f"What is safe: {what['rule']}.")
        terminal.err.print("\n".join((*lines, f"What to do: {what['remedy']}.")), soft_wrap=True)
    return int(ExitCode.UNEXPECTED)


def write_log(folder: Path, moment: datetime, fault: Exception) -> Path | None:
    """Write down how a fault came about, in the logs of a workspace or here; None if impossible."""
    text = "".join(traceback.format_exception(fault))
    logs = Workspace(folder).logs
    where = logs if logs.is_dir() else Path.cwd()
    path = where / f"{moment:%Y%m%dT%H%M%S}.log"
    try:
        path.write_text(text, encoding="utf-8")
    except OSError:
        return None
    return path
