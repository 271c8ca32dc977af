"""The verbs after the files: build, open, state, export, back, demo."""

import time
from dataclasses import asdict
from datetime import datetime
from pathlib import Path

import click

from ingest import progress
from ingest.options import follow_option, json_option, opened, workspace_option
from ingest.terminal import Terminal

_DAY = click.DateTime(["%Y-%m-%d"])


@click.command(short_help="Make all figures anew.")
@click.option(
    "--as-of", type=_DAY, help="The last day the figures know of, as 2026-05-15. Left out: today."
)
@workspace_option
@json_option
@follow_option
@click.pass_obj
def build(
    terminal: Terminal,
    as_of: datetime | None,
    folder: Path | None,
    is_json: bool,
    is_followed: bool,
) -> None:
    """Make all figures anew from what was loaded.

    The new build is shown only when every table and every test held. If not, the one before stays,
    and you are told why.

    \b
    Examples:
      roundelay build
      roundelay build --as-of 2026-05-15
    """
    from ingest import build as service
    from ingest import show

    workspace, settings = opened(folder)
    day = as_of.date() if as_of else service.usual_day(settings, terminal.now())
    started = time.monotonic()
    with progress.shown(terminal.err, is_followed) as report:
        built = service.run(workspace, settings, day, terminal.now(), report)
    if is_json:
        terminal.emit(asdict(built))
    else:
        show.built(terminal.out, built, time.monotonic() - started)
        terminal.say("Next: roundelay open")


@click.command("open", short_help="Show the dashboard in a browser.")
@click.option(
    "--as",
    "reader",
    help="Whose pages, without a sign-in and on this machine only: principal, support, steward, "
    "or teacher:<class>.",
)
@click.option("--port", default=8501, show_default=True, help="Another is taken if this is busy.")
@click.option(
    "--address",
    default="127.0.0.1",
    show_default=True,
    help="Where to listen. Others than this machine's own need a sign-in and https in front.",
)
@click.option("--no-browser", is_flag=True, help="Only say the address.")
@workspace_option
@click.pass_obj
def open_(
    terminal: Terminal,
    reader: str | None,
    port: int,
    address: str,
    no_browser: bool,
    folder: Path | None,
) -> None:
    """Show the dashboard in a browser on this computer.

    If nothing was built yet, it is built first. Where people have accounts (roundelay account),
    each signs in; else you see it as the principal. Stop it with Ctrl-C.

    \b
    Examples:
      roundelay open
      roundelay open --as support
      roundelay open --as teacher:room-3
    """
    from ingest import opening

    workspace, settings = opened(folder)
    opening.open_dashboard(terminal, workspace, settings, reader, address, port, no_browser)


@click.command(short_help="Say what came in and what is shown.")
@workspace_option
@json_option
@click.pass_obj
def state(terminal: Terminal, folder: Path | None, is_json: bool) -> None:
    """Say what came in, what was refused and why, how fresh it is, and what is shown.

    \b
    Examples:
      roundelay state
      roundelay state --json
    """
    from ingest import show
    from ingest import state as service

    workspace, settings = opened(folder)
    told = service.read(workspace, settings)
    if is_json:
        terminal.emit(told.as_dict())
    else:
        show.state(terminal.out, told)


@click.command(short_help="Write one table as a file.")
@click.argument("table", required=False)
@click.option("--to", type=click.Path(path_type=Path), help="The file; its ending says the form.")
@click.option(
    "--audience",
    default="school",
    show_default=True,
    help="Whose table: school, support or steward.",
)
@workspace_option
@json_option
@click.pass_obj
def export(
    terminal: Terminal,
    table: str | None,
    to: Path | None,
    audience: str,
    folder: Path | None,
    is_json: bool,
) -> None:
    """Write one table of the current build as a file: .csv, .xlsx, .parquet or .json.

    Without a table, the tables there are. Only tables made for reading leave the workspace. The
    cautions that belong to the figures are written beside the file (in XLSX on a second sheet).

    \b
    Examples:
      roundelay export
      roundelay export mart_measures_by_grade --to grades.xlsx
      roundelay export mart_files --audience steward --to files.csv
    """
    from ingest import export as service
    from ingest import snapshot

    current = snapshot.current(opened(folder)[0])
    if table is None:
        listed = service.tables(current, audience)
        if is_json:
            terminal.emit(listed)
        for line in () if is_json else listed:
            terminal.say(f"{line['table']} ({line['row_count']} rows)")
        return
    written = service.write(current, table, audience, to or Path(f"{table}.csv"))
    if is_json:
        terminal.emit(asdict(written))
        return
    terminal.say(f"Wrote {written.row_count} rows to {written.file}")
    terminal.say(f"Please read {written.notes or 'its second sheet'} before you pass it on.")


@click.command(short_help="Show an earlier build again.")
@click.argument("build_id", required=False)
@workspace_option
@json_option
@click.pass_obj
def back(terminal: Terminal, build_id: str | None, folder: Path | None, is_json: bool) -> None:
    """Show an earlier build again: the one you name, or the one before.

    Nothing is lost: name the newer one to return to it. roundelay state lists the builds kept.

    \b
    Examples:
      roundelay back
      roundelay back 2026-05-15-20260515T160000
    """
    from ingest import lock, pointer

    workspace, _ = opened(folder)
    with lock.held(workspace, "going back to an earlier build", terminal.now()):
        before = pointer.read(workspace)
        name = pointer.back(workspace, build_id)
    if is_json:
        terminal.emit({"current": name, "before": before})
    else:
        terminal.say(f"Shown now: {name} (before: {before})")


@click.command(short_help="Look around in an invented school.")
@click.option(
    "--folder",
    type=click.Path(path_type=Path),
    default=Path("demo"),
    show_default=True,
    help="Where the invented school lives.",
)
@click.option("--prepare-only", is_flag=True, help="Make it, but do not open it.")
@click.option("--port", default=8501, show_default=True, help="Another is taken if this is busy.")
@click.option("--no-browser", is_flag=True, help="Only say the address.")
@json_option
@click.pass_obj
def demo(
    terminal: Terminal,
    folder: Path,
    prepare_only: bool,
    port: int,
    no_browser: bool,
    is_json: bool,
) -> None:
    """Look around in an invented school: a whole year, made up, loaded like any other files.

    Some of its files are wrong on purpose, so that you see what happens then. The first time takes
    a minute or so; after that it opens in seconds.

    \b
    Examples:
      roundelay demo
      roundelay demo --prepare-only
    """
    from ingest import demo as service
    from ingest import opening, settings

    with progress.shown(terminal.err) as report:
        prepared = service.prepare(folder, terminal.now, report)
    if is_json:
        terminal.emit(prepared.as_dict())
    else:
        service.tell(terminal.out, prepared)
    if not prepare_only:
        own = settings.load(prepared.workspace.settings_path)
        opening.open_dashboard(
            terminal, prepared.workspace, own, None, "127.0.0.1", port, no_browser
        )


VERBS = (build, open_, state, export, back, demo)
