"""The frame of a child process: time one thing, and say how much memory it took at most."""

import json
import sys
import time
from collections.abc import Callable, Mapping
from pathlib import Path


def told(work: Callable[[], Mapping[str, object]]) -> None:
    """Do the work; print its seconds, its processor seconds, its peak memory and what it says."""
    begin, cpu = time.perf_counter(), time.process_time()
    said = work()
    figures = {
        "seconds": time.perf_counter() - begin,
        "cpu_seconds": time.process_time() - cpu,
        "peak_mb": peak_mb(),
    }
    print(json.dumps({**figures, **said}))


def peak_mb() -> float:
    """The most memory that this process has held at once, in MB.

    Not from `getrusage` on Linux: its figure begins with what the parent process held.
    """
    status = Path("/proc/self/status")
    if status.exists():
        [line] = [one for one in status.read_text().splitlines() if one.startswith("VmHWM")]
        return int(line.split()[1]) / 2**10
    if sys.platform == "win32":
        import psutil

        return float(psutil.Process().memory_info().peak_wset) / 2**20
    import resource

    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20
