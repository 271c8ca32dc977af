"""No word of the dashboard judges, and no page sorts people by a score."""

from __future__ import annotations

import re
from pathlib import Path

APP = Path(__file__).resolve().parents[3] / "app"
FORBIDDEN = re.compile(
    r"\b(fail(s|ed|ing|ure)?|deficien\w*|worst|rank(s|ed|ing)?|underperform\w*|target)\b", re.I
)
SOURCES = [path for kind in ("py", "css", "typ", "js", "html") for path in APP.rglob(f"*.{kind}")]


def _without_names_of_browsers(text: str) -> str:
    return text.replace("event.target", "event")


def test_forbidden_words_stand_nowhere_in_the_dashboard() -> None:
    assert len(SOURCES) > 50
    found = [
        f"{path.relative_to(APP)}: {match[0]}"
        for path in SOURCES
        for match in FORBIDDEN.finditer(_without_names_of_browsers(path.read_text("utf-8")))
    ]
    assert found == []


def test_the_search_for_forbidden_words_is_not_blind() -> None:
    assert FORBIDDEN.search("ranked by score")
    assert FORBIDDEN.search("the worst class")
    assert not FORBIDDEN.search("a frank word")


def test_no_query_orders_by_a_score() -> None:
    order = re.compile(r"order by ([^\"]+)", re.I)
    scores = re.compile(r"\b(value|low|high|\w+_rate|numerator_count|change_value)\b")
    clauses = [
        clause
        for path in (APP / "queries").rglob("*.py")
        for clause in order.findall(path.read_text(encoding="utf-8"))
    ]
    assert len(clauses) > 15
    assert [clause for clause in clauses if scores.search(clause)] == []
