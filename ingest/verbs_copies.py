"""The verb for keeping a copy."""

from pathlib import Path

import click

from ingest.options import json_option, opened, workspace_option
from ingest.terminal import Terminal


@click.command(short_help="Keep a copy of everything that cannot be made again.")
@click.argument("to", type=click.Path(file_okay=False, path_type=Path))
@workspace_option
@json_option
@click.pass_obj
def copy(terminal: Terminal, to: Path, folder: Path | None, is_json: bool) -> None:
    """Keep a dated copy of the workspace in the folder TO.

    Files as they came, every accepted row, settings, accounts. Builds are left out: `roundelay
    build` makes them again. To go back, unpack a copy into an empty folder and build.

    \b
    Examples:
      roundelay copy /var/backups/our-school
    """
    from ingest import copies

    workspace, _ = opened(folder)
    made = copies.make(workspace, to, terminal.now())
    if is_json:
        terminal.emit({"copy": str(made), "bytes": made.stat().st_size})
    else:
        terminal.say(f"Kept: {made}")


VERBS = (copy,)
