"""The benchmark itself, on a file small enough for every run of the tests."""

from __future__ import annotations

from pathlib import Path

from ingest.sample import SMALL, generate
from tests.bench import bench_check_and_land, bench_records, draws_file
from tests.bench.figure import Figure, Options


def test_the_ways_agree_and_every_figure_is_measured(tmp_path: Path) -> None:
    figures = bench_check_and_land.run(tmp_path, Options(rows=3_000, repeats=1, whole=True))

    assert all(one.value > 0 for one in figures)
    [landing] = [one for one in figures if one.name.endswith("row hash and landing")]
    assert landing.ratio is not None
    assert landing.met is (landing.ratio <= 2.0)


def test_the_file_is_the_same_every_time(tmp_path: Path) -> None:
    for name in ("one.csv", "two.csv"):
        draws_file.write(tmp_path / name, 500)

    assert (tmp_path / "one.csv").read_bytes() == (tmp_path / "two.csv").read_bytes()


def test_a_missed_target_is_said() -> None:
    figure = Figure("n", 3.0, "s", "raw", 3.0, "<= 2 x", met=False)

    assert "NOT met" in figure.sentence()


def test_records_come_to_the_same_together_and_by_themselves(tmp_path: Path) -> None:
    made = generate(tmp_path / "files", size=SMALL)
    figures = bench_records.compare(tmp_path, made, Options(records=9, repeats=1))

    assert all(one.value > 0 for one in figures)
    [target] = [one for one in figures if one.target]
    assert target.ratio is not None
    assert target.met is (target.ratio <= 0.2)
