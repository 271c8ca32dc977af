"""What `roundelay open` does: build first where nothing was built, then serve and say where."""

import webbrowser

from ingest import build, pointer, progress, serve, show, snapshot, state
from ingest.serve import Dashboard
from ingest.settings import Settings
from ingest.terminal import Terminal
from ingest.workspace import Workspace


def open_dashboard(
    terminal: Terminal,
    workspace: Workspace,
    settings: Settings,
    reader: str,
    address: str,
    port: int,
    no_browser: bool,
) -> None:
    """Serve the dashboard until it is stopped; the address is printed once it answers."""
    address = serve.check_address(address)
    _have_a_build(terminal, workspace, settings)
    serve.check_reader(reader, snapshot.current(workspace))
    log = workspace.logs / f"open-{terminal.now():%Y%m%dT%H%M%S}.log"

    def ready(url: str) -> None:
        terminal.say(f"The dashboard is at {url}")
        terminal.say("Stop it with Ctrl-C.")
        terminal.out.file.flush()
        if not no_browser and terminal.out.is_terminal:
            webbrowser.open(url)

    try:
        serve.serve(Dashboard(workspace, reader, address, port), log, ready)
    except KeyboardInterrupt:
        terminal.say("Closed.")


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
