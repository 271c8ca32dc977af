"""The verbs about files: new, blank, check, load, release."""

from collections.abc import Iterable
from dataclasses import asdict
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from ingest import progress
from ingest.errors import ExitCode
from ingest.options import follow_option, json_option, opened, workspace_option
from ingest.terminal import Terminal

if TYPE_CHECKING:
    from ingest.intake import Loader

_FILES = click.argument("named", nargs=-1, metavar="[FILE]...", type=click.Path(path_type=Path))


@click.command(short_help="Make a workspace for a school.")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--name", help="The school's name. Left out: taken from the folder's name.")
@click.option("--id", "school_id", help="A short key for the school. Left out: made of the name.")
@click.option("--zone", help="Its time zone, as Europe/Dublin. Left out: this computer's.")
@json_option
@click.pass_obj
def new(
    terminal: Terminal,
    folder: Path,
    name: str | None,
    school_id: str | None,
    zone: str | None,
    is_json: bool,
) -> None:
    """Make a workspace: the folder where a school's files, figures and settings live.

    It asks nothing and overwrites nothing. Everything can be changed later in roundelay.toml.

    \b
    Examples:
      roundelay new our-school
      roundelay new our-school --name "Quillbrook Primary" --zone Europe/Dublin
    """
    from ingest import clock, settings, start

    made = start.create(folder, name, school_id, zone or clock.own_zone())
    told = settings.load(made.settings_path)
    if is_json:
        terminal.emit({"workspace": str(made.root), **told.as_dict()})
        return
    terminal.say(f"Made {made.root} for {told.school_name} (time zone {told.time_zone}).")
    terminal.say(f"Settings: {made.settings_path}")
    terminal.say("Next: roundelay load <your files>   (no files yet? roundelay blank)")


@click.command(short_help="Write empty spreadsheets to fill in.")
@click.argument("feeds", nargs=-1, metavar="[TABLE]...")
@click.option(
    "--to",
    type=click.Path(path_type=Path),
    default=Path("blank"),
    show_default=True,
    help="The folder to write them to.",
)
@click.option(
    "--form",
    type=click.Choice(["xlsx", "csv"]),
    default="xlsx",
    show_default=True,
    help="A spreadsheet that explains each column, or plain text.",
)
@json_option
@click.pass_obj
def blank(terminal: Terminal, feeds: tuple[str, ...], to: Path, form: str, is_json: bool) -> None:
    """Write empty spreadsheets with the right columns, ready to fill in.

    Without a name, one for every table.

    \b
    Examples:
      roundelay blank
      roundelay blank classes people memberships --to Desktop
    """
    from ingest import blanks

    written = blanks.write(feeds, to, form)
    if is_json:
        terminal.emit([{"table": table, "file": str(file)} for table, file in written])
        return
    for table, file in written:
        terminal.say(f"{table}: {file}")
    terminal.say("Fill them in, then: roundelay check <file>")


@click.command(short_help="Look files over and keep nothing.")
@_FILES
@workspace_option
@json_option
@click.pass_obj
def check(terminal: Terminal, named: tuple[Path, ...], folder: Path | None, is_json: bool) -> int:
    """Look files over and keep nothing: what would be refused or set aside, and why.

    Without a file, everything in the inbox. The answer is 1 when something is not right.

    \b
    Examples:
      roundelay check lessons.csv
      roundelay check Downloads/*.xlsx
    """
    from ingest import intake, load, show

    workspace, settings = opened(folder)
    files = intake.files(workspace, named)
    with progress.shown(terminal.err) as report:
        found = load.check_files(files, workspace, settings, terminal.now(), report)
    if is_json:
        terminal.emit(show.as_dicts(found))
    else:
        show.reports(terminal.out, found, is_kept=False)
        terminal.say("\nNothing was kept. Next: roundelay load")
    return _code(one.status == "refused" or one.quarantined > 0 for one in found)


@click.command(short_help="Check files and keep what is right.")
@_FILES
@workspace_option
@json_option
@follow_option
@click.pass_obj
def load(
    terminal: Terminal,
    named: tuple[Path, ...],
    folder: Path | None,
    is_json: bool,
    is_followed: bool,
) -> int:
    """Check files and keep every row that is right.

    Without a file, everything in the inbox. Loading a file twice changes nothing. Rows that are not
    right are set aside with every reason, in a spreadsheet you can correct and load again; the
    answer is then 1.

    \b
    Examples:
      roundelay load
      roundelay load lessons.csv draws.csv
      roundelay load roster.zip
    """
    from ingest import intake, pointer, show
    from ingest.load import load_files

    workspace, settings = opened(folder)
    files = intake.files(workspace, named)
    with progress.shown(terminal.err, is_followed) as report:
        loader = _telling(terminal) if is_followed else load_files
        found = intake.load(files, workspace, settings, terminal.now(), report, loader)
    if is_json:
        terminal.emit(show.as_dicts(found))
    else:
        show.reports(terminal.out, found, is_kept=True)
        is_first = pointer.read(workspace) is None
        terminal.say(f"\nNext: {'roundelay open' if is_first else 'roundelay build'}")
    return _code(one.status == "refused" or one.quarantined > 0 for one in found)


@click.command(short_help="Let rows in that you found right.")
@click.argument("file_name")
@click.option("--by", required=True, help="Who decides: your name or role, for the record.")
@click.option("--rule", help="Only the rows that met this rule.")
@click.option("--line", "lines", multiple=True, type=int, help="Only this line. May be repeated.")
@workspace_option
@json_option
@click.pass_obj
def release(
    terminal: Terminal,
    file_name: str,
    by: str,
    rule: str | None,
    lines: tuple[int, ...],
    folder: Path | None,
    is_json: bool,
) -> int:
    """Let rows in that were set aside, because you looked and they are right.

    Only where the rule leaves it to a person; other rows must be corrected and loaded again. Who
    decided is kept. The answer is 1 when some of the rows stay set aside.

    \b
    Examples:
      roundelay release lessons.csv --by "Office"
      roundelay release lessons.csv --by "Office" --rule closed_day --line 7
    """
    from ingest import intake
    from ingest.ledger_held import Choice

    workspace, _ = opened(folder)
    choice = Choice(file_name=file_name, rule=rule, lines=lines)
    done = intake.let_in(choice, workspace, terminal.now(), by)
    if is_json:
        terminal.emit(asdict(done))
    else:
        terminal.say(f"Let in: {done.released}. Still set aside (to correct): {done.kept_held}.")
        terminal.say("Next: roundelay build" if done.released else "Next: roundelay state")
    return _code([done.kept_held > 0])


def _telling(terminal: Terminal) -> "Loader":
    """Loading that says each verdict as soon as it stands."""
    from ingest import show
    from ingest.load import load_files

    return partial(
        load_files,
        told=lambda one: progress.said(terminal.err, "file", show.as_verdict(one)),
    )


def _code(is_wrong: Iterable[bool]) -> int:
    return int(ExitCode.SET_ASIDE if any(is_wrong) else ExitCode.OK)


VERBS = (new, blank, check, load, release)
