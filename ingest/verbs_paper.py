"""The verb for paper: brief."""

from dataclasses import asdict
from pathlib import Path

import click

from ingest.options import json_option, opened, workspace_option
from ingest.terminal import Terminal


@click.command(short_help="Print the principal's brief as PDF.")
@click.option("--term", default="", help="The term by its key or name. Left out: the present one.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="The file, or a folder for it. Left out: brief-<day>.pdf, here.",
)
@click.option("--school", default="", help="Which school, where a workspace holds several.")
@workspace_option
@json_option
@click.pass_obj
def brief(
    terminal: Terminal, term: str, out: Path | None, school: str, folder: Path | None, is_json: bool
) -> None:
    """Print the principal's brief: two pages for the governing board, as tagged PDF.

    It says what the Schoolwide page says: the same sentences, charts and numbers of the current
    build, with what is withheld left out and the cautions on it. A file of that name is replaced.

    \b
    Examples:
      roundelay brief
      roundelay brief --term "Autumn term" --out autumn.pdf
    """
    from ingest import printing

    workspace, settings = opened(folder)
    log = workspace.logs / f"brief-{terminal.now():%Y%m%dT%H%M%S}.log"
    made = printing.brief(workspace, school or settings.school_id, term, out, log)
    if is_json:
        terminal.emit(asdict(made))
    else:
        terminal.say(f"Wrote the brief to {made.file}")
        terminal.say("Please read the cautions on its second page before you pass it on.")


VERBS = (brief,)
