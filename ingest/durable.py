"""Writing that survives a power cut: flush a file, flush its folder, replace in one step."""

import contextlib
import os
import time
from collections.abc import Callable
from pathlib import Path

_TRIES = 20


def flush_file(path: Path) -> None:
    """Ask the system to put a closed file's bytes on the disk."""
    with path.open("r+b") as stream:
        os.fsync(stream.fileno())


def flush_folder(path: Path) -> None:
    """The same for the names in a folder, where the system can (Windows cannot open a folder)."""
    try:
        handle = os.open(path, os.O_RDONLY)
    except OSError:
        return
    try:
        with contextlib.suppress(OSError):
            os.fsync(handle)
    finally:
        os.close(handle)


def write_text(path: Path, text: str) -> None:
    """Write a whole text file durably, without ever showing half of it under its own name."""
    replace(temporary(path, text), path)


def temporary(path: Path, text: str) -> Path:
    """Write `text` durably beside `path` and return that file, ready to replace it."""
    beside = path.with_name(f"{path.name}.{os.getpid()}.tmp")
    beside.write_text(text, encoding="utf-8", newline="\n")
    flush_file(beside)
    return beside


def replace(source: Path, target: Path, wait: Callable[[float], None] = time.sleep) -> None:
    """Move `source` onto `target` in one step and flush the folder.

    Windows refuses while a reader has the target open for an instant, so a few tries are made.
    """
    for attempt in range(_TRIES):
        try:
            source.replace(target)
            break
        except PermissionError:
            if attempt == _TRIES - 1:
                raise
            wait(0.05)
    flush_folder(target.parent)
