"""Several tables as one archive: a comma-separated file each, and a note of what each is."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass, replace

import pandas as pd

from app.files.about import About
from app.files.csv_file import csv_file
from app.text.cautions import EVERY

# An archive of the same build is the same to the byte, whenever it is made.
_MOMENT = (2000, 1, 1, 0, 0, 0)


@dataclass(frozen=True)
class Part:
    """One table of an archive, and what it is in a line."""

    frame: pd.DataFrame
    words: str


def zip_file(parts: Mapping[str, Part], about: About) -> bytes:
    """An archive of `README.txt` and one file a table; a table without rows is named there."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        _put(archive, "README.txt", _readme(parts, about).encode("utf-8"))
        for name, part in parts.items():
            if not part.frame.empty:
                own = replace(about, title=part.words)
                _put(archive, f"{name}.csv", csv_file(part.frame, own))
    return file.getvalue()


def _put(archive: zipfile.ZipFile, name: str, data: bytes) -> None:
    entry = zipfile.ZipInfo(name, _MOMENT)
    entry.compress_type = zipfile.ZIP_DEFLATED
    archive.writestr(entry, data)


def _readme(parts: Mapping[str, Part], about: About) -> str:
    files = [
        f"{name}.csv ({len(part.frame)} rows)\n    {part.words}"
        if len(part.frame)
        else f"{name}: no rows yet\n    {part.words}"
        for name, part in parts.items()
    ]
    told = [f"{name.removeprefix('# ')}: {text}" for name, text in about.lines()]
    return "\n\n".join(
        [about.title, "\n".join(told[1:]), "What is in it", "\n".join(files), *EVERY, ""]
    )
