"""Two devices draw through very many rounds over a bad net: how often does anything go wrong?

`python -m tests.simulation.hats` prints the figures. The devices run the page's own modules in
Chromium, the other side is the server's own hat; the run is made of parts with a seed each.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from app.classroom.hat_store import HatStore
from tests.app.browser.servers import chromium, one_browser
from tests.app.classroom.hat_world import Rounds, bare_page, run

_PART = 250


def main(arguments: Sequence[str] | None = None) -> int:
    """Run, print what came of it as JSON; 1 when a child was drawn twice or left out."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulation.hats", description=__doc__)
    parser.add_argument("--rounds", type=int, default=10_000)
    parser.add_argument("--devices", type=int, default=2)
    parser.add_argument("--pupils", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args(arguments)
    path = chromium()
    if path is None:
        print("No Chromium was found on this machine.", file=sys.stderr)
        return 2
    began = time.monotonic()
    parts: list[Rounds] = []
    with one_browser(path) as browser:
        for part in range(-(-options.rounds // _PART)):
            page = bare_page(browser)
            rounds = min(_PART, options.rounds - part * _PART)
            with tempfile.TemporaryDirectory() as folder:
                store = HatStore(Path(folder) / "classroom.sqlite")
                found, _ = run(
                    page, store, rounds=rounds + 1, devices=options.devices,
                    pupils=options.pupils, seed=options.seed + part,
                )  # fmt: skip
                store.close()
            page.context.close()
            parts.append(found)
            print(json.dumps(_sum(parts)), file=sys.stderr, flush=True)
    figures = _sum(parts)
    print(json.dumps({**figures, "minutes": round((time.monotonic() - began) / 60, 1)}, indent=1))
    return 1 if figures["twice"] or figures["lost"] else 0


def _sum(parts: Sequence[Rounds]) -> dict[str, int]:
    """Whole rounds only: the last one of each part is still running when it ends."""
    told = {name: sum(one.told[name] for one in parts) for name in parts[0].told}
    return {
        "rounds": sum(one.rounds - 1 for one in parts),
        "draws": sum(one.draws for one in parts),
        "twice": sum(len(one.twice) for one in parts),
        "lost": sum(len(one.lost) for one in parts),
        "taken_back_late": sum(one.taken_back_late for one in parts),
        **told,
    }


if __name__ == "__main__":
    sys.exit(main())
