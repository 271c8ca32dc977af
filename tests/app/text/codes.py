"""The codes that a mart's contract allows in a column."""

from __future__ import annotations

import re

import yaml

from tests.app.contracts import MARTS


def codes_of(model: str, column: str) -> set[str]:
    """The codes that a mart's contract allows in one column."""
    [file] = [*MARTS.rglob(f"{model}.yml")]
    [found] = yaml.safe_load(file.read_text(encoding="utf-8"))["models"]
    [kept] = [entry for entry in found["columns"] if entry["name"] == column]
    rules = [rule["expression"] for rule in kept["constraints"] if rule["type"] == "check"]
    return set(re.findall(r"'(\w+)'", rules[0]))
