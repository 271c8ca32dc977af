"""Run all benchmarks and write `var/bench.json`.

A benchmark is one module `bench_<what>.py` here with a function `run(folder, options)` that returns
a list of `Figure`. Adding one means adding a file.
"""

import argparse
import importlib
import json
import pkgutil
import sys
from dataclasses import asdict
from pathlib import Path

import tests.bench
from tests.bench.figure import Figure, Options

VAR = Path(__file__).resolve().parents[2] / "var"


def main(arguments: list[str] | None = None) -> int:
    """Run the benchmarks; 0 when every target is met, else 1."""
    options = _options(arguments)
    folder = VAR / "bench"
    folder.mkdir(parents=True, exist_ok=True)
    figures: list[Figure] = []
    for name in _modules():
        if options.only and not name.endswith(options.only):
            continue
        print(f"{name} ...", file=sys.stderr, flush=True)
        figures += importlib.import_module(name).run(folder, options)
    (VAR / "bench.json").write_text(
        json.dumps([asdict(one) for one in figures], indent=2) + "\n", encoding="utf-8"
    )
    for one in figures:
        print(one.sentence())
    return 0 if all(one.met is not False for one in figures) else 1


def _modules() -> list[str]:
    names = [one.name for one in pkgutil.iter_modules(tests.bench.__path__)]
    return [f"tests.bench.{name}" for name in sorted(names) if name.startswith("bench_")]


def _options(arguments: list[str] | None) -> Options:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--rows", type=int, default=20_000_000, help="rows of the draws file")
    parser.add_argument("--repeats", type=int, default=3, help="repeats of each way")
    parser.add_argument("--records", type=int, default=300, help="records of a school's day")
    parser.add_argument("--only", default="", help="run only the benchmark of this name")
    parser.add_argument(
        "--whole", action="store_true", help="also time the load with every check across rows"
    )
    given = parser.parse_args(arguments)
    return Options(**vars(given))


if __name__ == "__main__":
    sys.exit(main())
