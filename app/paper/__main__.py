"""`python -m app.paper brief.pdf --term spring`: writes the brief, or says why it cannot.

With `--kind` another page, for the room or for home; with `--class` as the teacher of that class.
The answer is one JSON document on the standard output: the file and its build, or what stood in
the way. The workspace is named as for the dashboard, in the environment.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

from app import access
from app.paper import brief
from app.paper.kinds import KINDS
from app.paper.press import TooLong

DONE, NOT_THERE, BROKEN = 0, 2, 3


def main(arguments: Sequence[str]) -> int:
    """Print what was asked for and return the exit code."""
    asked = _asked(arguments)
    try:
        snapshot = access.current_snapshot(access.workspace_setting())
        _write(asked.to, _made(snapshot, asked))
    except access.NothingBuilt:
        return _tell(NOT_THERE, {"problem": "There is no build yet."})
    except access.Refused as answer:
        return _tell(NOT_THERE, {"problem": str(answer)})
    except (access.Broken, TooLong) as problem:
        return _tell(BROKEN, {"problem": str(problem)})
    return _tell(DONE, {"file": str(asked.to), "build_id": snapshot.build_id})


def _asked(arguments: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="app.paper", description=__doc__)
    parser.add_argument("to", type=Path)
    parser.add_argument("--kind", default="brief", choices=["brief", *KINDS])
    parser.add_argument("--school", default="")
    parser.add_argument("--term", default="")
    parser.add_argument("--class", dest="class_id", default="")
    parser.add_argument("--routine", default="")
    return parser.parse_args(arguments)


def _made(snapshot: access.Snapshot, asked: argparse.Namespace) -> bytes:
    """One reader's page: of the whole school, or of one class and no other."""
    role = access.Reader("teacher", asked.class_id) if asked.class_id else None
    scope = access.scope_for(snapshot, role or access.Reader("principal"))
    if asked.kind == "brief":
        return brief.printed(scope, snapshot, asked.school, asked.term)
    return KINDS[asked.kind](scope, snapshot, asked.school, asked.routine)


def _write(to: Path, made: bytes) -> None:
    """Whole or not at all: a half-written page must not be handed round."""
    part = to.with_name(f".{to.name}.part")
    try:
        part.write_bytes(made)
        part.replace(to)
    except OSError:
        part.unlink(missing_ok=True)
        raise


def _tell(code: int, told: Mapping[str, str]) -> int:
    sys.stdout.write(json.dumps(told, ensure_ascii=False) + "\n")
    return code


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
