"""Nobody is two turns ahead while names are drawn in rounds."""

from __future__ import annotations

import pytest

from tests.check_values import example
from tests.dbt_project.macro_runner import scalar


def test_the_fewest_and_the_most_turns_are_the_floor_and_the_ceiling() -> None:
    # Identity, own construction.
    rounds = example("i-nrepl-balance")
    given = str(rounds.inputs["n"]), str(rounds.inputs["t"])
    assert scalar("fewest_turns_in_rounds", *given) == rounds.expects("min")
    assert scalar("most_turns_in_rounds", *given) == rounds.expects("max")


@pytest.mark.parametrize(
    ("pupils", "draws", "fewest", "most"), [(5, 0, 0, 0), (5, 5, 1, 1), (5, 6, 1, 2), (1, 7, 7, 7)]
)
def test_full_rounds_leave_everyone_alike(pupils: int, draws: int, fewest: int, most: int) -> None:
    assert scalar("fewest_turns_in_rounds", str(pupils), str(draws)) == fewest
    assert scalar("most_turns_in_rounds", str(pupils), str(draws)) == most


@pytest.mark.parametrize("name", ["fewest_turns_in_rounds", "most_turns_in_rounds"])
def test_without_pupils_there_are_no_turns(name: str) -> None:
    assert scalar(name, "0", "5") is None
    assert scalar(name, "cast(null as bigint)", "5") is None
