"""Every planted situation is in the rows that were written, and in no row when switched off."""

import pandas as pd
import pytest

from ingest.sample import SampleManifest, Situations

Tables = dict[str, pd.DataFrame]
RECENT_ON = "2026-04-13"
TURNS = ["answered", "helped", "passed", "other_way"]


def _fact(year: SampleManifest, name: str, fact: str) -> str:
    return str((year.situation(name).facts or {})[fact])


def _undrawn_recently(tables: Tables) -> set[tuple[str, str]]:
    """(class, pupil): with a card and in the class all the recent weeks, and without one draw."""
    stays = tables["memberships"].query("role == 'student' and is_draw_eligible == 'true'")
    here = stays[(stays["begin_on"] <= RECENT_ON) & (stays["end_on"] == "")]
    draws = tables["participation_draws"].query(f"drawn_on >= '{RECENT_ON}'")
    drawn = set(zip(draws["class_id"], draws["pupil_id"], strict=True))
    return set(zip(here["class_id"], here["person_id"], strict=True)) - drawn


def _recent_lessons(tables: Tables) -> pd.Series:
    lessons = tables["routine_lessons"].query(f"taught_on >= '{RECENT_ON}'")
    counts = lessons.groupby("class_id").size()
    return counts.reindex(tables["classes"]["class_id"], fill_value=0)


def _friday_share(tables: Tables) -> pd.Series:
    """Share of lessons entered after school on the last day of the week in which any was given."""
    lessons = tables["routine_lessons"]
    week = pd.to_datetime(lessons["taught_on"]).dt.strftime("%G-%V")
    last = lessons.groupby([lessons["class_id"], week])["taught_on"].transform("max")
    is_after = lessons["entered_at"].str[11:16] >= "15:00"
    is_friday = (lessons["entered_at"].str[:10] >= last) & is_after
    return is_friday.groupby(lessons["class_id"]).mean()


def _visits_with_share(tables: Tables) -> pd.DataFrame:
    """Visits other than training, with the share of looks as agreed."""
    rows = tables["observation_rows"]
    looks = rows[rows["code"].isin(["expected", "accommodated", "not_expected"])]
    share = (looks["code"] != "not_expected").groupby(looks["observation_id"]).mean()
    visits = tables["observation_sessions"].query("purpose != 'training'")
    return visits.join(share.rename("share"), on="observation_id")


def _voice_match(tables: Tables) -> pd.DataFrame:
    """Share of readings at the expected level by visit to the voice routine."""
    rows = tables["observation_rows"].query("row_type == 'voice'")
    visits = tables["observation_sessions"].query("routine_id == 'voice-to-fit'")
    joined = rows.merge(visits, on="observation_id")
    is_match = joined["value"] == joined["expected_voice_level"]
    keys = [joined[one] for one in ("class_id", "observed_on", "observation_id")]
    return is_match.groupby(keys).mean().rename("match").reset_index()


def _pair_gaps(tables: Tables) -> pd.Series:
    """Mean difference of each observer from the other one of the pair."""
    visits = _visits_with_share(tables).query("pair_id != ''")
    other = visits.groupby("pair_id")["share"].transform("sum") - visits["share"]
    return (visits["share"] - other).groupby(visits["observer_id"]).mean()


def _dips(tables: Tables) -> pd.Series:
    """By class: lining up in January minus November and December."""
    visits = _visits_with_share(tables).query("routine_id == 'line-up'")
    before = visits.query("'2025-11-10' <= observed_on <= '2025-12-19'")
    during = visits.query("'2026-01-05' <= observed_on <= '2026-01-30'")
    gap = during.groupby("class_id")["share"].mean() - before.groupby("class_id")["share"].mean()
    return gap.dropna()


def _grade_of(tables: Tables, class_ids: pd.Index) -> pd.Series:
    grades = tables["classes"].set_index("class_id")["grades"]
    return pd.Series(grades.reindex(class_ids).to_numpy(), index=class_ids)


