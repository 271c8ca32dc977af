"""Check and landing of a large file of draws, beside reading it raw and beside pandas.

The ways take turns, each in a fresh process; a ratio is the median of the ratios of the turns, so
that a slow minute of the machine touches both sides.
"""

import shutil
import sys
import tempfile
from pathlib import Path

from tests.bench import draws_file
from tests.bench.figure import Figure, Options, Run, measure, median

_MOST_RATIO, _MOST_MB = 2.0, 1536.0
_RAW = "raw typed read_csv into a table"


def run(folder: Path, options: Options) -> list[Figure]:
    """Median seconds, ratios and peak memory of each way."""
    path = folder / f"participation_draws-{options.rows}.csv"
    draws_file.write(path, options.rows)
    raw: list[Run] = []
    ours: list[Run] = []
    for turn in range(options.repeats):
        raw.append(_one("way_raw", path, folder))
        ours.append(_one("way_ours", path, folder, "single"))
        _say(turn, raw[-1], ours[-1])
    pandas = [_one("way_pandas", path, folder)]
    whole = [_one("way_ours", path, folder, "whole")] if options.whole else []
    _agree(ours, pandas, options.rows)
    return [*_figures(raw, ours, pandas, options.rows), *_whole(raw, whole, options.rows)]


def _one(way: str, path: Path, folder: Path, *more: str) -> Run:
    place = Path(tempfile.mkdtemp(dir=folder, prefix=f"{way}-"))
    try:
        return measure(f"tests.bench.{way}", [path, place, *more])
    finally:
        shutil.rmtree(place, ignore_errors=True)


def _say(turn: int, raw: Run, ours: Run) -> None:
    for way, one in (("raw", raw), ("ours", ours)):
        figures = f"{one.seconds:.1f} s, cpu {one.cpu_seconds:.1f} s, {one.peak_mb:.0f} MB"
        print(f"  turn {turn + 1}: {way} {figures}, {one.told}", file=sys.stderr, flush=True)


def _agree(ours: list[Run], pandas: list[Run], rows: int) -> None:
    """The same rules must set the same number of rows aside, or the comparison means nothing."""
    for one in (*ours, *pandas):
        if one.told["rows"] != rows or one.told["quarantined"] != ours[0].told["quarantined"]:
            raise RuntimeError(f"the ways disagree: {one.told} and {ours[0].told}")


def _figures(raw: list[Run], ours: list[Run], pandas: list[Run], rows: int) -> list[Figure]:
    ratio = median([b.seconds / a.seconds for a, b in zip(raw, ours, strict=True)])
    slower = pandas[0].seconds / median([one.seconds for one in ours])
    peak = max(one.peak_mb for one in ours)
    what = f"{rows:,} draws"
    return [
        Figure(f"{what}: {_RAW}", median([one.seconds for one in raw]), "s", "", None, "", None),
        Figure(
            f"{what}: every single-row check, row hash and landing",
            median([one.seconds for one in ours]), "s", _RAW, ratio,
            f"<= {_MOST_RATIO:g} x", ratio <= _MOST_RATIO,
        ),
        Figure(
            f"{what}: processor time of the same", median([one.cpu_seconds for one in ours]), "s",
            _RAW, median([b.cpu_seconds / a.cpu_seconds for a, b in zip(raw, ours, strict=True)]),
            "", None,
        ),
        Figure(
            f"{what}: peak memory of check and landing", peak, "MB", "", None,
            f"<= {_MOST_MB:g} MB", peak <= _MOST_MB,
        ),
        Figure(
            f"{what}: the same rules in pandas, in chunks", pandas[0].seconds, "s",
            "our check and landing", slower, "", None,
        ),
        Figure(f"{what}: peak memory of pandas", pandas[0].peak_mb, "MB", "", None, "", None),
    ]  # fmt: skip


def _whole(raw: list[Run], whole: list[Run], rows: int) -> list[Figure]:
    return [
        Figure(
            f"{rows:,} draws: the whole load, with every check across rows and files",
            one.seconds, "s", _RAW, one.seconds / median([each.seconds for each in raw]), "", None,
        )
        for one in whole
    ]  # fmt: skip
