"""Small pieces of SQL text: names and values written so that they can never be read otherwise."""

from collections.abc import Iterable


def name(given: str) -> str:
    """A quoted identifier."""
    return '"' + given.replace('"', '""') + '"'


def text(given: str) -> str:
    """A quoted text value."""
    return "'" + given.replace("'", "''") + "'"


def texts(given: Iterable[str]) -> str:
    """A list of quoted text values for `in (...)`."""
    return ", ".join(text(one) for one in given)


def names(given: Iterable[str], prefix: str = "") -> str:
    """A list of quoted identifiers, each behind `prefix`."""
    return ", ".join(prefix + name(one) for one in given)


def same(columns: Iterable[str], left: str, right: str) -> str:
    """Two rows alike in these columns, empty cells being alike too."""
    pairs = [f"{left}.{name(one)} is not distinct from {right}.{name(one)}" for one in columns]
    return " and ".join(pairs) or "true"


def equal(columns: Iterable[str], left: str, right: str) -> str:
    """A join over columns that are never empty (keys): plain equality lets DuckDB hash."""
    return " and ".join(f"{left}.{name(one)} = {right}.{name(one)}" for one in columns)
