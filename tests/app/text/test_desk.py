"""The desk speaks of files, rows and builds in plain sentences, and says what is safe."""

from __future__ import annotations

import pytest

from app.text import desk, desk_rows

FILE = {
    "file_name": "lessons.csv", "feed": "routine_lessons", "status": "loaded", "received": 214,
    "accepted": 200, "known": 4, "quarantined": 10, "refused": 0,
}  # fmt: skip


@pytest.mark.parametrize(
    ("changed", "shape", "text"),
    [
        (
            {}, "few",
            "**lessons.csv** (lessons): 200 of 214 rows taken in, 4 known already, 10 set aside.",
        ),
        (
            {"accepted": 214, "known": 0, "quarantined": 0}, "filled",
            "**lessons.csv** (lessons): 214 of 214 rows taken in.",
        ),
        (
            {"status": "already_known", "accepted": 0, "known": 214, "quarantined": 0}, "hollow",
            "**lessons.csv** (lessons): nothing new. All 214 rows were here already.",
        ),
        (
            {"status": "refused", "feed": "", "accepted": 0, "known": 0, "quarantined": 0}, "rest",
            "**lessons.csv**: refused as a whole. Nothing of it was kept; it waits in the inbox.",
        ),
    ],
)  # fmt: skip
def test_a_verdict_is_a_shape_and_a_sentence(
    changed: dict[str, object], shape: str, text: str
) -> None:
    assert (desk.mark(FILE | changed), desk.verdict(FILE | changed)) == (shape, text)


def test_a_finding_says_where_what_and_what_to_do() -> None:
    found = {
        "verdict": "quarantine", "line": 7, "column": "minutes", "count": 3, "rule": "too_large",
        "message": "Too long.", "remedy": "Divide by 60.",
    }  # fmt: skip
    assert desk.finding(found) == (
        "Set aside. Line 7, column minutes (3 times; this is the first): Too long. "
        "What to do: Divide by 60. (rule: too_large)"
    )


@pytest.mark.parametrize("outcome", ["stopped", "late", "busy", "refused"])
@pytest.mark.parametrize("kind", ["load", "build", "back", "release"])
def test_whatever_did_not_come_about_says_what_is_safe(kind: str, outcome: str) -> None:
    said = desk.ended(kind, outcome)
    assert any(word in said for word in ("on show", "inbox", "No row was let in"))


def test_rows_let_in_are_counted_at_the_end() -> None:
    assert desk.ended("release", "done", 1) == "Done: 1 row was let in."
    assert desk.ended("release", "done", 3) == "Done: 3 rows were let in."


@pytest.mark.parametrize(
    ("names", "let_in", "text"),
    [
        ([], 0, "Everything that was taken in is in this build."),
        (["a.csv"], 0, "**1 file** is not in these numbers yet: a.csv."),
        ([], 2, "**2 rows** that were let in are not in these numbers yet."),
        (
            ["a.csv"],
            1,
            "**1 file** and **1 row** that was let in are not in these numbers yet: a.csv.",
        ),
        (
            list("abcdefgh"),
            0,
            "**8 files** are not in these numbers yet: a, b, c, d, e, f and 2 more.",
        ),
    ],
)
def test_what_is_not_in_the_build_is_said(names: list[str], let_in: int, text: str) -> None:
    assert desk.new_since(names, let_in, is_known=True) == text
    assert "cannot be told" in desk.new_since(names, let_in, is_known=False)


def test_trouble_keeps_the_words_of_the_command() -> None:
    told = {"what": "Busy.", "where": "loading files", "rule": "one at a time", "remedy": "wait"}
    assert desk.trouble(told) == "Busy. (loading files) Why: one at a time. What to do: wait."


@pytest.mark.parametrize(
    ("lines", "text"),
    [((), "no line"), ((3,), "line 3"), ((3, 5), "lines 3, 5"),
     (tuple(range(1, 10)), "lines 1, 2, 3, 4, 5, 6 and 3 more")],
)  # fmt: skip
def test_lines_are_listed_as_far_as_they_can_be_read(lines: tuple[int, ...], text: str) -> None:
    assert desk_rows.lines(lines) == text
