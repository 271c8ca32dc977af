"""What is made from the models: the pages of measures, and dbt's own documentation.

`python -m ingest.model_docs` rewrites `docs/measures/` (a test asserts that it is fresh) and puts
dbt's documentation of every model and column in one file, `var/model_docs/static_index.html`.
"""

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from ingest import measure_pages
from ingest.build import PROJECT, measure_models
from ingest.errors import BuildFailed
from ingest.thresholds import defaults


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
    """Rewrite the pages of measures and build dbt's documentation of this checkout."""
    root = PROJECT.parent
    measure_pages.write(root)
    build_dbt_docs(root / "var" / "model_docs")


if __name__ == "__main__":
    main()
