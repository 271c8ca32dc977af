"""Goes on looking until it is stopped, and says each thing with the school's time of day."""

from collections.abc import Callable
from zoneinfo import ZoneInfo

from ingest import terminal as terminals
from ingest.settings import Settings
from ingest.terminal import Terminal
from ingest.watch import Watched, Works, look
from ingest.workspace import Workspace

LOOK_SECONDS = 1.0


def go_on(
    terminal: Terminal,
    workspace: Workspace,
    settings: Settings,
    pause: Callable[[float], object],
    works: Works | None = None,
) -> None:
    """Look every second, for ever; ends with the `KeyboardInterrupt` of a request to stop."""
    zone = ZoneInfo(settings.time_zone)

    def say(text: str) -> None:
        terminal.say(f"{terminal.now().astimezone(zone):%Y-%m-%d %H:%M:%S} {text}")
        terminal.out.file.flush()

    def unforeseen(fault: Exception) -> str:
        log = terminals.write_log(workspace.root, terminal.now(), fault)
        return f"Something happened that we did not foresee; it goes on. The log: {log}"

    say(f"Watching {workspace.inbox}")
    seen = Watched()
    while True:
        look(workspace, seen, terminal.now, say, unforeseen, works)
        pause(LOOK_SECONDS)
