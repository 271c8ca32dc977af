"""The dashboard under many readers, beside a page of one line served by the same framework.

Both servers run at once and are asked in turns, so that a slow minute of the machine touches both.
A ratio is the median of the ratios of the turns.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from statistics import median, quantiles

from ingest.serve import Dashboard, environment
from ingest.workspace import Workspace
from tests.app.browser.servers import free_port, wait_for
from tests.bench import clicks
from tests.bench.crowd import Crowd, ask
from tests.bench.figure import Figure, Options

PAGES = ("schoolwide", "routines", "grades", "calendar", "health")
_MOST_RUN_MS, _MOST_CLICK_MS, _MOST_COLD_S = 100.0, 150.0, 2.5
_BARE = "a page of one line"


def run(folder: Path, options: Options) -> list[Figure]:
    """Page runs with 50 sessions, clicks in Chromium, and the first chart from cold."""
    workspace = _invented_school(folder)
    cold = [_cold(workspace) for _ in range(options.repeats)]
    with _served(workspace) as ours, _served(workspace, _bare(folder)) as bare:
        turns = [(_crowd(ours, PAGES), _crowd(bare, ("",))) for _ in range(options.repeats)]
        with clicks.browser() as browser:
            took = clicks.clicks(browser, ours, 10 * options.repeats)
    return [
        _run_figure("page run with 50 sessions, 95 of 100 at or under", turns, _p95, _MOST_RUN_MS),
        _run_figure("page run with 50 sessions, half at or under", turns, median, None),
        _figure("click to painted page, half at or under", median(took), "ms", _MOST_CLICK_MS),
        _figure("first chart from cold", median(cold), "s", _MOST_COLD_S),
    ]


def _p95(values: Sequence[float]) -> float:
    return quantiles(values, n=20)[-1]


def _run_figure(
    name: str,
    turns: Sequence[tuple[Sequence[float], Sequence[float]]],
    of: Callable[[Sequence[float]], float],
    most: float | None,
) -> Figure:
    value = median(of(ours) for ours, _ in turns)
    ratio = median(of(ours) / of(bare) for ours, bare in turns)
    target = "" if most is None else f"<= {most:g} ms"
    met = None if most is None else value <= most
    return Figure(name, value, "ms", _BARE, ratio, target, met)


def _figure(name: str, value: float, unit: str, most: float) -> Figure:
    return Figure(name, value, unit, "", None, f"<= {most:g} {unit}", value <= most)


def _crowd(address: str, pages: Sequence[str]) -> list[float]:
    """Milliseconds of every page run of 50 sessions that think five seconds each time."""
    return [1000 * one for one in ask(Crowd(address, pages)).seconds]


def _cold(workspace: Path) -> float:
    with _served(workspace) as address, clicks.browser() as browser:
        return clicks.first_chart(browser, address)


def _invented_school(folder: Path) -> Path:
    place = folder / "school"
    command = [sys.executable, "-m", "ingest.cli", "demo", "--folder", str(place)]
    subprocess.run([*command, "--prepare-only"], check=True, stdout=subprocess.DEVNULL)
    return place


def _bare(folder: Path) -> Path:
    place = folder / "bare"
    place.mkdir(exist_ok=True)
    (place / "main.py").write_text('import streamlit as st\n\nst.write("One line.")\n', "utf-8")
    return place


@contextmanager
def _served(workspace: Path, program: Path | None = None) -> Iterator[str]:
    """The address of the dashboard, or of another program under the same settings."""
    dashboard = Dashboard(Workspace(workspace), "principal")
    port = free_port()
    address = f"http://{dashboard.address}:{port}"
    child = subprocess.Popen(
        dashboard.program if program is None else _plain(dashboard),
        cwd=program or dashboard.folder,
        env=environment(dashboard, port, os.environ),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        wait_for(f"{address}/_stcore/health", child)
        yield address
    finally:
        child.terminate()
        child.wait(timeout=30)


def _plain(dashboard: Dashboard) -> tuple[str, ...]:
    return (*dashboard.program[:4], "main.py")
