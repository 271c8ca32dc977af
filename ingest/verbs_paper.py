"""The verbs for paper: brief, print."""

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


@click.command("print", short_help="Print cards, home pages or tally sheets as PDF.")
@click.argument("kind", type=click.Choice(["draw-cards", "routine-cards", "home", "tally"]))
@click.option("--class", "class_id", default="", help="The key of the class that it is for.")
@click.option("--routine", default="", help="One routine by its key or name. Left out: all.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="The file, or a folder for it. Left out: <kind>-<day>.pdf, here.",
)
@click.option("--school", default="", help="Which school, where a workspace holds several.")
@workspace_option
@json_option
@click.pass_obj
def print_(
    terminal: Terminal,
    kind: str,
    class_id: str,
    routine: str,
    out: Path | None,
    school: str,
    folder: Path | None,
    is_json: bool,
) -> None:
    """Print paper for the room and for home, as tagged PDF.

    \b
      draw-cards     names of a class to cut out and draw, and blank ones
      routine-cards  a routine a page: steps with pictures, voice, other ways
      home           half a page a routine for families, to cut
      tally          sheets for turns, lessons and a look, to type in later

    Without --class nothing of any class is on it: blank cards, sheets without keys of children.

    \b
    Examples:
      roundelay print draw-cards --class room-3
      roundelay print home --routine line-up --out lining-up.pdf
    """
    from ingest import printing

    workspace, settings = opened(folder)
    log = workspace.logs / f"print-{terminal.now():%Y%m%dT%H%M%S}.log"
    wishes = {"school": school or settings.school_id, "class": class_id, "routine": routine}
    made = printing.for_the_room(workspace, kind, wishes, out, log)
    if is_json:
        terminal.emit(asdict(made))
        return
    terminal.say(f"Wrote {made.file}")
    if class_id and kind in _WITH_NAMES:
        terminal.say("The children’s names are in it: keep it where you keep the register.")


_WITH_NAMES = ("draw-cards", "tally")
VERBS = (brief, print_)
