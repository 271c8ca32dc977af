"""What the server says to a device in class: why a record was not taken, and what next."""

from __future__ import annotations

_RULES = {
    "missing_value": "{field}: this is missing.",
    "unknown_column": "{field}: this record has no place for that.",
    "odd_character": "{field}: there is a sign in it that cannot be written. Type it once more.",
    "formula_in_cell": "{field}: this may not begin with an equals sign.",
    "space_or_case_in_key": "{field}: there is a space at its beginning or end.",
    "unknown_code": "{field}: that answer is not on the list.",
    "too_long": "{field}: at most {bound} letters.",
    "too_short": "{field}: at least {bound} letters.",
    "bad_pattern": "{field}: this is not written as it should be.",
    "too_small": "{field}: at least {bound}.",
    "too_large": "{field}: at most {bound}.",
    "unknown_reference": "{field}: the school does not know this (any more).",
    "not_a_uuid": "This record has no key of its own.",
    "not_a_record": "This cannot be read as a record.",
    "changed_elsewhere": (
        "This was changed on another device meanwhile, and that version stands. Open it anew and "
        "change it there."
    ),
    "not_yours": "This is for other people to write down.",
    "no_person": (
        "A look needs to say who looked, and your account is not tied to a person of the school "
        "yet. Ask whoever looks after Roundelay in your school; the look stays here until then."
    ),
    "no_room": (
        "The school’s computer has no room just now. Everything stays saved here and is sent later."
    ),
}
_ELSE = "{field}: this is not right."


def reason(rule: str, field: str = "", bound: str = "") -> str:
    """Why a record was not taken, in one sentence; `field` is the title of a column."""
    return _RULES.get(rule, _ELSE).format(field=field or "Something", bound=bound)


def tablet(paired_at: str, until: str, who: str) -> str:
    """One paired tablet in a list: since when, until when, by whom."""
    by = f" by {who}" if who else ""
    return f"Paired at {paired_at}{by}, until {until} today"
