"""Where to look next is told by what is not known; observers are told apart kindly."""

from __future__ import annotations

from datetime import date

import pandas as pd

from app.text import looking


def classes(*rows: tuple[str, int, date | None]) -> pd.DataFrame:
    names = ["title", "visit_count", "last_visit_on"]
    return pd.DataFrame(rows, columns=names).assign(is_withheld=False)


def observers(*rows: tuple[str, str, str | None, str | None]) -> pd.DataFrame:
    names = ["observer_id", "measure_kind", "reading_code", "drift_code"]
    return pd.DataFrame(rows, columns=names).assign(is_withheld=False)


def test_the_least_visited_are_named_and_of_these_the_longest_ago() -> None:
    said = looking.next_sentence(
        classes(
            ("Room 1", 4, date(2026, 5, 12)),
            ("Room 2", 0, None),
            ("Room 3", 1, date(2026, 5, 1)),
            ("Room 4", 1, date(2026, 3, 9)),
        )
    )
    assert said == (
        "Fewest visits so far this term: **Room 2** (nobody has looked yet); "
        "**Room 4** (1 visit, the last on 9 Mar); **Room 3** (1 visit, the last on 1 May); "
        "**Room 1** (4 visits, the last on 12 May)."
    )


def test_at_most_five_are_named_and_withheld_classes_are_not() -> None:
    many = classes(*[(f"Room {number}", number, date(2026, 5, 1)) for number in range(9)])
    many.loc[0, "is_withheld"] = True
    said = looking.next_sentence(many)
    assert said.count("**Room") == 5
    assert "Room 0" not in said
    assert looking.next_sentence(classes()) == ""


def test_an_observer_apart_is_named_with_kinds_and_a_way_on() -> None:
    said = looking.observers_sentence(
        observers(
            ("obs-1", "moment", "sees_less", "steady"),
            ("obs-1", "rating", "sees_less", "falling"),
            ("obs-2", "moment", "alike", "steady"),
            ("obs-3", "moment", "too_few", None),
        )
    )
    assert said == (
        "**obs-1** sees less than most in looks at children and ratings; **obs-1** sees less than "
        "at first in ratings. 2 of 3 observers see as most do. A few visits watched together with "
        "them would show why."
    )


def test_where_nobody_stands_apart_that_is_all_that_is_said() -> None:
    said = looking.observers_sentence(observers(("obs-1", "moment", "alike", "steady")))
    assert said == "Nothing sets one of 1 observer apart from the others so far."
