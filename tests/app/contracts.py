"""The published tables as their own contracts state them: names, types, audience."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml

MARTS = Path(__file__).resolve().parents[2] / "dbt_project" / "models" / "marts"


@dataclass(frozen=True)
class Column:
    name: str
    data_type: str
    is_required: bool


@dataclass(frozen=True)
class Contract:
    name: str
    audience: str
    columns: tuple[Column, ...]

    @property
    def column_names(self) -> tuple[str, ...]:
        return tuple(column.name for column in self.columns)


@cache
def contracts() -> dict[str, Contract]:
    files = sorted([*(MARTS / "published").rglob("*.yml"), *(MARTS / "rooms").rglob("*.yml")])
    models = [
        model
        for file in files
        for model in yaml.safe_load(file.read_text(encoding="utf-8")).get("models", [])
    ]
    return {
        model["name"]: _contract(model)
        for model in models
        if model["name"].startswith(("mart_", "room_"))
    }


def _contract(model: dict[str, Any]) -> Contract:
    columns = tuple(
        Column(
            column["name"],
            {"string": "varchar"}.get(column["data_type"], column["data_type"]),
            any(rule["type"] == "not_null" for rule in column.get("constraints", [])),
        )
        for column in model["columns"]
    )
    return Contract(model["name"], model["config"]["meta"]["audience"], columns)
