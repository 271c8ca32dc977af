"""Invented schools that the tests read: as text, straight from the files that were written."""

import io
import zipfile
from collections.abc import Callable
from pathlib import Path

import pandas as pd
import pytest

from ingest.sample import SMALL, SampleManifest, Situations, generate

Tables = dict[str, pd.DataFrame]


def _table(path: Path) -> pd.DataFrame:
    if path.suffix == ".xlsx":
        return pd.read_excel(path, engine="calamine", dtype=str).fillna("")
    if path.suffix == ".csv":
        return _text(path.read_bytes())
    with zipfile.ZipFile(path) as archive:
        parts = [_text(archive.read(name)) for name in archive.namelist()]
    return pd.concat(parts, ignore_index=True)


def _text(content: bytes) -> pd.DataFrame:
    return pd.read_csv(io.BytesIO(content), dtype=str, keep_default_na=False)


@pytest.fixture(scope="session")
def read_tables() -> Callable[[SampleManifest], Tables]:
    """Every file of a school as a table of text, by feed; an empty cell is an empty text."""
    return lambda manifest: {path.stem: _table(path) for path in manifest.files}


@pytest.fixture(scope="session")
def year(tmp_path_factory: pytest.TempPathFactory) -> SampleManifest:
    """The whole demo year with every situation."""
    return generate(tmp_path_factory.mktemp("year"))


@pytest.fixture(scope="session")
def tables(year: SampleManifest, read_tables: Callable[[SampleManifest], Tables]) -> Tables:
    """The demo year's tables."""
    return read_tables(year)


@pytest.fixture(scope="session")
def plain_year(tmp_path_factory: pytest.TempPathFactory) -> SampleManifest:
    """A whole year of another seed in which nothing was planted."""
    return generate(tmp_path_factory.mktemp("plain"), seed=7, situations=Situations.none())


@pytest.fixture(scope="session")
def plain_tables(
    plain_year: SampleManifest, read_tables: Callable[[SampleManifest], Tables]
) -> Tables:
    """The tables of the year in which nothing was planted."""
    return read_tables(plain_year)


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> SampleManifest:
    """Four rooms up to the winter break."""
    return generate(tmp_path_factory.mktemp("small"), size=SMALL)
