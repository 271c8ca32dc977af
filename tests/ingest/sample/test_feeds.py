"""What the contracts ask of one row or one visit, checked on the clean files row by row."""

from typing import cast

import pandas as pd

Tables = dict[str, pd.DataFrame]
CODES = {
    "moment": {"expected", "not_expected", "accommodated", "not_visible", "out_of_room"},
    "interval": {"expected", "not_expected", "accommodated", "not_visible", "out_of_room"},
    "event": {
        "opportunity_individual",
        "opportunity_group",
        "praise_specific",
        "praise_general",
        "correction_calm",
        "correction_harsh",
    },
    "latency": {"ready", "censored"},
    "step": {"done", "not_done", "not_applicable", "not_seen"},
    "rating": {"explained", "shown", "practised", "feedback", "overall"},
    "voice": {"observed"},
    "product": {"present", "absent"},
}


def _versions(tables: Tables) -> pd.DataFrame:
    """Every wording with its dates and number of steps."""
    steps = tables["routine_steps"].groupby(["routine_id", "version"]).size().rename("steps")
    routines = tables["routines"].join(steps, on=["routine_id", "version"])
    return routines.assign(valid_to_on=routines["valid_to_on"].replace("", "9999-12-31"))


def test_routines_of_three_tiers_have_three_to_eight_steps_and_accepted_alternatives(
    tables: Tables,
) -> None:
    versions = _versions(tables)
    assert set(versions["tier"]) == {"1", "2", "3"}
    assert versions["steps"].between(3, 8).all()
    assert (versions["accepted_alternatives"].str.len() > 20).all()
    critical = tables["routine_steps"].query("is_critical == 'true'")
    assert critical.groupby(["routine_id", "version"]).size().size == len(versions)
    assert set(versions["kind"]) == {"posture", "turns", "voice", "movement", "other"}


def test_no_routine_asks_for_eye_contact_or_one_posture(tables: Tables) -> None:
    text = " ".join([*tables["routine_steps"]["text"], *tables["routines"]["expectation"]]).lower()
    for word in ("eye", "look at", "sit still", "hands in", "legs", "straight"):
        assert word not in text


def test_one_routine_is_reworded_in_the_middle_of_the_year(tables: Tables) -> None:
    versions = _versions(tables)
    again = versions[versions["version"] == "2"]
    assert list(again["routine_id"]) == ["settle-to-listen"]
    first = versions[(versions["routine_id"] == "settle-to-listen") & (versions["version"] == "1")]
    assert first["valid_to_on"].iloc[0] == again["valid_from_on"].iloc[0] == "2026-02-23"


def test_a_lesson_never_has_more_steps_done_than_its_wording_has(tables: Tables) -> None:
    lessons = tables["routine_lessons"].query("steps_done != ''")
    joined = lessons.merge(_versions(tables), on="routine_id")
    is_live = (joined["valid_from_on"] <= joined["taught_on"]) & (
        joined["taught_on"] < joined["valid_to_on"]
    )
    live = joined[is_live]
    assert len(live) == len(lessons)
    assert (live["steps_done"].astype(int) <= live["steps"]).all()
    partly = live[live["status"] == "partly"]
    assert (partly["steps_done"].astype(int) < partly["steps"]).all()


def test_a_lesson_called_off_has_no_minutes_and_says_why(tables: Tables) -> None:
    lessons = tables["routine_lessons"]
    off = lessons[lessons["status"] == "cancelled"]
    assert len(off) > 50
    assert (off[["minutes", "pupils_present", "steps_done"]] == "").all(axis=None)
    assert (off["cancel_reason"] != "").all()
    minutes = lessons[lessons["status"] != "cancelled"]["minutes"].astype(float)
    assert minutes.between(0.5, 60).all()


def test_a_class_has_a_routine_at_most_once_a_day_and_lessons_do_not_overlap(
    tables: Tables,
) -> None:
    lessons = tables["routine_lessons"]
    assert not lessons.duplicated(["class_id", "routine_id", "taught_on"]).any()
    given = lessons[lessons["status"] != "cancelled"].sort_values("started_at_local")
    starts = pd.to_timedelta(given["started_at_local"] + ":00").dt.total_seconds() / 60
    ends = starts + given["minutes"].astype(float)
    next_start = starts.groupby([given["class_id"], given["taught_on"]]).shift(-1)
    assert (next_start.isna() | (ends <= next_start)).all()


def test_lessons_are_entered_after_they_began_and_within_ten_school_days(tables: Tables) -> None:
    lessons = tables["routine_lessons"]
    entered = lessons["entered_at"].str[:16]
    assert (entered >= lessons["taught_on"] + "T" + lessons["started_at_local"]).all()
    gap = pd.to_datetime(entered.str[:10]) - pd.to_datetime(lessons["taught_on"])
    assert gap.dt.days.max() <= 30
    assert 0.05 < (gap.dt.days > 0).mean() < 0.3


def test_no_more_than_five_lessons_are_entered_by_one_adult_in_one_minute(tables: Tables) -> None:
    lessons = tables["routine_lessons"]
    minute = lessons["entered_at"].str[:16]
    assert lessons.groupby([lessons["entered_by"], minute]).size().max() <= 5


