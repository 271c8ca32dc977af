"""The verb that goes on: watch."""

import time
from pathlib import Path

import click

from ingest.options import opened, workspace_option
from ingest.terminal import Terminal


@click.command(short_help="Take up what comes in, and build on a schedule.")
@workspace_option
@click.pass_obj
def watch(terminal: Terminal, folder: Path | None) -> None:
    """Take up what comes into the inbox, and build on a schedule, until it is stopped.

    A file is taken up once it has been still for a while. After something new the figures are made
    anew, at most once an hour, and at the times of the day that you set: section [watch] of
    roundelay.toml. A file that is refused stays in the inbox and is left alone until it changes.
    One line says each thing that was done. Stop it with Ctrl-C.

    \b
    Examples:
      roundelay watch
      roundelay watch --workspace our-school
    """
    from ingest import lock, stopping, watching

    workspace, settings = opened(folder)
    with lock.watching(workspace), stopping.stoppable():
        try:
            watching.go_on(terminal, workspace, settings, time.sleep)
        except KeyboardInterrupt:
            terminal.say("Stopped watching. Nothing is half done.")


VERBS = (watch,)
