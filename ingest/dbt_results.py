"""Reads what dbt left behind after a run, and puts its failures into words."""

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from ingest.errors import BuildFailed

LOG = "build.log"
_STANDS = "the build before still stands"
_SHOWN = 5


def failure(target: Path, log_folder: Path) -> BuildFailed | None:
    """The problem to tell when a model or a test did not hold; none when all did."""
    results = _read(target / "run_results.json").get("results", [])
    bad = [one for one in results if one["status"] in ("error", "fail", "runtime error")]
    if not bad:
        return None
    nodes = _read(target / "manifest.json").get("nodes", {})
    sentences = [_sentence(one, nodes.get(one["unique_id"], {})) for one in bad]
    more = f" (and {len(bad) - _SHOWN} more)" if len(bad) > _SHOWN else ""
    is_data = all(one["status"] == "fail" or _broken_rule(one) for one in bad)
    return BuildFailed(
        f"The new build was not finished; {_STANDS}.",
        where=str(log_folder / LOG),
        rule=" ".join(sentences[:_SHOWN]) + more,
        remedy=_DATA_REMEDY if is_data else _MODEL_REMEDY,
    )


_DATA_REMEDY = (
    "look with roundelay state for what came in last; correct it and load it again, then build. "
    "If nothing looks wrong there, show the log to whoever maintains the models"
)
_MODEL_REMEDY = "show the log to whoever maintains the models; nothing that was loaded is lost"


def silent_failure(said: list[str], log_folder: Path) -> BuildFailed:
    """The problem to tell when dbt ended before it came to a model."""
    reason = next((text for text in said if text), "it ended without saying why")
    return BuildFailed(
        f"The models could not be read; {_STANDS}.",
        where=str(log_folder),
        rule=" ".join(reason.split())[:600],
        remedy=_MODEL_REMEDY,
    )


def models_run(target: Path) -> tuple[int, int]:
    """How many models were made, and how many there are (those without a table left out)."""
    nodes = _read(target / "manifest.json").get("nodes", {})
    expected = {
        key
        for key, node in nodes.items()
        if node["resource_type"] == "model" and node["config"]["materialized"] != "ephemeral"
    }
    results = _read(target / "run_results.json").get("results", [])
    made = {one["unique_id"] for one in results if one["status"] == "success"} & expected
    return len(made), len(expected)


def warnings(target: Path) -> list[str]:
    """A sentence for each test that only warns and did."""
    nodes = _read(target / "manifest.json").get("nodes", {})
    results = _read(target / "run_results.json").get("results", [])
    return [
        _sentence(one, nodes.get(one["unique_id"], {}))
        for one in results
        if one["status"] == "warn"
    ]


def _sentence(result: Mapping[str, Any], node: Mapping[str, Any]) -> str:
    name = str(node.get("name") or result["unique_id"])
    if node.get("resource_type") == "test":
        told = " ".join(str(node.get("description") or name).split()).rstrip(".")
        rows = result.get("failures")
        count = f"{rows} {'row does' if rows == 1 else 'rows do'} not hold" if rows else "not held"
        return f"Check of {_tested(node)}: {told} ({count})."
    broken = _broken_rule(result)
    if broken:
        return f"Check of {name}: {broken}."
    message = " ".join(str(result.get("message") or "no reason was given").split())
    return f"Table {name} could not be made: {message[:400]}."


def _broken_rule(result: Mapping[str, Any]) -> str | None:
    """What a table that was not made would have broken: one of its own rules, without the value.

    The store's own words quote the row, and its key may be a child's.
    """
    message = " ".join(str(result.get("message") or "").split())
    if re.search(r"Constraint Error: .*duplicate key", message, re.IGNORECASE):
        return "two rows have the same key"
    empty = re.search(r"NOT NULL constraint failed: \w+\.(\w+)", message)
    if empty:
        return f"a row has no {empty[1]}"
    rule = re.search(
        r'CHECK constraint failed on table "?\w+"? with expression CHECK(.*\))', message
    )
    return f"a row does not hold {rule[1]}" if rule else None


def _tested(node: Mapping[str, Any]) -> str:
    table = str(node.get("attached_node") or "").rsplit(".", 1)[-1] or "the tables"
    column = node.get("column_name")
    return f"{table}.{column}" if column else table


def _read(path: Path) -> dict[str, Any]:
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return content if isinstance(content, dict) else {}
