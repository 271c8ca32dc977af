"""Break each macro file in five ways, run its tests, and say how many breaks they caught.

Writes `var/mutation.json`. A macro's tests are `test_<file>.py` first, then every other test of the
statistics that names one of its macros. Exit code 0 when the asked share is caught.
"""

from __future__ import annotations

import argparse
import importlib
import json
import multiprocessing
import re
import shutil
import sys
import tempfile
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import asdict, dataclass
from pathlib import Path

from tests.dbt_project.macro_runner import MACROS
from tests.mutation.breaks import Break, breaks_of
from tests.mutation.trial import survives

# Loaded once here; a forked child then starts at once.
HEAVY = ("scipy.stats", "statsmodels.api", "sklearn.metrics", "pingouin", "pymannkendall")
ROOT = Path(__file__).resolve().parents[2]
TESTS = ROOT / "tests" / "dbt_project" / "statistics"


@dataclass(frozen=True)
class Outcome:
    """What became of one break."""

    file: str
    macro: str
    change: str
    is_caught: bool


def main(arguments: Sequence[str] | None = None) -> int:
    """Run all trials; 0 when at least the asked share was caught, else 1."""
    options = _options(arguments)
    with tempfile.TemporaryDirectory() as folder:
        macros = Path(shutil.copytree(MACROS, Path(folder) / "macros"))
        outcomes = sorted(
            _outcomes(macros, options), key=lambda one: (one.file, one.macro, one.change)
        )
    if not outcomes:
        print("No macro matches.", file=sys.stderr)
        return 2
    target = ROOT / "var" / "mutation.json"
    target.parent.mkdir(exist_ok=True)
    target.write_text(json.dumps([asdict(one) for one in outcomes], indent=1) + "\n", "utf-8")
    caught = sum(one.is_caught for one in outcomes)
    for one in outcomes:
        if not one.is_caught:
            print(f"not caught: {one.file} {one.macro} {one.change}")
    files = len({one.file for one in outcomes})
    print(
        f"{caught} of {len(outcomes)} breaks caught ({caught / len(outcomes):.1%}), {files} files"
    )
    return 0 if caught >= options.share * len(outcomes) else 1


def _options(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("--only", nargs="*", default=[], help="file names without .sql")
    parser.add_argument("--breaks", type=int, default=5, help="breaks of each macro file")
    parser.add_argument("--jobs", type=int, default=2, help="trials side by side")
    parser.add_argument("--share", type=float, default=0.95, help="share that must be caught")
    return parser.parse_args(arguments)


def _outcomes(macros: Path, options: argparse.Namespace) -> Iterator[Outcome]:
    files = [
        path
        for path in sorted((macros / "statistics").glob("*.sql"))
        if not options.only or path.stem in options.only
    ]
    for name in HEAVY:
        importlib.import_module(name)
    with ProcessPoolExecutor(options.jobs) as pool:
        _demand_unbroken(files, list(pool.map(_holds_unbroken, files)))
        waiting = [
            pool.submit(_tried, path, one)
            for path in files
            for one in breaks_of(path.read_text("utf-8"), options.breaks)
        ]
        for done, future in enumerate(as_completed(waiting), 1):
            print(f"\r{done} of {len(waiting)}", end="", file=sys.stderr, flush=True)
            yield future.result()
        # Once more: had something else failed meanwhile, every break would have seemed caught.
        _demand_unbroken(files, list(pool.map(_holds_unbroken, files)))
    print(file=sys.stderr)


def _demand_unbroken(files: Sequence[Path], holds: Sequence[bool]) -> None:
    for path, one in zip(files, holds, strict=True):
        if not one:
            sys.exit(f"{path.name}: its tests are missing, or fail with nothing broken")


def _tests_of(path: Path) -> list[str]:
    """Test files of a macro file, its own first."""
    names = re.findall(r"macro\s+(\w+)\s*\(", path.read_text("utf-8"))
    own = TESTS / f"test_{path.stem}.py"
    named = re.compile("|".join(rf'"{name}"' for name in names))
    others = [
        test
        for test in sorted(TESTS.glob("test_*.py"))
        if test != own and named.search(test.read_text("utf-8"))
    ]
    return [str(test) for test in [own, *others] if test.exists()]


def _holds_unbroken(path: Path) -> bool:
    tests = _tests_of(path)
    return bool(tests) and _passes(path.parents[1], tests)


def _tried(path: Path, one: Break) -> Outcome:
    """One trial on a copy of the macros with this one change."""
    text = path.read_text("utf-8")
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "macros"
        shutil.copytree(path.parents[1], copy)
        (copy / "statistics" / path.name).write_text(one.applied(text), "utf-8")
        passes = _passes(copy, _tests_of(path))
    return Outcome(path.stem, one.macro, one.told(text), is_caught=not passes)


def _passes(macros: Path, tests: Sequence[str]) -> bool:
    """Whether the tests pass, in a child of its own; ten minutes without an end is no pass."""
    child = multiprocessing.Process(target=_report, args=(macros, tests))
    child.start()
    child.join(600)
    if child.is_alive():
        child.kill()
    return child.exitcode == 0


def _report(macros: Path, tests: Sequence[str]) -> None:
    sys.exit(0 if survives(macros, tests) else 1)


if __name__ == "__main__":
    sys.exit(main())
