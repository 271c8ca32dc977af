"""Options that many verbs share, and the workspace that a command means."""

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from ingest import settings, workspace
from ingest.settings import Settings
from ingest.workspace import Workspace

Verb = TypeVar("Verb", bound=Callable[..., Any])


def workspace_option(verb: Verb) -> Verb:
    """Adds `--workspace`."""
    return click.option(
        "--workspace",
        "-w",
        "folder",
        type=click.Path(path_type=Path),
        envvar="ROUNDELAY_WORKSPACE",
        help="The workspace folder. Left out: the one you are in, or the only one just inside.",
    )(verb)


def json_option(verb: Verb) -> Verb:
    """Adds `--json`."""
    return click.option(
        "--json", "is_json", is_flag=True, help="Answer in JSON, for other programs."
    )(verb)


def follow_option(verb: Verb) -> Verb:
    """Adds `--follow`: steps as lines of JSON, beside the answer."""
    return click.option(
        "--follow",
        "is_followed",
        is_flag=True,
        help="For other programs: say each step at once, a line of JSON each.",
    )(verb)


def opened(folder: Path | None) -> tuple[Workspace, Settings]:
    """The workspace named, or the one that the current folder means, with its settings."""
    found = workspace.open_workspace(folder) if folder else workspace.find(Path.cwd())
    return found, settings.load(found.settings_path)
