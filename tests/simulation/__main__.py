"""Run the simulations and write what came out to docs/simulations.md.

Each part can be run alone (`--only ranges`); its figures are kept in var/simulation/, and the page
is written from all that are there.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

from tests.simulation import audits, coverage, offers, planted
from tests.simulation.page import Figures, page, table

ROOT = Path(__file__).resolve().parents[2]
KEPT = ROOT / "var" / "simulation"
PAGE = ROOT / "docs" / "simulations.md"


def _ranges(folder: Path, seed: int) -> Figures:
    return {"ranges": table(coverage.run(folder, seed, schools=40, classes=40))}


def _offers(folder: Path, seed: int) -> Figures:
    kept: Figures = {}
    for name, share_below in (("quarter", 0.25), ("tenth", 0.10)):
        place = folder / name
        place.mkdir()
        one = offers.run(place, seed, schools=60, share_below=share_below)
        kept[f"offers_{name}"] = table(one.lines)
        kept[f"false_{name}"] = {
            "reviews": one.reviews,
            "rule": one.false_share,
            "bound": one.false_share_bound,
        }
    return kept


def _audits(_folder: Path, seed: int) -> Figures:
    return {"audits": table(audits.run(seed, classes=1000, simulations=199))}


def _planted(folder: Path, seed: int) -> Figures:
    one = planted.run(folder, range(seed, seed + 50))
    return {
        "situations": table(one.situations),
        "bands": table(one.bands.astype({"band": "str"})),
        "schools": one.schools,
    }


PARTS: dict[str, Callable[[Path, int], Figures]] = {
    "ranges": _ranges,
    "offers": _offers,
    "audits": _audits,
    "planted": _planted,
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the parts asked for and write the page."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulation", description=__doc__)
    parser.add_argument("--only", choices=sorted(PARTS), action="append")
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args(arguments)
    KEPT.mkdir(parents=True, exist_ok=True)
    for name in options.only or PARTS:
        print(f"{name} ...", file=sys.stderr, flush=True)
        with tempfile.TemporaryDirectory() as folder:
            figures = {"seed": options.seed, **PARTS[name](Path(folder), options.seed)}
        (KEPT / f"{name}.json").write_text(json.dumps(figures, indent=1) + "\n", "utf-8")
    kept = {
        name: json.loads((KEPT / f"{name}.json").read_text("utf-8"))
        for name in PARTS
        if (KEPT / f"{name}.json").exists()
    }
    PAGE.write_text(page(kept), "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
