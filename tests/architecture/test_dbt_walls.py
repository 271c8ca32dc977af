"""Every edge between models follows the house, and every model is described."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from ingest.build import measure_models
from ingest.thresholds import defaults
from tests.architecture.walls import ROOT

PROJECT = ROOT / "dbt_project"

# Which layer may read which. Seeds are small tables of codes that any layer may read.
MAY_READ = {
    "staging": {"source"},
    "intermediate": {"staging", "intermediate", "seeds"},
    # Straight from staging where an intermediate step would only repeat it (record 0002).
    "core": {"staging", "intermediate", "core", "seeds"},
    "published": {"core", "published", "seeds"},
    "names": {"source", "names"},
    "rooms": {"core", "published", "rooms", "seeds", "names"},
}

# The two models that hold names of people; only rooms read them.
NAME_CARRIERS = {"stg_roster__people_names", "dim_person_names"}


@pytest.fixture(scope="module")
def manifest(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    target = tmp_path_factory.mktemp("manifest")
    variables = {
        "as_of_on": "2026-05-15",
        "build_id": "walls",
        "built_at": "2026-05-15T12:00:00+00:00",
        "school_id": "s",
        "school_name": "Walls",
        "time_zone": "UTC",
        "is_demo": False,
        "thresholds": dict(defaults()),
        "measure_models": measure_models(PROJECT),
    }
    paths = {"DBT_TARGET_PATH": target, "DBT_LOG_PATH": target, "DBT_PROFILES_DIR": PROJECT}
    stores = {"ROUNDELAY_WAREHOUSE": target / "w.duckdb", "ROUNDELAY_LANDING": target / "l.duckdb"}
    done = subprocess.run(
        [sys.executable, "-m", "dbt.cli.main", "parse", "--vars", json.dumps(variables)],
        cwd=PROJECT,
        env={**os.environ, **{k: str(v) for k, v in (paths | stores).items()}},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    loaded: dict[str, Any] = json.loads((target / "manifest.json").read_text(encoding="utf-8"))
    return loaded


def _layer(node: dict[str, Any]) -> str:
    """The room a node stands in; the staging view of names is a room of its own."""
    if node["resource_type"] in {"source", "seed"}:
        return {"source": "source", "seed": "seeds"}[node["resource_type"]]
    parts = Path(node["original_file_path"]).parts
    if node["name"] in NAME_CARRIERS:
        return "names"
    return parts[2] if parts[1] == "marts" else parts[1]


def _models(manifest: dict[str, Any]) -> list[dict[str, Any]]:
    return [node for node in manifest["nodes"].values() if node["resource_type"] == "model"]


def test_every_edge_follows_the_house(manifest: dict[str, Any]) -> None:
    everything = {**manifest["nodes"], **manifest["sources"]}
    strangers = [
        f"{node['name']} ({_layer(node)}) reads {parent['name']} ({_layer(parent)})"
        for node in _models(manifest)
        for parent in (everything[name] for name in node["depends_on"]["nodes"])
        if _layer(parent) not in MAY_READ[_layer(node)]
    ]
    assert strangers == []


def test_staging_reads_exactly_one_source(manifest: dict[str, Any]) -> None:
    several = [
        node["name"]
        for node in _models(manifest)
        if node["original_file_path"].startswith("models/staging")
        and len(node["depends_on"]["nodes"]) != 1
    ]
    assert several == []


def test_every_sql_file_has_its_description_beside_it() -> None:
    alone = [
        path.relative_to(PROJECT).as_posix()
        for path in sorted((PROJECT / "models").rglob("*.sql"))
        if not path.with_suffix(".yml").is_file()
    ]
    assert alone == []


def test_every_model_and_every_column_of_a_mart_is_described(manifest: dict[str, Any]) -> None:
    silent = [node["name"] for node in _models(manifest) if not node["description"].strip()]
    silent += [
        f"{node['name']}.{column['name']}"
        for node in _models(manifest)
        if _layer(node) in {"core", "published", "rooms"}
        for column in node["columns"].values()
        if not column["description"].strip()
    ]
    assert silent == []


def test_marts_keep_an_enforced_contract(manifest: dict[str, Any]) -> None:
    loose = [
        node["name"]
        for node in _models(manifest)
        if _layer(node) in {"core", "published", "rooms"}
        and not node["config"]["contract"]["enforced"]
    ]
    assert loose == []


def test_every_published_table_names_its_one_audience(manifest: dict[str, Any]) -> None:
    audiences = {
        node["name"]: node["config"]["meta"].get("audience")
        for node in _models(manifest)
        if _layer(node) in {"published", "rooms"}
    }
    assert audiences
    assert set(audiences.values()) <= {"school", "support", "steward", "room"}
    rooms = [name for name, audience in audiences.items() if audience == "room"]
    assert sorted(rooms) == sorted(name for name in audiences if name.startswith("room_"))


def test_every_page_of_the_dashboard_is_declared(manifest: dict[str, Any]) -> None:
    read = {name for page in manifest["exposures"].values() for name in page["depends_on"]["nodes"]}
    unread = [
        node["name"]
        for node in _models(manifest)
        if _layer(node) in {"published", "rooms"} and node["unique_id"] not in read
    ]
    assert unread == []


def test_names_reach_only_the_rooms(manifest: dict[str, Any]) -> None:
    named = {"given_name", "family_name"}
    carriers = [
        f"{node['name']}.{column}"
        for node in _models(manifest)
        if _layer(node) not in {"rooms", "names"}
        for column in node["columns"]
        if column in named
    ]
    assert carriers == []


def test_no_share_is_kept_as_percent(manifest: dict[str, Any]) -> None:
    percents = [
        f"{node['name']}.{column}"
        for node in _models(manifest)
        for column in node["columns"]
        if "percent" in column or column.endswith("_pct")
    ]
    assert percents == []
