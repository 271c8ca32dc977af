"""The walls of the house as data: which room may import which.

A room is a path prefix; the first that fits a file is its room. An import is judged by the longest
prefix too. Rooms may always import themselves.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True)
class Room:
    """One room: its module prefix, and the prefixes of our own modules that it may import."""

    prefix: str
    may_import: tuple[str, ...]


# Words that every room of ingest may use: the form of a refusal and of a finding.
SPOKEN = ("ingest.errors", "ingest.findings")

ROOMS = (
    Room("ingest.errors", ()),
    Room("ingest.findings", ("ingest.errors",)),
    Room("ingest.contracts", SPOKEN),
    Room("ingest.readers", (*SPOKEN, "ingest.contracts")),
    Room("ingest.compile", (*SPOKEN, "ingest.contracts", "ingest.readers.table")),
    Room(
        "ingest.check",
        (*SPOKEN, "ingest.contracts", "ingest.readers.table", "ingest.compile"),
    ),
    Room("ingest.sample", ("ingest.errors", "ingest.contracts")),
    Room("app.access", ()),
    Room("app.durable", ()),
    Room("app.sqlite_file", ()),
    Room("app.capture", ("app.access", "app.durable", "ingest.contracts")),
    Room("app.desk", ("app.access", "app.durable")),
    Room("app.door", ("app.sqlite_file",)),
    # In class: its own pages beside the dashboard's; of the door it knows who is asking.
    Room(
        "app.classroom",
        (
            "app.access",
            "app.capture",
            "app.queries",
            "app.text",
            "app.door",
            "app.durable",
            "app.sqlite_file",
        ),
    ),
    Room("app.queries", ("app.access",)),
    Room("app.charts", ("app.text",)),
    Room("app.text", ()),
    Room("app.files", ("app.text",)),
    Room("app.look", ("app.text", "app.charts", "app.files")),
    Room("app.paper", ("app.access", "app.capture", "app.queries", "app.charts", "app.text")),
    Room(
        "app.pages",
        (
            "app.access",
            "app.capture",
            "app.queries",
            "app.charts",
            "app.text",
            "app.look",
            "app.desk",
            "app.files",
            "app.paper",
        ),
    ),
)

# Rooms with a single owner of a dangerous thing: the call, and where alone it may stand.
ONLY_HERE = {
    "streamlit": ("app",),
    "dbt": (),
    "subprocess": (
        "app.desk",
        "ingest.dbt_run",
        "ingest.model_docs",
        "ingest.printing",
        "ingest.serve",
    ),
    "typst": ("app.paper.press",),
    "vl_convert": ("app.paper.press",),
}


def module_of(path: Path) -> str:
    """The dotted module name of a file below the project root."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def python_files(*folders: str) -> list[Path]:
    """Every Python file below the named top-level folders, sorted."""
    return sorted(path for folder in folders for path in (ROOT / folder).rglob("*.py"))


def imports_of(path: Path) -> Iterator[tuple[int, str]]:
    """Each imported module of a file with its line; `from a import b` yields a.b as well."""
    package = module_of(path).split(".")
    if path.name != "__init__.py":
        package = package[:-1]
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            source = ".".join([*base, *([node.module] if node.module else [])])
            yield from ((node.lineno, f"{source}.{alias.name}") for alias in node.names)


def within(module: str, prefix: str) -> bool:
    """Whether a module is the prefix itself, lies below it or continues its last word with _."""
    return module == prefix or module.startswith((f"{prefix}.", f"{prefix}_"))


def room_of(module: str) -> Room | None:
    """The narrowest room that holds a module, or none for the edge (command line, services)."""
    fitting = [room for room in ROOMS if within(module, room.prefix)]
    return max(fitting, key=lambda room: len(room.prefix), default=None)
