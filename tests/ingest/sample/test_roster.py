"""Keys that point at something, and stays that fit together."""

import pandas as pd
import pytest

from ingest.contracts import load_contracts

Tables = dict[str, pd.DataFrame]
NEVER = "9999-12-31"
LINKS = [
    (contract.name, link.fields, link.resource, link.reference_fields)
    for contract in load_contracts().values()
    for link in contract.foreign_keys
]


@pytest.mark.parametrize(("feed", "fields", "target", "target_fields"), LINKS)
def test_every_key_points_at_a_row_that_is_there(
    tables: Tables,
    feed: str,
    fields: tuple[str, ...],
    target: str,
    target_fields: tuple[str, ...],
) -> None:
    given = {key for key in tables[feed][list(fields)].itertuples(index=False, name=None)}
    known = set(tables[target][list(target_fields)].itertuples(index=False, name=None))
    assert {key for key in given if all(key)} <= known


@pytest.mark.parametrize("feed", sorted(load_contracts()))
def test_no_key_stands_twice(tables: Tables, feed: str) -> None:
    assert not tables[feed].duplicated(list(load_contracts()[feed].primary_key)).any()


def _stays(tables: Tables) -> pd.DataFrame:
    stays = tables["memberships"]
    return stays.assign(end_on=stays["end_on"].replace("", NEVER))


def test_pupils_join_move_and_leave_and_are_in_one_class_at_a_time(tables: Tables) -> None:
    pupils = _stays(tables).query("role == 'student'").sort_values(["person_id", "begin_on"])
    next_begin = pupils.groupby("person_id")["begin_on"].shift(-1)
    assert (next_begin.isna() | (next_begin >= pupils["end_on"])).all()
    assert (pupils["begin_on"] < pupils["end_on"]).all()
    last_end = pupils.groupby("person_id")["end_on"].max()
    first_begin = pupils.groupby("person_id")["begin_on"].min()
    assert (last_end < NEVER).sum() >= 5
    assert (first_begin > "2025-09-01").sum() >= 10
    assert next_begin.notna().sum() >= 3


def test_every_class_has_a_teacher_on_every_day(tables: Tables) -> None:
    teachers = _stays(tables).query("role == 'teacher'")
    for class_id in tables["classes"]["class_id"]:
        own = teachers[teachers["class_id"] == class_id].sort_values("begin_on")
        until = "2025-09-01"
        for stay in own.itertuples():
            assert stay.begin_on <= until
            until = max(until, stay.end_on)
        assert until == NEVER


def test_two_teachers_share_one_class_and_one_teacher_has_both_half_days(tables: Tables) -> None:
    teachers = _stays(tables).query("role == 'teacher'")
    shared = teachers[teachers["share"] != ""]
    assert shared["class_id"].nunique() == 1
    assert shared["share"].astype(float).sum() == pytest.approx(1.0)
    both = teachers.groupby("person_id")["class_id"].agg(set)
    assert {"qb-rm01", "qb-rm02"} in list(both)


def test_every_drawn_pupil_was_in_the_class_on_that_day_and_may_be_drawn(tables: Tables) -> None:
    draws = tables["participation_draws"].query("pupil_id != ''")
    stays = _stays(tables).query("role == 'student' and is_draw_eligible == 'true'")
    joined = draws.merge(
        stays, left_on=["class_id", "pupil_id"], right_on=["class_id", "person_id"]
    )
    is_in = (joined["begin_on"] <= joined["drawn_on"]) & (joined["drawn_on"] < joined["end_on"])
    assert joined[is_in]["draw_id"].nunique() == len(draws)
    assert (tables["memberships"]["is_draw_eligible"] == "false").any()


def test_the_eligible_count_lies_between_those_asked_and_the_roster(tables: Tables) -> None:
    draws = tables["participation_draws"]
    days = draws.drop_duplicates(["class_id", "drawn_on"])[["class_id", "drawn_on"]]
    stays = _stays(tables).query("role == 'student' and is_draw_eligible == 'true'")
    joined = days.merge(stays, on="class_id")
    is_in = (joined["begin_on"] <= joined["drawn_on"]) & (joined["drawn_on"] < joined["end_on"])
    roster = joined[is_in].groupby(["class_id", "drawn_on"])["person_id"].nunique()
    turns = draws[draws["outcome"] != "absent"].query("pupil_id != ''")
    asked = turns.groupby(["class_id", "drawn_on"])["pupil_id"].nunique()
    away = (
        draws.query("outcome == 'absent'").groupby(["class_id", "drawn_on"])["pupil_id"].nunique()
    )
    given = draws.groupby(["class_id", "drawn_on"])["eligible_count"].agg(["min", "max"])
    assert (given["min"] == given["max"]).all()
    count = given["min"].astype(int)
    assert (count <= roster.sub(away, fill_value=0)).all()
    assert (count >= asked.reindex(count.index, fill_value=0)).all()


def test_a_class_of_two_grades_and_all_session_patterns_are_there(tables: Tables) -> None:
    classes = tables["classes"]
    assert list(classes[classes["grades"].str.contains(";")]["grades"]) == ["02;03"]
    assert classes["session_pattern"].value_counts().to_dict() == {"full_day": 20, "am": 1, "pm": 1}
    assert set(";".join(classes["grades"]).split(";")) == {"KG", "01", "02", "03", "04", "05"}
