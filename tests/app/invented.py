"""A small invented school as published rows, by formula: 6 classes, 4 routines, 3 terms."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from tests.app.snapshot import BUILD_ID

Row = dict[str, Any]
SCHOOL = "quillbrook"
AS_OF = date(2026, 5, 15)
TERMS = {
    "autumn": (1, "Autumn term", date(2025, 9, 1), date(2025, 12, 19)),
    "winter": (2, "Winter term", date(2026, 1, 5), date(2026, 3, 27)),
    "spring": (3, "Spring term", date(2026, 4, 13), date(2026, 6, 19)),
}
ROUTINES = {
    "settle": ("Settling to listen", "posture", "keep still in a way that suits you"),
    "turns": ("Fair turns", "turns", "wait while others think"),
    "voice": ("Voice to fit the task", "voice", "check the level card"),
    "line": ("Lining up", "movement", "leave a gap"),
}
STEPS = {
    "settle": ("Stop and breathe out", "Put down what is in your hands",
               "Keep still in a way that suits you", "Listen to who is speaking"),
    "turns": ("Hear the question", "Wait while others think", "Listen for the name",
              "Answer, ask for help or pass"),
    "voice": ("Look at what we are doing", "Check the level card", "Use that voice",
              "Change it when the task changes"),
    "line": ("Stand up and push in the chair", "Walk to the door", "Leave a gap",
             "Wait for the sign"),
}  # fmt: skip
CLASSES = {f"room-{n}": (f"Room {n}", f"0{(n + 1) // 2}") for n in range(1, 7)}
GRADES = {"01": "Grade 1", "02": "Grade 2", "03": "Grade 3"}
BREAK = (date(2025, 10, 27), date(2025, 10, 31))
LINEAGE = {"as_of_on": AS_OF, "build_id": BUILD_ID}
FEEDS = ("routine_lessons", "participation_draws", "observation_sessions", "support_checks")


_MADE = {
    "dose": {"rests_on": "lessons", "interval_kind": "bounds"},
    "turn_coverage": {"rests_on": "draws", "interval_kind": "none"},
    "support_delivery": {"rests_on": "support", "interval_kind": "wilson"},
}


def rows(*, empty: bool = False) -> dict[str, list[Row]]:
    """All tables; with `empty` only the school, its terms and words, as after a first roster."""
    found = {**_frame(), **_words()}
    return found if empty else {**found, **_measures(), **_weeks(), **_support(), **_rooms()}


def share(*keys: object) -> float:
    """A share between .55 and .95 that depends on the keys alone."""
    text = "|".join(map(str, keys))
    return 0.75 + 0.2 * math.sin(sum(ord(letter) * (i + 3) for i, letter in enumerate(text)))


def measure(value: float | None, sessions: int = 8, **more: object) -> Row:
    sufficiency = "none" if value is None else "thin" if sessions < 3 else "usable"
    low = None if value is None else max(0.0, value - 0.3 / math.sqrt(max(1, sessions)))
    high = None if value is None else min(1.0, value + 0.3 / math.sqrt(max(1, sessions)))
    status = "none" if sufficiency in ("none", "thin") else "unclear"
    return {
        "value": value,
        "numerator_count": None if value is None else round(value * 40 * sessions),
        "denominator_count": None if value is None else 40 * sessions,
        "low": low,
        "high": high,
        "session_count": sessions if value is not None else 0,
        "unit_count": 40 * sessions if value is not None else 0,
        "sufficiency": sufficiency,
        "status": status,
        "is_withheld": False,
        **LINEAGE,
        **more,
    }


def weeks_of(term: str) -> Iterator[date]:
    _, _, first, last = TERMS[term]
    monday = first - timedelta(days=first.weekday())
    while monday <= min(last, AS_OF):
        yield monday
        monday += timedelta(days=7)


def _frame() -> dict[str, list[Row]]:
    number, title, first, last = TERMS["spring"]
    school: Row = {
        "school_id": SCHOOL, "school_name": "Quillbrook Primary (invented)",
        "school_year": "2025-26", "term_id": "spring", "term_title": title,
        "term_first_on": first, "term_last_on": last, "week_number": 5, "week_count": 10,
        "class_count": 6, "pupil_count": 131, "criterion": 0.8, "small_cell": 10,
        "is_demo": True, "last_received_on": AS_OF, **LINEAGE,
    }  # fmt: skip
    assert number == 3
    terms = [
        {
            "school_id": SCHOOL, "term_id": key, "title": title, "kind": "term",
            "first_on": first, "last_on": last, "term_number": number, "week_count": 12,
            "elapsed_week_count": 5, "is_current": key == "spring",
        }
        for key, (number, title, first, last) in TERMS.items()
    ]  # fmt: skip
    grades = [
        {"school_id": SCHOOL, "grade_code": code, "name": name, "sort_order": i,
         "class_count": 2, "pupil_count": 44}
        for i, (code, name) in enumerate(GRADES.items())
    ]  # fmt: skip
    pause = {"school_id": SCHOOL, "first_on": BREAK[0], "last_on": BREAK[1]}
    breaks = [{**pause, "label": "Autumn break", "weekday_count": 5}]
    return {
        "mart_school": [school], "mart_terms": terms, "mart_grades": grades,
        "mart_breaks": breaks,
    }  # fmt: skip


_SETTINGS = {
    "criterion": 0.8, "ci_level": 0.95, "small_cell": 10.0, "offer_follow_up_days": 21.0,
    "offer_rest_days": 42.0, "think_seconds": 3.0,
}  # fmt: skip


def _words() -> dict[str, list[Row]]:
    routines = [
        {
            "school_id": SCHOOL, "routine_id": key, "version": 1, "name": name, "kind": kind,
            "tier": "1", "setting": "classroom", "expectation": "ready to learn",
            "step_count": 4, "sort_order": i, "weakest_step_text": step,
            "weakest_step_rate": 0.62, "weakest_step_done_count": 31,
            "weakest_step_scored_count": 50, "weakest_step_session_count": 9,
            "weakest_step_sufficiency": "usable", **LINEAGE,
        }
        for i, (key, (name, kind, step)) in enumerate(ROUTINES.items())
    ]  # fmt: skip
    steps = [
        {"school_id": SCHOOL, "routine_id": key, "version": 1, "step_number": number,
         "step_text": text, "is_critical": number == 1, **LINEAGE}
        for key, texts in STEPS.items() for number, text in enumerate(texts, start=1)
    ]  # fmt: skip
    titles = {
        "dose": "Lessons given", "adherence": "Steps done", "quality": "Quality",
        "responsiveness": "Joining in", "voice_match": "Voice level as agreed",
        "fidelity": "Fidelity", "exposure": "Pupils there", "turn_coverage": "Children reached",
        "support_delivery": "Support sessions given", "think_time": "Think time",
    }  # fmt: skip
    catalogue = [
        {
            "measure_name": name, "title": title, "question": f"{title}: does it happen?",
            "numerator": "what happened", "denominator": "what could have happened",
            "unit": "seconds" if name == "think_time" else "share",
            "minimum_data": "three visits on two days", "cannot_say": "why",
            "source": "our own definition", "sort_order": i, "is_by_routine": True,
            "criterion": 0.8 if name in ("responsiveness", "adherence") else None,
            "sense": "It tells how often.\n\nA worked example: two out of three are 67 %.",
            **_MADE.get(name, {"rests_on": "visits", "interval_kind": "sessions"}),
        }
        for i, (name, title) in enumerate(titles.items())
    ]  # fmt: skip
    settings = [
        {"setting_name": name, "value": value, "default_value": value,
         "source_note": "a convention", "is_default": True}
        for name, value in _SETTINGS.items()
    ]  # fmt: skip
    return {
        "mart_routines": routines, "mart_routine_steps": steps,
        "mart_measure_catalogue": catalogue, "mart_settings": settings,
    }  # fmt: skip


def _measures() -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {
        "mart_measures_by_school": [], "mart_measures_by_grade": [],
        "mart_measures_by_tier": [], "mart_measures_by_class": [], "room_measures": [],
    }  # fmt: skip
    names = [row["measure_name"] for row in _words()["mart_measure_catalogue"]]
    for term in TERMS:
        past: Row = {"previous_term_id": "winter", "previous_sufficiency": "usable"}
        past |= {"change_value": 0.03, "window_code": "term"}
        key = {"school_id": SCHOOL, "term_id": term, **past}
        for routine in ("*", *ROUTINES):
            for name in names:
                part = {**key, "routine_id": routine, "measure_name": name}
                seen = {"class_count": 6, "seen_class_count": 5}
                value, was = share(term, routine, name), share("winter", routine, name)
                own = {**part, **seen, "previous_value": was}
                found["mart_measures_by_school"].append({**own, **measure(value, 40)})
                found["mart_measures_by_grade"] += [
                    {**own, "grade_code": code, "previous_value": share(was, code),
                     **measure(share(value, code), 12)}
                    for code in GRADES
                ]  # fmt: skip
                for class_id in CLASSES:
                    row = {**part, "class_id": class_id, "previous_value": share(was, class_id)}
                    row |= measure(share(value, class_id), 4)
                    if (term, routine, name) == ("spring", "*", "dose"):
                        lately = {**row, "window_code": "last_20"}
                        found["mart_measures_by_class"].append(lately)
                        found["room_measures"].append(lately)
                    found["mart_measures_by_class"].append(row)
                    found["room_measures"].append(row)
        for tier, tier_name in (("1", "All pupils"), ("2", "Groups"), ("3", "Individual")):
            name = "dose" if tier == "1" else "support_delivery"
            held = {"is_withheld": True, "withheld_reason": "small_cell", "value": None}
            held |= {"low": None, "high": None, "numerator_count": None, "denominator_count": None}
            row = {**key, "tier_code": tier, "tier_name": tier_name, "routine_id": "*"}
            row |= {"measure_name": name, **measure(share(tier, term), 20)}
            found["mart_measures_by_tier"].append({**row, **(held if tier == "3" else {})})
    return found


def _weeks() -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {
        "mart_weeks_by_school": [], "mart_weeks_by_grade": [], "mart_weeks_by_class": [],
        "mart_weeks_band": [], "room_weeks": [], "mart_teaching_calendar": [],
    }  # fmt: skip
    for term in TERMS:
        for number, monday in enumerate(weeks_of(term), start=1):
            for routine in ROUTINES:
                _week(found, term, number, monday, routine)
    return found


def _week(found: dict[str, list[Row]], term: str, number: int, monday: date, routine: str) -> None:
    is_break = monday == BREAK[0]
    key: Row = {
        "school_id": SCHOOL, "routine_id": routine, "term_id": term, "week_number": number,
        "week_first_on": monday,
    }  # fmt: skip
    looked = {"week_last_on": monday + timedelta(days=4), "is_break": is_break}
    band = {"routine_id": routine, "term_id": term, "week_first_on": monday}
    for name in ("responsiveness", "adherence"):
        value = None if is_break or number == 7 else share(routine, name, monday)
        part = {**key, **looked, "measure_name": name}
        found["mart_weeks_by_school"].append({**part, **measure(value, 2 if number == 1 else 9)})
        found["mart_weeks_by_grade"] += [
            {**part, "grade_code": code, **measure(value, number % 5)} for code in GRADES
        ]
        if not is_break:
            row = {"school_id": SCHOOL, **band, "measure_name": name, "q1": 0.7, "q3": 0.84}
            found["mart_weeks_band"].append({**row, "class_count": 6})
        for class_id in CLASSES:
            got = value if (number + int(class_id[-1])) % 3 else None
            row = {**part, "class_id": class_id, **measure(got, 1 + number % 4)}
            found["mart_weeks_by_class"].append(row)
            found["room_weeks"].append({**row, "band_low": 0.7, "band_high": 0.84})
    given = 0 if is_break else 6 - number % 3
    for kind, count in (("*", given), ("full", given // 2), ("booster", given - given // 2)):
        row = {**key, "lesson_kind": kind, "lesson_count": count}
        row |= {"due_count": 6.0 if kind == "*" else 0.0, "is_break": is_break}
        found["mart_teaching_calendar"].append(row)


def _support() -> dict[str, list[Row]]:
    from tests.app.invented_team import team_rows

    return team_rows()


def _rooms() -> dict[str, list[Row]]:
    from tests.app.invented_rooms import room_rows

    return room_rows()
