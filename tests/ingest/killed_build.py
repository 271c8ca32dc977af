"""A build in a process of its own that ends itself, without any chance to tidy up, at one step.

python tests/ingest/killed_build.py <workspace> <step> <moment>
"""

from __future__ import annotations

import os
import signal
import sys
from datetime import datetime
from pathlib import Path

from worlds import compute, make_build  # run as a script: its own folder comes first

from ingest.build import Maker
from ingest.steps import Step
from ingest.workspace import Workspace


def main(root: str, step: str, moment: str) -> None:
    def die(passed: Step) -> None:
        if passed == Step(step):
            os.kill(os.getpid(), getattr(signal, "SIGKILL", signal.SIGTERM))

    make_build(
        Workspace(Path(root)),
        datetime.fromisoformat(moment),
        keep=1,
        maker=Maker(compute=compute, hook=die),
    )


if __name__ == "__main__":
    main(*sys.argv[1:])
