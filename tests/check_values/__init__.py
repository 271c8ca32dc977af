"""Published worked examples for the statistics, one file per method.

Each example holds its inputs in full, the published result, a tolerance, the citation, and how the
value was come by (`source_status`). A test that uses one names its `id`.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Example:
    """One worked example; `about` is its method, citation and source status in one line."""

    id: str
    inputs: Mapping[str, Any]
    published: Mapping[str, Any]
    tolerances: Mapping[str, float]
    about: str

    def expects(self, name: str) -> Any:
        """The published value under `name`, to compare with `==`, within its tolerance."""
        tolerance = self.tolerances.get(name, self.tolerances.get("*", 0.0))
        return pytest.approx(self.published[name], abs=tolerance, rel=0)


@cache
def examples() -> Mapping[str, Example]:
    """Every example by its id."""
    found = [
        entry for path in sorted(HERE.glob("*.json")) for entry in json.loads(path.read_text())
    ]
    return {entry["id"]: _example(entry) for entry in found}


def example(identifier: str) -> Example:
    """The example with this id; KeyError when there is none."""
    return examples()[identifier]


def _example(entry: Mapping[str, Any]) -> Example:
    tolerance = entry["tolerance"]
    return Example(
        id=entry["id"],
        inputs=entry["inputs"],
        published=entry["published"],
        tolerances=tolerance if isinstance(tolerance, dict) else {"*": float(tolerance)},
        about=f"{entry['method']}: {entry['citation']} ({entry['source_status']})",
    )
