"""What a benchmark hands back, and how a way of doing something is measured."""

import json
import statistics
import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Options:
    """How large and how often."""

    rows: int = 20_000_000
    repeats: int = 3
    only: str = ""
    whole: bool = False
    records: int = 300


@dataclass(frozen=True)
class Figure:
    """One measured number. `ratio` is against `yardstick`; `met` is null without a target."""

    name: str
    value: float
    unit: str
    yardstick: str
    ratio: float | None
    target: str
    met: bool | None

    def sentence(self) -> str:
        """One line for the terminal."""
        ratio = f", {self.ratio:.2f} x {self.yardstick}" if self.ratio is not None else ""
        verdict = {True: " - met", False: " - NOT met", None: ""}[self.met]
        target = f" (target {self.target}{verdict})" if self.target else ""
        return f"{self.name}: {self.value:.2f} {self.unit}{ratio}{target}"


@dataclass(frozen=True)
class Run:
    """One run in a process of its own."""

    seconds: float
    cpu_seconds: float
    peak_mb: float
    told: Mapping[str, object]


def measure(module: str, arguments: Sequence[str | Path]) -> Run:
    """Run `python -m <module> <arguments>`, which prints its figures as one line of JSON."""
    command = [sys.executable, "-m", module, *map(str, arguments)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"{module} failed:\n{done.stderr}")
    told = json.loads(done.stdout.splitlines()[-1])
    seconds, cpu_seconds, peak = (told.pop(one) for one in ("seconds", "cpu_seconds", "peak_mb"))
    return Run(seconds, cpu_seconds, peak, told)


def median(values: Sequence[float]) -> float:
    """The middle value."""
    return statistics.median(values)
