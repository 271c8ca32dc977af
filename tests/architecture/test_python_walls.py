"""Each room knows only the room before it."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from tests.architecture.walls import (
    ONLY_HERE,
    ROOMS,
    ROOT,
    imports_of,
    module_of,
    python_files,
    room_of,
    within,
)

FILES = python_files("ingest", "app")
PAGES = [path for path in FILES if module_of(path).startswith("app.pages.")]


def _names(paths: list[Path]) -> list[str]:
    return [module_of(path) for path in paths]


@pytest.mark.parametrize("path", FILES, ids=_names(FILES))
def test_a_room_imports_only_the_rooms_it_may_know(path: Path) -> None:
    room = room_of(module_of(path))
    if room is None:
        allowed = ("ingest",) if module_of(path).startswith("ingest") else ("app",)
    else:
        allowed = (room.prefix, *room.may_import)
    strangers = [
        (line, name)
        for line, name in imports_of(path)
        if name.split(".")[0] in {"ingest", "app"}
        and not any(within(name, prefix) for prefix in allowed)
    ]
    assert strangers == [], f"{path} reaches into another room"


@pytest.mark.parametrize("path", FILES, ids=_names(FILES))
def test_heavy_libraries_stand_only_in_their_own_rooms(path: Path) -> None:
    for library, homes in ONLY_HERE.items():
        used = [line for line, name in imports_of(path) if within(name, library)]
        at_home = any(within(module_of(path), home) for home in homes)
        assert at_home or not used, f"{path} imports {library}"


def test_every_room_of_the_table_exists() -> None:
    modules = [module_of(path) for path in FILES]
    missing = [
        room.prefix for room in ROOMS if not any(within(module, room.prefix) for module in modules)
    ]
    assert missing == []


def test_only_access_opens_a_database_in_the_dashboard() -> None:
    openers = [
        module_of(path)
        for path in FILES
        if module_of(path).startswith("app") and "duckdb.connect" in path.read_text("utf-8")
    ]
    assert openers, "the dashboard opens no snapshot at all"
    assert all(within(name, "app.access") for name in openers)


def test_only_the_landing_and_the_ledger_write_the_landing_store() -> None:
    writing = re.compile(r"(insert\s+into|update|delete\s+from)\s+(feed|names|ledger)\.", re.I)
    writers = {
        module_of(path)
        for path in FILES
        if module_of(path).startswith("ingest") and writing.search(path.read_text("utf-8"))
    }
    assert writers, "nothing writes the landing store: the pattern has gone blind"
    assert all(within(name, "ingest.land") or within(name, "ingest.ledger") for name in writers)


@pytest.mark.parametrize("path", PAGES, ids=_names(PAGES))
def test_a_page_is_a_contents_list(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) < 80, "choose, fetch, show: move the rest to its room"
    assert not re.search(r"\bselect\b.+\bfrom\b", text, re.I | re.S), "SQL lives in app/queries"
    sums = [
        node.lineno
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.BinOp)
        and isinstance(node.op, ast.Div | ast.Mult | ast.Sub | ast.Pow | ast.FloorDiv)
    ]
    assert sums == [], "arithmetic lives in the models"


@pytest.mark.parametrize("path", PAGES, ids=_names(PAGES))
def test_a_page_sets_pieces_and_places_through_the_look(path: Path) -> None:
    """Otherwise what is kept back to be shown as one piece would come after what follows it."""
    raw = re.compile(r"\bst\.(html|markdown|write|columns|expander|page_link|vega_lite_chart)\(")
    assert raw.findall(path.read_text(encoding="utf-8")) == []


def test_no_page_brings_a_script() -> None:
    assert [path for path in FILES if "unsafe_allow" in path.read_text(encoding="utf-8")] == []


def test_queries_name_only_published_tables_and_rooms() -> None:
    named = re.compile(r"\b(?:from|join)\s+([a-z_][a-z0-9_.]*)", re.I)
    strangers = [
        (module_of(path), table)
        for path in FILES
        if module_of(path).startswith("app.queries")
        for text in _sql_texts(path.read_text("utf-8"))
        for table in named.findall(text)
        if not table.startswith(("mart_", "room_"))
    ]
    assert strangers == []


def _sql_texts(source: str) -> list[str]:
    """String constants of a module that read like a query; docstrings are left out."""
    tree = ast.parse(source)
    docs = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    return [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and id(node) not in docs
        and re.match(r"\s*(select|with)\b", node.value, re.I)
    ]


def test_the_top_level_holds_only_what_is_needed() -> None:
    allowed = {
        "README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "Makefile", "pyproject.toml",
        "requirements.lock", "requirements-dev.lock", "ingest", "dbt_project", "app", "tests",
        "docs", ".ci", ".gitignore", ".gitattributes", ".sqlfluff",
    }  # fmt: skip
    tracked = {line.split("/")[0] for line in _tracked()}
    assert tracked - allowed == set()


def _tracked() -> list[str]:
    import subprocess

    done = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True)
    return done.stdout.splitlines()