def test_substitutes_teach_on_some_days_and_two_adults_share_some_lessons(tables: Tables) -> None:
    lessons = tables["routine_lessons"]
    assert 0.01 < (lessons["is_substitute"] == "true").mean() < 0.06
    assert lessons["taught_by"].str.contains(";").sum() > 20
    assert {"in_person", "live_online", "recorded", "at_home"} == set(lessons["mode"])


def test_no_plan_line_counts_the_same_lessons_twice(tables: Tables) -> None:
    plan = tables["teaching_plan"]
    assert ((plan["class_id"] == "") != (plan["grade"] == "")).all()
    whom = plan["class_id"] + plan["grade"]
    same = plan.assign(whom=whom).sort_values("window_first_on")
    keys = ["whom", "routine_id", "lesson_kind"]
    next_first = same.groupby(keys)["window_first_on"].shift(-1)
    assert (next_first.isna() | (next_first > same["window_last_on"])).all()
    assert set(plan["plan_version"]) == {"1", "2"}
    assert (plan[plan["plan_version"] == "2"]["window_first_on"] >= "2026-02-23").all()


def test_the_opening_weeks_hold_many_short_practices(tables: Tables) -> None:
    lessons = tables["routine_lessons"].query("mode == 'in_person'")
    a_week = lessons.groupby(pd.to_datetime(lessons["taught_on"]).dt.isocalendar().week).size()
    opening, later = a_week.loc[36:38].mean(), a_week.loc[39:42].mean()
    assert opening > 1.8 * later


def test_codes_and_values_fit_the_kind_of_row(tables: Tables) -> None:
    rows = tables["observation_rows"]
    for row_type, own in rows.groupby("row_type"):
        assert set(own["code"]) <= CODES[cast("str", row_type)]
        has_value = row_type in ("latency", "rating", "voice")
        assert ((own["value"] != "") == has_value).all()
        assert ((own["step_number"] != "") == (row_type == "step")).all()
    assert set(rows["row_type"]) == set(CODES)
    numbered = rows.groupby("observation_id")["row_number"]
    assert (numbered.last().astype(int) == numbered.size()).all()


def test_looks_fill_the_minutes_and_nothing_is_seen_after_the_end(tables: Tables) -> None:
    visits = tables["observation_sessions"].set_index("observation_id")
    rows = tables["observation_rows"]
    looks = rows[rows["row_type"].isin(["moment", "interval"])].groupby("observation_id").size()
    planned = visits["minutes_observed"].astype(int) * 60 / visits["interval_seconds"].astype(int)
    assert (looks.reindex(visits.index) == planned).all()
    timed = rows[rows["at_seconds"] != ""]
    minutes = timed["observation_id"].map(visits["minutes_observed"]).astype(int)
    assert (timed["at_seconds"].astype(float) <= minutes * 60).all()
    instruction = visits["minutes_instruction"].astype(int)
    assert (instruction <= visits["minutes_observed"].astype(int)).all()


def test_one_visit_in_five_is_watched_by_two_who_agree_about_the_visit(tables: Tables) -> None:
    visits = tables["observation_sessions"]
    pairs = visits[visits["pair_id"] != ""].groupby("pair_id")
    count = visits["pair_id"].replace("", pd.NA).fillna(visits["observation_id"]).nunique()
    assert 0.15 < len(pairs) / count < 0.25
    assert (pairs.size() == 2).all()
    for column in ("class_id", "observed_on", "started_at_local", "routine_id", "purpose"):
        assert (pairs[column].nunique() == 1).all()
    assert (pairs["observer_id"].nunique() == 2).all()


def test_no_observer_is_in_two_places_at_once(tables: Tables) -> None:
    visits = tables["observation_sessions"].sort_values(["observed_on", "started_at_local"])
    starts = pd.to_timedelta(visits["started_at_local"] + ":00").dt.total_seconds() / 60
    ends = starts + visits["minutes_observed"].astype(int)
    next_start = starts.groupby([visits["observer_id"], visits["observed_on"]]).shift(-1)
    assert (next_start.isna() | (ends <= next_start)).all()


def test_visits_of_every_purpose_are_there_and_training_is_early(tables: Tables) -> None:
    visits = tables["observation_sessions"]
    assert set(visits["purpose"]) == {"routine", "coaching", "agreement", "training"}
    training = visits[visits["purpose"] == "training"]
    assert training["observed_on"].max() < "2025-09-15"
    assert set(visits["taught_by_role"]) == {"teacher", "co_teacher", "substitute"}