def test_the_manifest_names_every_situation_with_words_dates_and_place(
    year: SampleManifest,
) -> None:
    names = [one.name for one in year.situations]
    assert sorted(names) == sorted(Situations.__dataclass_fields__)
    for one in year.situations:
        assert len(one.must_be_found) > 20
        assert one.first_on < one.last_on <= year.as_of_on
        assert one.class_id or one.grade_code or one.facts
    classes = [one.class_id for one in year.situations if one.class_id]
    assert len(set(classes)) == len(classes)


def test_a_lost_card_and_a_newcomer_never_added_are_never_drawn(
    year: SampleManifest, tables: Tables
) -> None:
    planted = {
        (year.situation(name).class_id, _fact(year, name, "pupil_id"))
        for name in ("lost_card", "newcomer_never_added")
    }
    assert _undrawn_recently(tables) == planted
    lost = _fact(year, "lost_card", "pupil_id")
    draws = tables["participation_draws"]
    assert (draws["pupil_id"] == lost).sum() > 30
    own = draws[draws["class_id"] == year.situation("lost_card").class_id]
    assert own.query(f"drawn_on >= '{RECENT_ON}' and cycle_number != ''").cycle_number.nunique() > 5
    added = _fact(year, "newcomer_never_added", "pupil_id")
    stay = tables["memberships"].query(f"person_id == '{added}'").iloc[0]
    assert stay["begin_on"] == RECENT_ON
    assert not (draws["pupil_id"] == added).any()


def test_the_silent_logger_taught_by_the_visits_but_logged_nothing(
    year: SampleManifest, tables: Tables
) -> None:
    class_id = year.situation("silent_logger").class_id
    counts = _recent_lessons(tables)
    assert list(counts[counts == 0].index) == [class_id]
    earlier = tables["routine_lessons"].query(f"class_id == '{class_id}'")
    assert len(earlier) > 150
    visits = tables["observation_sessions"].query(
        f"class_id == '{class_id}' and observed_on >= '{RECENT_ON}'"
    )
    steps = tables["observation_rows"].query("row_type == 'step' and code == 'done'")
    assert len(set(visits["observation_id"]) & set(steps["observation_id"])) >= 4


def test_one_class_writes_its_whole_week_down_on_the_last_day(
    year: SampleManifest, tables: Tables
) -> None:
    shares = _friday_share(tables)
    class_id = str(year.situation("friday_back_filler").class_id)
    assert shares[class_id] == 1.0
    assert shares.drop(class_id).max() < 0.6


def test_the_voice_match_of_one_class_is_clearly_low_in_the_recent_weeks(
    year: SampleManifest, tables: Tables
) -> None:
    situation = year.situation("low_voice_match")
    visits = _voice_match(tables)
    own = visits[visits["class_id"] == situation.class_id]
    recent = own[own["observed_on"] >= RECENT_ON]
    assert len(recent) >= 5
    assert recent["observed_on"].nunique() >= 4
    upper = recent["match"].mean() + 1.44 * recent["match"].std() / len(recent) ** 0.5
    assert upper < 0.80
    assert own[own["observed_on"] < RECENT_ON]["match"].mean() > 0.75


def test_the_thin_class_was_visited_twice_in_the_year(year: SampleManifest, tables: Tables) -> None:
    class_id = str(year.situation("thin_class").class_id)
    counts = tables["observation_sessions"].groupby("class_id").size()
    assert counts[class_id] == 2
    assert counts.drop(class_id).min() >= 25


def test_the_harsh_observer_sees_about_twelve_points_less_than_the_others_in_pairs(
    year: SampleManifest, tables: Tables
) -> None:
    gaps = _pair_gaps(tables)
    harsh = _fact(year, "harsh_observer", "observer_id")
    assert gaps.idxmin() == harsh
    assert -0.16 < gaps[harsh] < -0.08


