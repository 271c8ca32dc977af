"""What is made from the models: the page of measures, and dbt's own documentation.

`python -m ingest.model_docs` rewrites `docs/measures.md` (a test asserts that it is fresh) and puts
dbt's documentation of every model and column in one file, `var/model_docs/static_index.html`.
"""

import json
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from ingest.build import PROJECT, measure_models
from ingest.errors import BuildFailed
from ingest.thresholds import THRESHOLDS, defaults

PAGE = "docs/measures.md"
_PARTS = ("question", "numerator", "denominator", "unit", "minimum_data", "cannot_say", "source")
_LABELS = {
    "question": "Question",
    "numerator": "Numerator",
    "denominator": "Denominator",
    "unit": "Unit",
    "minimum_data": "Needs",
    "cannot_say": "Cannot say",
    "source": "Source",
}
_UNITS = {
    "share": "share, stored 0-1, shown in percent",
    "per_minute": "per minute of instruction",
    "seconds": "seconds",
    "count": "count",
    "level": "levels of the voice scale",
    "ratio": "ratio",
    "days": "school days",
}
_INTRODUCTION = """# The measures

This page is made from the models in `dbt_project/models/intermediate/measures/` by
`python -m ingest.model_docs`; change the model's description, not the page.

Every figure is a row: `value, numerator_count, denominator_count, low, high, session_count,
unit_count, sufficiency, status, window_code, as_of_on, build_id`.

- **Sufficiency** is `none`, `thin` (shown grey, raises no offer), `usable` or `solid`.
- **Range** (`low` to `high`) is 95 % unless the school sets another level. Where logs can be
  missing it is instead both ends: missing = not done to missing = done. Nothing is filled in.
- **Status** compares the range with our line: met (low end on or above it), likely met, unclear,
  likely below (the one-sided 90 % upper bound is below it). Our line is a convention of the school.
- **Windows**: `term` (term to date) and `last_20` (the last 20 days this class was in session).
- A class's score is the mean of its visits' scores, so that one long visit does not dominate.
- A grade's or the school's row is made from the same parts as the classes' rows, not from rounded
  class figures.
- Shares are stored 0-1; percent is made on the screen; a difference of shares is shown in points.

Figures describe teaching and classrooms. They do not diagnose, rate or predict a child, and are not
for appraising, paying or disciplining staff or for sanctioning pupils.
"""


@dataclass(frozen=True)
class Measure:
    """One measure as its model describes it."""

    name: str
    title: str
    texts: Mapping[str, str]


def measures(project: Path) -> Iterator[Measure]:
    """Every measure of the project in order of its name."""
    found = []
    for path in project.glob("models/intermediate/measures/**/*.yml"):
        for model in yaml.safe_load(path.read_text(encoding="utf-8"))["models"]:
            meta = model.get("config", {}).get("meta", {}).get("measure")
            if meta:
                name = model["name"].split("_", 2)[2]
                found.append(Measure(name, meta["title"], {part: meta[part] for part in _PARTS}))
    yield from sorted(found, key=lambda measure: measure.name)


def page(project: Path = PROJECT) -> str:
    """The whole page of measures as Markdown."""
    listed = list(measures(project))
    lines = [_INTRODUCTION, "| measure | what it asks |", "|---|---|"]
    lines += [f"| [{one.title}](#{one.name}) | {one.texts['question']} |" for one in listed]
    for one in listed:
        lines += ["", f'## <a id="{one.name}"></a>{one.title}', "", f"`{one.name}`", ""]
        lines += [f"- **{_LABELS[part]}**: {_said(part, one.texts[part])}" for part in _PARTS]
    return "\n".join([*lines, "", *_thresholds(), ""])


def _said(part: str, text: str) -> str:
    return _UNITS[text] if part == "unit" else text


def _thresholds() -> Iterator[str]:
    """The numbers a school may set, as a table."""
    yield "## Numbers a school may set"
    yield ""
    yield "In `roundelay.toml` under `[thresholds]`. A default without a source is a convention."
    yield ""
    yield "| name | default | what it is | where the default comes from |"
    yield "|---|---|---|---|"
    for one in THRESHOLDS.values():
        yield f"| `{one.name}` | {one.default:g} | {one.description} | {one.source_note} |"


def build_dbt_docs(folder: Path, project: Path = PROJECT) -> Path:
    """dbt's documentation as one HTML file below `folder`; raises `BuildFailed` with its words."""
    folder.mkdir(parents=True, exist_ok=True)
    # Parsing writes the manifest that the documentation then shows; neither needs a database.
    _dbt(["parse"], folder, project)
    _dbt(["docs", "generate", "--static", "--no-compile", "--empty-catalog"], folder, project)
    return folder / "static_index.html"


def _dbt(verb: list[str], folder: Path, project: Path) -> None:
    variables: Mapping[str, Any] = {
        "as_of_on": "2026-05-15",
        "build_id": "documentation",
        "built_at": "2026-05-15T12:00:00+00:00",
        "school_id": "school",
        "school_name": "School",
        "time_zone": "UTC",
        "is_demo": False,
        "thresholds": dict(defaults()),
        "measure_models": measure_models(project),
    }
    done = subprocess.run(
        [sys.executable, "-m", "dbt.cli.main", *verb, "--vars", json.dumps(variables)],
        cwd=project,
        env={**os.environ, **_docs_surroundings(folder, project)},
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode:
        raise BuildFailed(
            "The documentation of the models could not be made.",
            where=str(project),
            rule=f"dbt {' '.join(verb)}",
            remedy=done.stdout.strip()[-600:],
        )


def _docs_surroundings(folder: Path, project: Path) -> dict[str, str]:
    named = {
        "DBT_TARGET_PATH": folder,
        "DBT_LOG_PATH": folder,
        "DBT_PROFILES_DIR": project,
        "ROUNDELAY_WAREHOUSE": folder / "none.duckdb",
        "ROUNDELAY_LANDING": folder / "none_landing.duckdb",
    }
    return {name: str(path) for name, path in named.items()}


def main() -> None:
    """Rewrite the page of measures and build dbt's documentation of this checkout."""
    root = PROJECT.parent
    (root / PAGE).write_text(page(), encoding="utf-8", newline="\n")
    build_dbt_docs(root / "var" / "model_docs")


if __name__ == "__main__":
    main()
