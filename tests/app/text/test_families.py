"""Practice at home is said with its counts, and with little behind it less is said."""

from __future__ import annotations

import pytest

from app.text import families
from app.text.readings import Reading


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


SOLID = Reading(value=0.39, low=0.24, high=0.56, numerator=29, denominator=74,
                session_count=4, unit_count=74, sufficiency="usable")  # fmt: skip
THIN = Reading(value=1 / 3, low=0.11, high=0.66, numerator=6, denominator=18,
               session_count=1, unit_count=18, sufficiency="thin")  # fmt: skip


@pytest.mark.parametrize(
    ("got", "told", "rests"),
    [
        (SOLID, "**39 %** of the families asked said that they practised (29 of 74).",
         "24 to 56 %; asked in 4 weeks."),
        (THIN, "**6 of 18** families practised, asked in 1 week: too few to say more.", ""),
        (Reading(), "No family has been asked yet this term.", ""),
    ],
)  # fmt: skip
def test_counts_come_first_and_a_share_needs_enough_behind_it(
    got: Reading, told: str, rests: str
) -> None:
    assert plain(families.practised(got)) == told
    assert plain(families.rests_on(got)).endswith(rests)
    assert bool(families.rests_on(got)) is bool(rests)