def test_looks_of_one_visit_hang_together_as_much_as_was_meant(tables: Tables) -> None:
    """Beta-binomial by moments over visits to one class and routine in one month: near .07."""
    rows = tables["observation_rows"]
    looks = rows[rows["row_type"].isin(["moment", "interval"])]
    seen = looks[looks["code"].isin(["expected", "accommodated", "not_expected"])]
    is_met = seen["code"] != "not_expected"
    visits = is_met.groupby(seen["observation_id"]).agg(["mean", "size"])
    alone = tables["observation_sessions"].query("pair_id == ''").set_index("observation_id")
    joined = alone.join(visits, how="inner")
    keys = [joined["class_id"], joined["routine_id"], joined["observed_on"].str[:7]]
    again = joined[joined.groupby(keys)["mean"].transform("size") > 1]
    groups = again.groupby([again["class_id"], again["routine_id"], again["observed_on"].str[:7]])
    mean = groups["mean"].transform("mean")
    between = ((again["mean"] - mean) ** 2).sum() / (len(again) - len(groups))
    share, looks_each = again["mean"].mean(), again["size"].mean()
    rho = (between / (share * (1 - share)) - 1 / looks_each) / (1 - 1 / looks_each)
    assert len(again) > 100
    assert 0.04 < rho < 0.11


def test_coaching_starts_are_drawn_by_lot_before_the_first_look(tables: Tables) -> None:
    events = tables["coaching_events"]
    for _, own in events.groupby("cycle_id"):
        plan = own[own["event_kind"] == "plan"]
        options = plan["start_options"].iloc[0].split(";")
        assert len(options) == 5
        assert plan["chosen_start_on"].iloc[0] in options
        assert plan["event_on"].iloc[0] < own[own["event_kind"] == "observe"]["event_on"].min()
        order = ["baseline", "coaching", "fade", "maintenance"]
        ranks = own.sort_values("event_on")["phase"].map(order.index)
        assert ranks.is_monotonic_increasing
    closed = set(events[events["event_kind"] == "close"]["cycle_id"])
    assert set(events["cycle_id"]) - closed


def test_support_is_never_given_more_than_planned_nor_outside_its_dates(tables: Tables) -> None:
    plans = tables["support_plans"].set_index("support_id")
    checks = tables["support_checks"]
    planned, given = (checks[f"sessions_{one}"].astype(int) for one in ("planned", "delivered"))
    assert (given <= planned).all()
    assert ((given < planned) == (checks["not_delivered_reason"] != "")).all()
    assert (checks["steps_done"].astype(int) <= checks["steps_applicable"].astype(int)).all()
    begin = checks["support_id"].map(plans["begin_on"])
    end = checks["support_id"].map(plans["end_on"]).replace("", "9999-12-31")
    assert ((begin <= checks["checked_on"]) & (checks["checked_on"] < end)).all()
    assert 0.7 < given.sum() / planned.sum() < 0.95


def test_a_child_has_one_tier_at_a_time_and_some_go_from_the_second_to_the_third(
    tables: Tables,
) -> None:
    plans = tables["support_plans"].sort_values(["pupil_id", "begin_on"])
    next_begin = plans.groupby("pupil_id")["begin_on"].shift(-1)
    ends = plans["end_on"].replace("", "9999-12-31")
    assert (next_begin.isna() | (next_begin >= ends)).all()
    assert (plans.groupby("pupil_id")["tier"].nunique() == 2).sum() == 3


def test_families_who_reported_are_among_those_asked(tables: Tables) -> None:
    practice = tables["family_practice"]
    asked, told = (practice[f"families_{one}"].astype(int) for one in ("asked", "reported"))
    assert (told <= asked).all()
    assert (pd.to_datetime(practice["week_first_on"]).dt.day_of_week == 0).all()


def test_every_planned_coaching_visit_took_place_on_its_day(tables: Tables) -> None:
    events = tables["coaching_events"].query("event_kind == 'observe'")
    visits = tables["observation_sessions"].query("purpose == 'coaching'")
    seen = visits.drop_duplicates(["class_id", "observed_on"])
    assert sorted(zip(events["class_id"], events["event_on"], strict=True)) == sorted(
        zip(seen["class_id"], seen["observed_on"], strict=True)
    )
    assert events["cycle_id"].nunique() == 10
    assert events.groupby("cycle_id").size().min() >= 11


def test_the_team_offers_before_coaching_and_closes_after_it(tables: Tables) -> None:
    decisions, events = tables["offer_decisions"], tables["coaching_events"]
    assert set(decisions["decision"]) == {"offer", "wait", "close", "decline"}
    for _, cycle in events.groupby("cycle_id"):
        is_own = decisions["class_id"].eq(cycle["class_id"].iloc[0])
        own = decisions[is_own & decisions["routine_id"].eq(cycle["routine_id"].iloc[0])]
        offered = own.query("decision == 'offer'")["decided_on"]
        coached = cycle.query("phase == 'coaching'")["event_on"]
        assert list(offered <= coached.min()) == [True]
        closed = own.query("decision == 'close'")["decided_on"]
        ended = cycle.query("event_kind == 'close'")["event_on"]
        assert (closed >= ended.min()).all() if len(ended) else closed.empty


def test_the_team_comes_back_later_to_what_it_offers_or_waits_with(tables: Tables) -> None:
    decisions = tables["offer_decisions"]
    needs = decisions["decision"].isin(["offer", "wait"])
    assert (decisions.loc[needs, "follow_up_on"] > decisions.loc[needs, "decided_on"]).all()
    assert set(decisions.loc[~needs, "follow_up_on"]) == {""}
