"""Has pages printed: the dashboard's own print room as a child process, and what it answered.

A child process, because nothing here may know the dashboard, and what is on paper must be what is
on the screen.
"""

import importlib.util
import json
import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ingest import snapshot
from ingest.errors import Problem, UsageProblem, WorkspaceProblem
from ingest.serve import surroundings
from ingest.workspace import Workspace

_PATIENCE_SECONDS = 300
_NOT_THERE = 2
_PRINT_ROOM = (sys.executable, "-m", "app.paper")


@dataclass(frozen=True)
class Printed:
    """The file written, and the build it tells of."""

    file: Path
    build_id: str


@dataclass(frozen=True)
class Page:
    """What to print: its name in sentences, the word of the command, how to ask for it again."""

    noun: str
    command: str
    wishes: tuple[str, ...]
    remedy: str


def brief(
    workspace: Workspace,
    school: str,
    term: str,
    to: Path | None,
    log: Path,
    program: tuple[str, ...] = _PRINT_ROOM,
) -> Printed:
    """Write the brief of the current build; `log` gets what the print room said if it stumbled.

    `UsageProblem` when nothing was built or there is no such term; else `Problem`.
    """
    remedy = "choose one of these, or leave --term and --school out"
    wishes = ("--school", school, "--term", term)
    return _printed(workspace, Page("brief", "brief", wishes, remedy), to, log, program)


def for_the_room(
    workspace: Workspace,
    kind: str,
    wishes: Mapping[str, str],
    to: Path | None,
    log: Path,
    program: tuple[str, ...] = _PRINT_ROOM,
) -> Printed:
    """Write one kind of page for the room or for home; `wishes` are school, class and routine.

    With a class it is printed as for its teacher, with what is hers. Else as `brief`.
    """
    options = (part for name, value in wishes.items() for part in (f"--{name}", value))
    remedy = "choose one that is there, or leave --class and --routine out"
    page = Page("page", f"print {kind}", ("--kind", kind, *options), remedy)
    return _printed(workspace, page, to, log, program)


def _printed(
    workspace: Workspace, page: Page, to: Path | None, log: Path, program: tuple[str, ...]
) -> Printed:
    current = snapshot.current(workspace)
    file = _file(page, to, str(current.told["as_of_on"]))
    _must_have_typst(page)
    done = subprocess.run(
        [*program, str(file.resolve()), *page.wishes],
        env=surroundings(workspace, os.environ),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        encoding="utf-8",
        errors="replace",
        timeout=_PATIENCE_SECONDS,
        check=False,
    )
    told = _answer(done.stdout)
    if done.returncode == 0 and file.is_file():
        return Printed(file, str(told.get("build_id", current.build_id)))
    raise _problem(page, done, told, log)


def _file(page: Page, to: Path | None, as_of_on: str) -> Path:
    name = f"{page.command.rpartition(' ')[2]}-{as_of_on}.pdf"
    file = Path(name) if to is None else to / name if to.is_dir() else to
    if file.suffix.lower() != ".pdf":
        raise UsageProblem(
            f"The {page.noun} is written as PDF.",
            where=str(file),
            rule="the file's name ends in .pdf",
            remedy=f"for example: roundelay {page.command} --out {file.with_suffix('.pdf')}",
        )
    if not file.resolve().parent.is_dir():
        raise UsageProblem(
            "There is no such folder.",
            where=str(file.parent),
            rule=f"the {page.noun} is put into a folder that exists",
            remedy="make the folder first, or name another",
        )
    return file


def _must_have_typst(page: Page) -> None:
    if importlib.util.find_spec("typst") is None:
        raise WorkspaceProblem(
            "The package that sets pages is not installed.",
            where="typst",
            rule=f"the {page.noun} is set by it",
            remedy="install what requirements.lock names, for example with: make setup",
        )


def _answer(text: str) -> Mapping[str, Any]:
    try:
        told = json.loads(text.strip().splitlines()[-1])
    except (IndexError, ValueError):
        return {}
    return told if isinstance(told, dict) else {}


def _problem(
    page: Page, done: subprocess.CompletedProcess[str], told: Mapping[str, Any], log: Path
) -> Problem:
    what = str(told.get("problem", ""))
    if what and done.returncode == _NOT_THERE:
        return UsageProblem(what, remedy=page.remedy)
    log.write_text(f"{done.stdout}\n{done.stderr}\n", encoding="utf-8")
    return Problem(
        what or f"The {page.noun} could not be printed.",
        where=str(log),
        rule=f"it is written whole or not at all, so no half {page.noun} was left",
        remedy="run: roundelay build, then try again; if it happens again, show that log to "
        "whoever looks after this tool for you",
    )
