"""The page of measures says what the models say."""

from __future__ import annotations

from pathlib import Path

from ingest.build import PROJECT, measure_models
from ingest.model_docs import PAGE, measures, page


def test_the_page_of_measures_is_fresh(project_root: Path) -> None:
    kept = (project_root / PAGE).read_text(encoding="utf-8")
    assert kept == page(), "run: make docs"


def test_every_measure_model_has_its_place_on_the_page() -> None:
    described = {one.name for one in measures(PROJECT)}
    modelled = {stem.split("_", 2)[2] for stem in measure_models(PROJECT)}
    assert described == modelled
    assert "adherence" in described


def test_every_measure_says_what_it_cannot_say_and_where_it_comes_from() -> None:
    for one in measures(PROJECT):
        assert all(text.strip() for text in one.texts.values()), one.name
