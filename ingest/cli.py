"""The command `roundelay`: arguments in, exit code out. What it does lives in the services."""

import signal
import sys
from collections.abc import Sequence
from pathlib import Path

import click

from ingest import (
    verbs_accounts,
    verbs_builds,
    verbs_copies,
    verbs_files,
    verbs_paper,
    verbs_watch,
)
from ingest.errors import ExitCode, Problem
from ingest.terminal import Terminal, tell, tell_unexpected

_HELP = """Looks after a school's record of teaching classroom routines and taking turns.

\b
For a school with its own files, three commands are enough:
  roundelay new our-school            make a place for everything
  roundelay load Downloads/*.csv      check your files and keep what is right
  roundelay open                      see it in a browser

\b
Only want to look around? Try an invented school:
  roundelay demo

Every command explains itself: roundelay load --help

\b
Exit codes:
  0 all well
  1 something was refused or set aside
  2 the command was not understood
  3 the workspace needs attention
  4 the build did not finish; the one before is still shown
  5 another command is at work
"""


@click.group(help=_HELP, context_settings={"help_option_names": ["--help", "-h"]})
@click.version_option(package_name="roundelay", message="roundelay %(version)s")
def cli() -> None:
    """The group that holds the verbs."""


_GROUPS = (verbs_files, verbs_builds, verbs_watch, verbs_paper, verbs_accounts, verbs_copies)
for _verb in (verb for group in _GROUPS for verb in group.VERBS):
    cli.add_command(_verb)


def run(arguments: Sequence[str], terminal: Terminal) -> int:
    """Run one command and return its exit code; no exception and no traceback leaves here."""
    is_json = "--json" in arguments
    try:
        code = cli.main(list(arguments), "roundelay", standalone_mode=False, obj=terminal)
    except Problem as problem:
        return tell(terminal, problem, is_json)
    except click.ClickException as fault:
        fault.show(terminal.err.file)
        return int(ExitCode.USAGE)
    except (KeyboardInterrupt, click.Abort):
        terminal.err.print("\nStopped. What was finished before is kept; nothing is half done.")
        return 128 + signal.SIGINT
    except BrokenPipeError:
        return int(ExitCode.OK)
    except Exception as fault:  # noqa: BLE001 - the last line of defence: a user sees no traceback
        return tell_unexpected(terminal, fault, Path.cwd(), is_json)
    return code if isinstance(code, int) else int(ExitCode.OK)


def main() -> None:
    """The entry point of the installed command."""
    sys.exit(run(sys.argv[1:], Terminal()))


if __name__ == "__main__":
    main()
