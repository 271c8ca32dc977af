"""The words for states, statuses and codes: one place, so that they are said alike everywhere."""

from __future__ import annotations

from app.text.readings import Reading

STATUS = {
    "met": "at our line",
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
TIER = {"tier_1": "All pupils", "tier_2": "Groups", "tier_3": "Individual", "1": "All pupils"} | {
    "2": "Groups",
    "3": "Individual",
}
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
}
REASON = {
    "likely_below": "probably under our line",
    "lasting": "it has lasted",
    "shift": "it has shifted",
    "after_break": "the first weeks after a break",
    "not_yet_taught": "not taught yet",
    "not_taught": "not taught yet",
    "long_since_taught": "some time since it was last taught",
    "due_soon": "planned for soon",
    "due": "planned, and the time has come",
    "data_dip": "it has held less well lately",
}


def spoken(code: object, words: dict[str, str] | None = None) -> str:
    """The words for a code; a code without words is shown as plain words itself."""
    text = "" if code is None else str(code)
    return (words or {}).get(text, text.replace("_", " "))


def reasons(codes: object) -> str:
    """A list of reason codes (`;` between them, or a sequence) as words with commas."""
    if codes is None:
        return ""
    parts = codes.split(";") if isinstance(codes, str) else list(codes)  # type: ignore[call-overload]
    return ", ".join(spoken(part.strip(), REASON) for part in parts if part and part.strip())


def standing(got: Reading) -> str:
    """How a reading stands to our line, or why it does not."""
    if got.is_withheld:
        return withheld(got)
    return STATUS["none"] if not got.is_enough else spoken(got.status, STATUS)


def withheld(got: Reading) -> str:
    """Why a number is not shown."""
    reason = got.withheld_reason.replace("_", " ") or "fewer than 10 people"
    return f"withheld: {reason}"
