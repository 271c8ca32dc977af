"""A sheet of paper takes its columns from the contract of its feed."""

from __future__ import annotations

import pytest

from app.capture.columns import sheet_of


def test_a_sheet_has_the_columns_of_the_file_in_their_order() -> None:
    found = sheet_of("family_practice", ("class_id",))
    assert [one.name for one in found.columns] == [
        "routine_id", "week_first_on", "families_asked", "families_reported",
    ]  # fmt: skip
    assert [one.name for one in found.left] == ["class_id"]
    assert (found.title, found.columns[1].title) == ("Practice at home", "Week")


def test_codes_are_those_of_the_contract_and_yes_or_no_is_true_or_false() -> None:
    columns = {one.name: one for one in sheet_of("routine_lessons", ()).columns}
    assert columns["status"].codes == ("delivered", "partly", "cancelled")
    assert columns["is_substitute"].codes == ("true", "false")
    assert columns["minutes"].codes == ()
    assert columns["note"].width > columns["minutes"].width


def test_a_column_that_was_renamed_cannot_stay_left_out_unseen() -> None:
    with pytest.raises(KeyError):
        sheet_of("routine_lessons", ("lesson_key",))
    with pytest.raises(KeyError):
        sheet_of("lessons", ())
