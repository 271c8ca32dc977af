"""What `roundelay open` does: build first where nothing was built, then serve and say where."""

import webbrowser
from dataclasses import replace
from urllib.parse import urlsplit

from ingest import accounts, build, pointer, progress, serve, show, snapshot, state
from ingest.errors import UsageProblem
from ingest.serve import Dashboard
from ingest.settings import Settings
from ingest.terminal import Terminal
from ingest.workspace import Workspace

_STEWARD = "steward"


def open_dashboard(
    terminal: Terminal,
    workspace: Workspace,
    settings: Settings,
    reader: str | None,
    address: str,
    port: int,
    no_browser: bool,
) -> None:
    """Serve the dashboard until it is stopped; the address is printed once it answers.

    Each person signs in where people can; a reader named on the command line is shown without.
    """
    asks_who = reader is None and signs_in(workspace, settings)
    address = serve.check_address(address, settings, asks_who)
    is_first = _is_first(workspace, settings) and (asks_who or reader == _STEWARD)
    if not is_first:
        _have_a_build(terminal, workspace, settings)
        serve.check_reader(reader or "principal", snapshot.current(workspace))
    reader = reader or "principal"
    made = Dashboard(workspace, reader, address, port)
    if asks_who:
        base = urlsplit(settings.sign_in.public_address).path.rstrip("/")
        text = serve.sign_in_text(workspace, settings, address)
        made = replace(made, sign_in=text, base=base)
    log = workspace.logs / f"open-{terminal.now():%Y%m%dT%H%M%S}.log"

    def ready(url: str) -> None:
        terminal.say(f"The dashboard is at {settings.sign_in.public_address or url}")
        terminal.say("Stop it with Ctrl-C.")
        terminal.out.file.flush()
        if not no_browser and terminal.out.is_terminal:
            webbrowser.open(url)

    try:
        serve.serve(made, log, ready)
    except KeyboardInterrupt:
        terminal.say("Closed.")


def signs_in(workspace: Workspace, settings: Settings) -> bool:
    """Whether people sign in here: each with an account, or as the settings say.

    A public address without anybody to sign in is refused: readers would all be the principal.
    """
    own = settings.sign_in
    if own.mode != "local" or accounts.has_any(workspace):
        return True
    if own.public_address:
        raise UsageProblem(
            "Nobody can sign in yet.",
            where=own.public_address,
            rule="the settings name a public address, so each reader needs an account",
            remedy="first: roundelay account add <name> --role <role>",
        )
    return False


def _is_first(workspace: Workspace, settings: Settings) -> bool:
    """Nothing was loaded and nothing built: the steward may bring in the first files on a page."""
    return pointer.read(workspace) is None and not state.read(workspace, settings).files


def _have_a_build(terminal: Terminal, workspace: Workspace, settings: Settings) -> None:
    if pointer.read(workspace) is None:
        terminal.say("There is no build yet: making one first.")
        now = terminal.now()
        with progress.shown(terminal.err) as report:
            built = build.run(workspace, settings, build.usual_day(settings, now), now, report)
        show.built(terminal.out, built, (terminal.now() - now).total_seconds())
        return
    waiting = state.read(workspace, settings).new_files
    if waiting:
        terminal.say(
            f"{len(waiting)} file(s) came in after this build. To see them, run: roundelay build"
        )
