"""What the project promises about itself: settings, tests that ran, one place for the as-of day."""

from __future__ import annotations

import json
import re
from pathlib import Path

import yaml

from ingest.settings import THRESHOLDS
from tests.dbt_project.answers import Ask
from tests.dbt_project.landing import contracts
from tests.dbt_project.run_dbt import MEASURES, PROJECT

INTERMEDIATE = PROJECT / "models" / "intermediate"


def test_the_default_thresholds_are_those_of_the_settings() -> None:
    given = yaml.safe_load((PROJECT / "dbt_project.yml").read_text("utf-8"))["vars"]["thresholds"]
    assert given == {name: one.default for name, one in THRESHOLDS.items()}


def test_every_threshold_that_a_model_names_is_one_of_the_settings() -> None:
    texts = [
        path.read_text("utf-8") for path in PROJECT.rglob("*.sql") if "target" not in path.parts
    ]
    named = {name for text in texts for name in re.findall(r"threshold\('(\w+)'\)", text)}
    assert named
    assert named <= set(THRESHOLDS)


def test_every_dated_feed_is_read_through_the_filter_of_the_as_of_day() -> None:
    dated = {
        feed: field["name"]
        for feed, contract in contracts().items()
        for field in contract["schema"]["fields"]
        if field.get("event_date")
    }
    assert dated
    filtered = "".join(path.read_text("utf-8") for path in INTERMEDIATE.rglob("*.sql"))
    missing = [feed for feed, column in dated.items() if f"is_known('{column}'" not in filtered]
    assert missing == []


def test_the_unit_tests_beside_the_models_ran_and_held(golden_folder: Path) -> None:
    results = json.loads((golden_folder / "target" / "run_results.json").read_text("utf-8"))
    ran = {
        one["unique_id"].rsplit(".", 1)[1]: one["status"]
        for one in results["results"]
        if one["unique_id"].startswith("unit_test.")
    }
    written = {
        test["name"]
        for path in INTERMEDIATE.rglob("*.yml")
        for test in yaml.safe_load(path.read_text("utf-8")).get("unit_tests", [])
    }
    assert written
    assert {name: ran.get(name) for name in written} == dict.fromkeys(written, "pass")


def test_every_measure_is_in_the_catalogue_under_the_name_of_its_model(ask: Ask) -> None:
    named = {re.sub(r"^int_(measure|finished)_", "", path.stem) for path in MEASURES.glob("*.sql")}
    assert {name for (name,) in ask("select measure_name from core.dim_measures")} == named


def test_no_figure_that_nobody_saw_has_a_value_and_no_share_leaves_its_range(ask: Ask) -> None:
    assert ask(
        "select count(*) from core.fct_measures where sufficiency = 'none' and value > 0"
    ) == [(0,)]
    odd = ask(
        "select distinct measure_name from core.fct_measures join core.dim_measures"
        " using (measure_name) where value is not null and (low > value or high < value"
        " or (unit = 'share' and not value between 0 and 1))"
    )
    assert odd == []
