"""Writing that survives a power cut, for the rooms that put files into a workspace.

A file is written beside and flushed, then given its name in one step, which never takes the place
of another file; then the folder is flushed.
"""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from secrets import token_hex


def beside(folder: Path) -> Path:
    """A name for a file that is not whole yet; the command passes over names with a dot."""
    return folder / f".{token_hex(8)}.part"


def write(part: Path, content: bytes | memoryview) -> None:
    """Write a new file and put its bytes on the disk; `OSError` when the disk does not take it."""
    with part.open("xb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())


def name(part: Path, file: Path) -> None:
    """Give a whole file its name, unless that is taken: `FileExistsError`.

    A link refuses an existing name, where a move would not. Where it is a link, `part` stays.
    """
    try:
        os.link(part, file)
    except FileExistsError:
        raise
    except OSError:
        # Some disks know no second name; there the name is looked for first.
        if file.exists():
            raise FileExistsError(file) from None
        part.replace(file)


def flush_folder(folder: Path) -> None:
    """Put the names of a folder on the disk, where the system can (Windows cannot open one)."""
    with suppress(PermissionError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
