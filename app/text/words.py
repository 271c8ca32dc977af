"""The words for states, statuses and codes: one place, so that they are said alike everywhere."""

from __future__ import annotations

from app.text.readings import Reading

STATUS = {
    "met": "at our line or above",
    "likely_met": "probably at our line",
    "unclear": "too close to our line to say",
    "likely_below": "probably under our line",
    "none": "too little to say",
}
SUFFICIENCY = {
    "none": "nobody looked",
    "thin": "too few looks to say",
    "usable": "enough to say something",
    "solid": "well supported",
}
ROLE = {
    "principal": "Principal",
    "support": "Support team",
    "steward": "Data steward",
    "teacher": "Teacher",
}
TIER = {"1": "All pupils", "2": "Groups", "3": "Individual"}
LESSON_KIND = {
    "full": "first teaching",
    "booster": "booster",
    "reminder": "reminder",
    "practice_only": "practice",
    "after_break": "again after a break",
    "data_dip": "again after a dip",
    "newcomer": "for a newcomer",
}
SLOT = {
    "delivered": "given",
    "partly": "partly given",
    "cancelled": "cancelled",
    "not_logged": "not logged yet",
    "not_due": "still to come",
}
TEACH_NEXT = {
    "after_break": "School has just begun again: the first days after a break are the time for it.",
    "data_dip": "It has held less well lately than in your own past.",
    "not_yet_taught": "It is in the plan and has not been taught yet this term.",
    "newcomer": "A child who is new to the class has not been taught it yet.",
    "long_ago": "It is some time since it was last taught.",
}
PATTERN = {
    "full_day": "full day",
    "am": "mornings",
    "pm": "afternoons",
    "alternate": "alternate days",
}
PURPOSE = {"routine": "routine visit", "coaching": "with a coach", "agreement": "two observers"}
TIME_OF_DAY = {"morning": "morning", "midday": "around midday", "afternoon": "afternoon"}
TAUGHT_BY = {"teacher": "teacher", "co_teacher": "co-teacher", "substitute": "relief teacher"}
OCCASIONS = {
    "visits": "Visits",
    "lessons": "Lessons",
    "draws": "Days with draws, or rounds",
    "support": "Checks of support",
    "children": "Occasions",
}
UNITS_BEHIND = {
    "visits": "Looks, steps or readings",
    "lessons": "Single entries",
    "draws": "Turns",
    "support": "Sessions or steps",
    "children": "Children",
}
SIDES = {
    "dose": "taught",
    "exposure": "reach",
    "adherence": "steps",
    "quality": "quality",
    "responsiveness": "pupils",
}
GRADE = {
    "IT": "Infants",
    "PR": "Preschool",
    "PK": "Pre-kindergarten",
    "TK": "Transitional kindergarten",
    "KG": "Kindergarten",
    "PS": "Postsecondary",
    "UG": "Ungraded",
}
CHECK = {
    "never_drawn_in_cycle": "a round closed before everyone had been drawn",
    "drawn_twice_in_cycle": "a child was drawn twice in one round",
    "newcomer_not_added": "a newcomer’s card is not in the draw",
    "leaver_still_drawn": "a child who has left is still being drawn",
    "long_wait": "a wait is longer than full rounds would allow",
    "never_drawn_in_term": "a child has not been drawn at all this term",
}
WITHHELD = {
    "small_cell": "fewer people than may be shown",
    "few_classes": "too few classes to show",
    "complementary": "so that another withheld number cannot be worked out",
    "end_coarsened": "the few who remain could be counted",
}
FEED = {
    "schools": "schools",
    "classes": "classes",
    "people": "people",
    "memberships": "who is in which class",
    "terms": "terms",
    "school_days": "school days and closures",
    "routines": "routines",
    "routine_steps": "steps of the routines",
    "teaching_plan": "teaching plan",
    "routine_lessons": "lessons",
    "participation_draws": "turns",
    "observation_sessions": "visits",
    "observation_rows": "what was seen on visits",
    "coaching_events": "coaching",
    "offer_decisions": "decisions of the team",
    "support_plans": "support plans",
    "support_checks": "support sessions",
    "family_practice": "practice at home",
}


def spoken(code: object, words: dict[str, str] | None = None) -> str:
    """The words for a code; a code without words is shown as plain words itself."""
    text = "" if code is None else str(code)
    return (words or {}).get(text, text.replace("_", " "))


def standing(got: Reading) -> str:
    """How a reading stands to our line, or why it does not."""
    if got.is_withheld:
        return withheld(got)
    return STATUS["none"] if not got.is_enough else spoken(got.status, STATUS)


def withheld(got: Reading) -> str:
    """Why a number is not shown."""
    return f"withheld: {WITHHELD.get(got.withheld_reason, WITHHELD['small_cell'])}"


def grade_list(codes: object) -> str:
    """The grades of a class as people say them: `Grade 1`, `Grades 2 and 3`, `Kindergarten`."""
    parts = [part.strip() for part in str(codes or "").split(";") if part.strip()]
    names = [GRADE.get(part, part.lstrip("0") or part) for part in parts]
    if not names:
        return ""
    if len(names) == 1:
        return names[0] if parts[0] in GRADE else f"Grade {names[0]}"
    plain = [name for part, name in zip(parts, names, strict=True) if part not in GRADE]
    if len(plain) == len(names):
        return f"Grades {', '.join(names[:-1])} and {names[-1]}"
    worded = [n if p in GRADE else f"Grade {n}" for p, n in zip(parts, names, strict=True)]
    return f"{', '.join(worded[:-1])} and {worded[-1]}"
