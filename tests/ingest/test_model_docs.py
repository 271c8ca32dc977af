"""The pages of measures say what the models say, and each says what it tells in plain words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from ingest.build import PROJECT, measure_models
from ingest.measure_pages import FOLDER, INDEX, Measure, measures, pages
from ingest.measure_words import RESTS_ON

MEASURES = measures(PROJECT)
PAGES = pages(PROJECT)
NAMES = [one.name for one in MEASURES]
LEAST_WORDS = 60
NUMBER = re.compile(r"\d|\b(two|three|four|five|six|seven|eight|nine|ten)\b", re.I)


def test_every_page_of_measures_is_fresh(project_root: Path) -> None:
    folder = project_root / FOLDER
    kept = {path.name: path.read_text(encoding="utf-8") for path in folder.glob("*.md")}
    assert kept == PAGES, "run: make docs"


def test_every_measure_model_has_a_page_and_a_line_in_the_index() -> None:
    modelled = {stem.split("_", 2)[2] for stem in measure_models(PROJECT)}
    texts = PAGES
    assert set(NAMES) == modelled
    assert {f"{name}.md" for name in modelled} | {INDEX} == set(texts)
    assert all(f"({name}.md)" in texts[INDEX] for name in modelled)
    assert "adherence" in modelled


@pytest.mark.parametrize("one", MEASURES, ids=NAMES)
def test_a_measure_says_in_plain_words_what_it_tells_and_names_a_number(one: Measure) -> None:
    assert len(one.sense.split()) >= LEAST_WORDS
    assert NUMBER.search(one.sense), "a worked example has numbers"
    assert len(one.sense.split("\n\n")) >= 2


@pytest.mark.parametrize("one", MEASURES, ids=NAMES)
def test_a_page_tells_counts_range_levels_settings_and_limits(one: Measure) -> None:
    text = PAGES[f"{one.name}.md"]
    for part in (
        "Numerator",
        "Denominator",
        "Unit",
        "Levels",
        "Windows",
        "Range",
        "Needs",
        "Model",
    ):
        assert f"- **{part}**: " in text
    for part in ("numerator", "denominator", "cannot_say", "source", "minimum_data"):
        assert str(one.meta[part]).strip()
        assert str(one.meta[part]) in text
    assert all(f"| `{name}` |" in text for name in one.thresholds)


def test_a_range_over_visits_names_the_settings_that_shape_it() -> None:
    steps = next(one for one in MEASURES if one.name == "adherence")
    assert {"criterion", "ci_level", "interval_sessions", "min_days"} <= set(steps.thresholds)


def test_page_and_catalogue_tell_alike_what_a_measure_is_made_of() -> None:
    macro = (PROJECT / "macros/measures/measure_catalogue.sql").read_text(encoding="utf-8")
    told = macro.partition("set kinds = {")[2].partition("}")[0]
    assert re.findall(r"'(\w+)': '(\w+)'", told) == list(RESTS_ON.items())


@pytest.mark.parametrize(
    ("name", "made_of"),
    [("adherence", "visits"), ("dose", "lessons"), ("turn_coverage", "draws"),
     ("support_steps", "support")],
)  # fmt: skip
def test_what_a_measure_is_made_of_is_told_by_what_its_model_reads(name: str, made_of: str) -> None:
    assert next(one for one in MEASURES if one.name == name).rests_on == made_of
