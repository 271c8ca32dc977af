"""Small files, small functions, and nothing that belongs to one machine."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from tests.architecture.walls import ROOT, module_of, python_files

SHIPPED = python_files("ingest", "app")
EVERY = [*SHIPPED, *python_files("tests")]


@pytest.mark.parametrize("path", EVERY, ids=[module_of(path) for path in EVERY])
def test_a_file_owns_one_thing(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 300
    assert path.name != "utils.py"


@pytest.mark.parametrize("path", SHIPPED, ids=[module_of(path) for path in SHIPPED])
def test_a_function_fits_on_a_screen(path: Path) -> None:
    long = [
        (node.name, node.end_lineno - node.lineno + 1)
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and node.end_lineno is not None
        and node.end_lineno - node.lineno + 1 > 40
    ]
    assert long == []


@pytest.mark.parametrize(
    "path",
    sorted((ROOT / "dbt_project").rglob("*.sql")),
    ids=lambda path: path.relative_to(ROOT / "dbt_project").as_posix(),
)
def test_a_model_stays_readable(path: Path) -> None:
    if "target" in path.parts:
        return
    lines = path.read_text(encoding="utf-8").splitlines()
    assert len(lines) <= 120
    assert max((len(line) for line in lines), default=0) <= 100


def test_no_model_depends_on_today() -> None:
    clock = re.compile(r"\b(current_date|current_timestamp|now\(\)|today\(\)|getdate)\b", re.I)
    models = [path for path in (ROOT / "dbt_project").rglob("*.sql") if "target" not in path.parts]
    assert models
    assert [path.name for path in models if clock.search(path.read_text("utf-8"))] == []
