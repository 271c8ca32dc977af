"""The only opener of snapshot files: read-only, without the outside, one for each real path."""

from __future__ import annotations

import threading
from pathlib import Path

import duckdb

from app.access.problems import Broken

_SETTINGS: dict[str, str | bool | int | float | list[str]] = {
    "enable_external_access": False,
    "autoinstall_known_extensions": False,
    "threads": 2,
    "memory_limit": "2GB",
    "lock_configuration": True,
}
_OPEN: dict[str, duckdb.DuckDBPyConnection] = {}
_LOCK = threading.Lock()


def cursor(path: str) -> duckdb.DuckDBPyConnection:
    """A cursor of its own on the file's one connection; `Broken` when it cannot be opened."""
    with _LOCK:
        if path not in _OPEN:
            _OPEN[path] = _connect(path)
        return _OPEN[path].cursor()


def close_all_but(folder: str) -> None:
    """Close what was opened in older snapshots, so that their files can be cleared away."""
    with _LOCK:
        for path in [path for path in _OPEN if not Path(path).is_relative_to(folder)]:
            _OPEN.pop(path).close()


def _connect(path: str) -> duckdb.DuckDBPyConnection:
    if not Path(path).is_file():
        raise Broken(f"A part of the current build is missing: {Path(path).name}.")
    try:
        return duckdb.connect(path, read_only=True, config=_SETTINGS)
    except duckdb.Error as problem:
        raise Broken(
            f"A part of the current build cannot be opened: {Path(path).name}."
        ) from problem