def test_grade_02_dipped_in_lining_up_after_the_winter_break_and_no_other_grade_did(
    year: SampleManifest, tables: Tables
) -> None:
    gaps = _dips(tables)
    grades = _grade_of(tables, gaps.index)
    named = _fact(year, "dip_after_break", "class_ids").split(";")
    own = gaps[grades == "02"]
    assert sorted(own.index) == named
    assert len(own) >= 3
    assert (own < -0.10).all()
    assert gaps[~grades.isin(["02", "02;03"])].mean() > -0.10


@pytest.mark.parametrize(
    ("name", "low", "high"), [("coached_improved", 0.12, 0.35), ("coached_unmoved", -0.12, 0.12)]
)
def test_one_coached_class_moved_after_its_start_and_one_did_not(
    year: SampleManifest, tables: Tables, name: str, low: float, high: float
) -> None:
    situation = year.situation(name)
    visits = _visits_with_share(tables).query("purpose == 'coaching'")
    own = visits[visits["class_id"] == situation.class_id]
    by_visit = own.groupby("observed_on")["share"].mean()
    start_on = _fact(year, name, "start_on")
    before, after = by_visit[by_visit.index < start_on], by_visit[by_visit.index >= start_on]
    assert min(len(before), len(after)) >= 5
    assert low < after.mean() - before.mean() < high
    closes = tables["coaching_events"].query("event_kind == 'close'").set_index("cycle_id")
    outcome = closes.loc[_fact(year, name, "cycle_id"), "outcome"]
    assert outcome == ("moved" if name == "coached_improved" else "about_the_same")


def test_true_shares_stand_in_the_manifest_for_every_class_and_routine(
    year: SampleManifest, tables: Tables
) -> None:
    assert len(year.true_shares) == 22 * 8 * 3
    shares = {(one.class_id, one.routine_id, one.term_id): one.share for one in year.true_shares}
    low = year.situation("low_voice_match")
    mine = shares[str(low.class_id), "voice-to-fit", "t-spring"]
    assert mine < 0.65 < shares[str(low.class_id), "voice-to-fit", "t-winter"]
    visits = _visits_with_share(tables)
    spring = visits[visits["observed_on"] >= RECENT_ON]["share"].mean()
    true = [one.share for one in year.true_shares if one.term_id == "t-spring"]
    assert abs(spring - sum(true) / len(true)) < 0.06


def test_a_school_without_situations_shows_none_of_them(
    plain_year: SampleManifest, plain_tables: Tables
) -> None:
    assert plain_year.situations == ()
    assert _undrawn_recently(plain_tables) == set()
    assert _recent_lessons(plain_tables).min() >= 15
    assert _friday_share(plain_tables).max() < 0.6
    assert plain_tables["observation_sessions"].groupby("class_id").size().min() >= 25
    assert _pair_gaps(plain_tables).abs().max() < 0.05
    gaps = _dips(plain_tables)
    assert gaps[_grade_of(plain_tables, gaps.index) == "02"].mean() > -0.12
    recent = _voice_match(plain_tables).query(f"observed_on >= '{RECENT_ON}'")
    assert recent["match"].mean() > 0.78
    assert min(one.share for one in plain_year.true_shares) > 0.65


def test_terms_grow_a_little_in_a_school_without_situations(plain_tables: Tables) -> None:
    visits = _visits_with_share(plain_tables).query("purpose != 'coaching'")
    autumn = visits[visits["observed_on"] < "2026-01-01"]["share"].mean()
    spring = visits[visits["observed_on"] >= RECENT_ON]["share"].mean()
    assert 0.0 < spring - autumn < 0.10


def test_think_time_is_a_few_seconds_and_longer_later_in_the_year(tables: Tables) -> None:
    draws = tables["participation_draws"]
    timed = draws[draws["wait_seconds"] != ""]
    waits = timed["wait_seconds"].astype(float)
    assert set(timed["outcome"]) == set(TURNS)
    assert 1.5 < waits.median() < 4.0
    early = waits[timed["drawn_on"] < "2025-11-01"].median()
    assert waits[timed["drawn_on"] >= RECENT_ON].median() > early + 0.3
